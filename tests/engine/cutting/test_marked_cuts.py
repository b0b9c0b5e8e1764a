"""Where one cut of a piece cannot be straight, the others still are."""

from msgspec.structs import replace

from engine.cutting.gap_field import BoardGapField, GapField
from engine.cutting.sawn_piece import plan_cuts, saw_piece
from engine.cutting.treatment import AsMarked, StraightCuts
from engine.geometry.barrier import Barrier
from engine.geometry.frame import Frame
from tests.engine.cutting.one_board import SIZE, wall, wall_for

# From 30 mm off the board's start to a far end that bows out by 1 mm, each 10 mm from its wall.
RING = ((30.0, 0.0), (500.0, 0.0), (501.0, 45.0), (500.0, 90.0), (30.0, 90.0))


def field(*, far_tolerance: float) -> BoardGapField:
    """The walls at both ends; the far one may be left by so much."""
    start = wall_for((30.0, 90.0), (30.0, 0.0), tolerance=2.0, name="start")
    bowed: Barrier = wall(
        (510.0 - 1000 / 45, -1000.0), (511.0, 45.0), (510.0 - 1000 / 45, 1090.0), tolerance=far_tolerance
    )
    return BoardGapField(GapField([start, bowed]), Frame(0, 0, 0))


def test_only_the_cut_at_fault_is_sawn_as_marked() -> None:
    """Planned in a wide band, sawn in one that no straight cut holds: what the measured gaps say counts."""
    wide = plan_cuts((RING,), SIZE, field(far_tolerance=2.0), 0.0)
    assert [type(each) for each in wide.treatments if each] == [StraightCuts, StraightCuts]
    piece, used = saw_piece(replace(wide, field=field(far_tolerance=0.1)), wide.treatments)
    assert sorted(type(each).__name__ for each in used if each) == [AsMarked.__name__, StraightCuts.__name__]
    assert piece.is_inside_band
    assert sorted(cut.kind for cut in piece.cuts) == ["crosscut", "scribe"]

"""Where the gap as measured ends a cut's range before its band does, the range ends there and no sooner."""

from math import radians, tan

import pytest

from engine.cutting.corridor import CutLine
from engine.cutting.freedom import Freedom, with_lines
from engine.cutting.gap_field import BoardGapField, GapField
from engine.cutting.saw_angles import Saw
from engine.cutting.sawn_piece import PlannedPiece, at_middle, is_held, plan_cuts, saw_piece
from engine.cutting.sawn_together import saw_together
from engine.geometry.barrier import Barrier
from engine.geometry.frame import Frame
from tests.engine.cutting.one_board import SIZE, wall_for

SAW = Saw(step=0.0)
OTHER = wall_for((600.0, 92.0), (0.0, 92.0), tolerance=0.5, name="other")


def mitred(angle: float, tolerance: float, *others: Barrier) -> PlannedPiece:
    """A board whose far end is cut along a wall so many degrees from square, beside other walls."""
    lean = 90 * tan(radians(angle)) / 2
    barrier = wall_for((350 + lean, 0.0), (350 - lean, 90.0), tolerance=tolerance)
    ring = ((0.0, 0.0), (350 + lean, 0.0), (350 - lean, 90.0), (0.0, 90.0))
    return plan_cuts((ring,), SIZE, BoardGapField(GapField([barrier, *others]), Frame(0, 0, 0)), 0.0)


def line_at(own: CutLine, angle: float) -> CutLine:
    assert own.corridor is not None
    return own.corridor.line(own.corridor.slope_of(angle), is_set=True)


def test_a_range_ends_where_the_measured_gap_still_holds() -> None:
    """Against 400 angles of the band's own range, each tried by itself.

    A wall of narrow band runs 2 mm beside the board: where the cut leaves less there, that one binds.
    """
    piece = Freedom(plan=mitred(45.0, 3.0, OTHER))
    (place, own), *_ = piece.lines()
    assert own.corridor is not None
    angles = own.corridor.angles()
    turned = {
        angle: with_lines(piece.plan.treatments, {place: line_at(own, angle)})
        for angle in (angles[0] + (angles[1] - angles[0]) * part / 400 for part in range(401))
    }
    held = [angle for angle, treatments in turned.items() if is_held(piece.plan, treatments)]
    assert angles[0] == min(held) < 45.0 < max(held) < angles[1]
    wanted = turned[angles[1]]
    _, sawn = saw_piece(piece.plan, wanted)
    assert sawn == piece.plan.treatments != at_middle(wanted)
    narrowed = piece.after(wanted, sawn, SAW).turns(place, own, SAW)
    assert narrowed is not None
    assert narrowed == pytest.approx((min(held), max(held)), abs=(angles[1] - angles[0]) / 400)


def test_a_piece_that_cannot_share_one_setting_shares_another() -> None:
    """Two settings for three cuts: before, a piece that did not hold at one kept its own and took a third."""
    planned = [mitred(45.0, 3.0, OTHER), mitred(46.0, 0.5), mitred(48.5, 1.0)]
    sawn = saw_together(planned, SAW, lambda field, point: 0.0)
    assert all(piece.is_inside_band for piece in sawn)
    assert len({round(piece.saw_angle, 4) for piece in sawn}) == 2

"""Where the gap as measured ends a cut's range before its band does, the range ends there and no sooner."""

from math import radians, tan

import pytest

from engine.cutting.corridor import CutLine
from engine.cutting.freedom import Freedom
from engine.cutting.gap_field import BoardGapField, GapField
from engine.cutting.saw_angles import Saw
from engine.cutting.sawn_piece import PlannedPiece, is_held, plan_cuts, saw_piece
from engine.cutting.sawn_together import saw_together
from engine.cutting.straight_lines import at_middle, with_lines
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


def lines_at(own: CutLine, angle: float) -> list[CutLine]:
    """Cuts at an angle: the one nearest to the nominal gap, then from end to end of the band."""
    corridor = own.corridor
    assert corridor is not None
    slope = corridor.slope_of(angle)
    nearest = corridor.line(slope, is_set=True)
    return [nearest, *(corridor.moved(slope, part / 40, is_set=True) for part in range(41))]


def test_a_range_ends_where_the_measured_gap_still_holds() -> None:
    """Against 400 angles of the band's own range, at each 41 places of the cut within its band.

    A wall of narrow band runs 2 mm beside the board: where the cut leaves less there, that one binds.
    The engine tries seven places, so it may stop short of the last angle by what they lie apart.
    """
    piece = Freedom(plan=mitred(45.0, 3.0, OTHER))
    (place, own), *_ = piece.lines()
    assert own.corridor is not None
    angles = own.corridor.angles()
    every = [angles[0] + (angles[1] - angles[0]) * part / 400 for part in range(401)]
    held = [
        angle
        for angle in every
        if any(
            is_held(piece.plan, with_lines(piece.plan.treatments, {place: line}))
            for line in lines_at(own, angle)
        )
    ]
    assert angles[0] == min(held) < 45.0 < max(held) < angles[1]
    wanted = with_lines(piece.plan.treatments, {place: lines_at(own, angles[1])[0]})
    _, sawn = saw_piece(piece.plan, wanted)
    assert sawn == piece.plan.treatments != at_middle(wanted)
    narrowed = piece.after(wanted, sawn, SAW).turns(place, own, SAW)
    assert narrowed is not None
    step = (angles[1] - angles[0]) / 400
    assert narrowed[0] == pytest.approx(min(held), abs=step)
    assert max(held) - 0.1 < narrowed[1] <= max(held) + step


def test_a_piece_that_cannot_share_one_setting_shares_another() -> None:
    """Two settings for three cuts: before, a piece that did not hold at one kept its own and took a third."""
    planned = [mitred(45.0, 3.0, OTHER), mitred(46.0, 0.5), mitred(48.5, 1.0)]
    sawn = saw_together(planned, SAW, lambda field, point: 0.0)
    assert all(piece.is_inside_band for piece in sawn)
    assert len({round(piece.saw_angle, 4) for piece in sawn}) == 2

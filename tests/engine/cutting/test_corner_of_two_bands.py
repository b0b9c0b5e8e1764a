"""Two walls of different tolerance that meet within a board: shapely says what must stay of the piece."""

from math import cos, radians, sin

import pytest
from shapely.geometry import LineString, Polygon
from shapely.geometry.base import BaseGeometry

from engine.cutting.gap_field import BoardGapField, GapField
from engine.cutting.sawn_piece import plan_cuts
from engine.cutting.treatment import StraightCuts
from engine.geometry.barrier import Barrier
from engine.geometry.frame import Frame
from tests.engine.cutting.one_board import SIZE, wall


def walls_that_meet(turn: float, slope: float, tolerances: tuple[float, float]) -> tuple[Barrier, Barrier]:
    """The room left of both, the corner 40 mm up at 300 mm; they turn by so many degrees there."""
    corner = (300.0, 40.0)
    first, second = radians(90 + slope), radians(90 + slope + turn)
    start = (corner[0] - 900 * cos(first), corner[1] - 900 * sin(first))
    end = (corner[0] + 900 * cos(second), corner[1] + 900 * sin(second))
    return (
        wall(start, corner, tolerance=tolerances[0], name="one"),
        wall(corner, end, tolerance=tolerances[1], name="other"),
    )


@pytest.mark.parametrize("slope", [-30, 0, 20])
@pytest.mark.parametrize("turn", [40, 55, 70])
@pytest.mark.parametrize("tolerances", [(4.0, 0.3), (0.3, 4.0)])
def test_however_the_two_cuts_are_turned_what_both_bands_need_stays(
    turn: float, slope: float, tolerances: tuple[float, float]
) -> None:
    barriers = walls_that_meet(turn, slope, tolerances)
    stays, nominal = Polygon(SIZE.ring), Polygon(SIZE.ring)
    for barrier in barriers:
        line = LineString(barrier.points)
        stays -= line.buffer(barrier.gap + barrier.tolerance, quad_segs=64)
        nominal -= line.buffer(barrier.gap, quad_segs=64)
    part = tuple(left_part(nominal).exterior.coords)[:-1]
    field = BoardGapField(GapField(barriers), Frame(0.0, 0.0, 0.0))
    (cut,) = [
        each
        for each in plan_cuts((part[::-1],), SIZE, field, 0.0).treatments
        if isinstance(each, StraightCuts)
    ]
    assert len(cut.lines) == 2
    for corridor in (line.corridor for line in cut.lines):
        assert corridor is not None
        for turned in (corridor.line(way, is_set=True) for way in corridor.slopes()):
            assert min(turned.side(point) for point in left_part(stays).exterior.coords) > -0.02


def left_part(shape: BaseGeometry) -> Polygon:
    """What the start end of the board is on."""
    parts = [part for part in getattr(shape, "geoms", [shape]) if isinstance(part, Polygon)]
    return min(parts, key=lambda part: part.bounds[0])

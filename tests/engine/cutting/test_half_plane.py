"""Taking off what lies beyond a straight cut, against shapely."""

from math import cos, radians, sin

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import Polygon

from engine.cutting.corridor import CutLine
from engine.cutting.half_plane import cut_off, meeting

BOARD = ((0.0, 0.0), (600.0, 0.0), (600.0, 90.0), (0.0, 90.0))


def line(x: float, y: float, angle: float) -> CutLine:
    return CutLine(at=(x, y), direction=(cos(radians(angle)), sin(radians(angle))), departure=0.0)


@settings(max_examples=100, deadline=None)
@given(x=st.floats(-50, 650), y=st.floats(-20, 110), angle=st.floats(0, 360))
def test_what_stays_is_the_board_on_the_left_of_the_cut(x: float, y: float, angle: float) -> None:
    cut = line(x, y, angle)
    (dx, dy), far = cut.direction, 5000.0
    start, end = (x - far * dx, y - far * dy), (x + far * dx, y + far * dy)
    left = Polygon(
        [start, end, (end[0] - far * dy, end[1] + far * dx), (start[0] - far * dy, start[1] + far * dx)]
    )
    kept = cut_off(BOARD, cut)
    expected = Polygon(BOARD).intersection(left).area
    assert (Polygon(kept).area if len(kept) > 2 else 0.0) == pytest.approx(expected, abs=1e-3)


def test_a_cut_that_misses_takes_nothing_or_all() -> None:
    assert cut_off(BOARD, line(700, 0, 90)) == BOARD
    assert cut_off(BOARD, line(700, 0, -90)) == ()
    assert cut_off(BOARD, line(600, 0, 90)) == BOARD


def test_two_cuts_meet_in_a_point_unless_they_are_parallel() -> None:
    assert meeting(line(100, 0, 90), line(0, 40, 180)) == pytest.approx((100, 40))
    assert meeting(line(100, 0, 45), line(0, 40, 225)) is None

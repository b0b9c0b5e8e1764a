"""Drawing instructions: millimetres, y turned down, short and without an exponent."""

import re

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.drawing.paths import (
    line_path,
    move_text,
    polygon_path,
    region_path,
    ring_path,
    short_number,
    spot,
    view_box,
)

SQUARE = ((0.0, 0.0), (10.0, 0.0), (10.0, 5.5), (0.0, 5.5))


def test_y_is_turned_down_and_zero_has_no_sign() -> None:
    assert spot((3.0, 4.0)) == (3, -4)
    assert str(spot((-0.0001, 0.0))) == "(0.0, 0.0)"


def test_a_line_is_open_and_a_ring_closed() -> None:
    assert line_path(SQUARE[:2]) == "M0 0L10 0"
    assert ring_path(SQUARE) == "M0 0L10 0L10 -5.5L0 -5.5Z"


def test_a_move_in_the_room_is_a_move_of_the_drawing() -> None:
    assert move_text((12.344, 7.0)) == "translate(12.34 -7)"
    assert move_text((0.0, -0.001)) == "translate(0 0)"


def test_a_polygon_s_holes_follow_its_ring_and_parts_follow_each_other() -> None:
    hole = ((1.0, 1.0), (1.0, 2.0), (2.0, 1.0))
    assert polygon_path((SQUARE, hole)) == ring_path(SQUARE) + ring_path(hole)
    assert region_path(((SQUARE, hole), (SQUARE,))) == ring_path(SQUARE) + ring_path(hole) + ring_path(SQUARE)


@given(st.floats(-1e6, 1e6))
def test_a_number_keeps_its_hundredths_whatever_its_size(value: float) -> None:
    """Regression: beyond 10 m the hundredths were lost."""
    text = short_number(value)
    assert re.fullmatch(r"-?\d+(\.\d{1,2})?", text)
    assert float(text) == pytest.approx(value, abs=0.00501)


@pytest.mark.parametrize(
    ("value", "text"), [(12345.67, "12345.67"), (100.0, "100"), (0.5, "0.5"), (-7.10, "-7.1")]
)
def test_a_number_is_as_short_as_can_be(value: float, text: str) -> None:
    assert short_number(value) == text


def test_a_view_box_holds_all_points_with_the_margin() -> None:
    """x, y, width and height with y turned down."""
    assert view_box(SQUARE, 100) == (-100, -105.5, 210, 205.5)

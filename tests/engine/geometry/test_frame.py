"""The board's frame: exact where it can be, and there and back again."""

from math import cos, radians, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.geometry.frame import Frame, cos_sin

numbers = st.floats(-6000, 6000)
points = st.tuples(numbers, numbers)


@given(st.integers(-8, 8))
def test_quarter_turns_are_exact(quarters):
    """A board laid square has coordinates without noise, whatever way the angle is written."""
    expected = [(1, 0), (0, 1), (-1, 0), (0, -1)][quarters % 4]
    assert cos_sin(90.0 * quarters) == expected


def test_a_board_heading_north_lies_where_a_drawing_shows_it():
    """Frame at (100, 200) heading 90°: 600 along and 90 to the left is (10, 800)."""
    frame = Frame(100, 200, 90)
    assert frame.to_room((600, 90)) == (10, 800)
    assert frame.to_board((10, 800)) == (600, 90)


@given(points, numbers, numbers, st.floats(-720, 720))
def test_a_point_comes_back_from_the_room_unchanged(point, x, y, angle):
    """Any frame, within 1e-9 mm a metre."""
    frame = Frame(x, y, angle)
    assert frame.to_board(frame.to_room(point)) == pytest.approx(point, abs=1e-8)


@given(points, st.floats(-360, 360))
def test_turning_agrees_with_complex_numbers(point, angle):
    """A turn is a multiplication by e^(iα)."""
    turned = complex(*point) * complex(cos(radians(angle)), sin(radians(angle)))
    assert Frame(0, 0, angle).to_room(point) == pytest.approx((turned.real, turned.imag), abs=1e-8)


def test_rings_go_the_same_way_as_their_points():
    """A ring is brought over point by point, in its order."""
    frame, ring = Frame(5, 6, 30), ((0.0, 0.0), (600.0, 0.0), (600.0, 90.0))
    assert frame.ring_to_room(ring) == tuple(map(frame.to_room, ring))
    assert frame.ring_to_board(ring) == tuple(map(frame.to_board, ring))


def test_frames_of_equal_place_and_angle_are_equal():
    """A frame is a value."""
    assert Frame(1, 2, 3) == Frame(1, 2, 3)
    assert Frame(1, 2, 3) != Frame(1, 2, 4)

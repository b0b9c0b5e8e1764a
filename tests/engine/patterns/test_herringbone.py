"""The herringbone against the definition written in the job file's description."""

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st
from msgspec import structs
from shapely import affinity

from engine.model.job import Board, Floor
from engine.patterns import find_pattern
from engine.patterns.lattice import boards_over
from engine.patterns.pattern import Hand

HERRINGBONE = find_pattern("herringbone")


@settings(max_examples=30, deadline=None)
@given(
    length=st.floats(200, 1500),
    ratio=st.floats(0.06, 1.0),
    axis=st.floats(-360, 360),
    anchor=st.tuples(st.floats(-5000, 5000), st.floats(-5000, 5000)),
    row=st.integers(-3, 3),
    place=st.integers(-3, 3),
)
def test_right_and_left_boards_lie_where_they_are_defined(
    length: float, ratio: float, axis: float, anchor: tuple[float, float], row: int, place: int
) -> None:
    """In the frame turned by axis − 45° about the anchor: right [0, L] × [0, W], left [−W, 0] × [0, L].

    The rest follow by (W, W) along the row and (L, −L) to the next. Shapely places the reference.
    """
    width = length * ratio
    wanted: dict[Hand, shapely.Polygon] = {
        "R": shapely.box(0, 0, length, width),
        "L": shapely.box(-width, 0, 0, length),
    }
    boards = {
        (board.row, board.place, board.hand): board
        for board in boards_over(HERRINGBONE, floor(length, width, axis, anchor), around(anchor, 4 * length))
    }
    for hand, shape in wanted.items():
        moved = affinity.translate(shape, place * width + row * length, place * width - row * length)
        turned = affinity.rotate(moved, axis - 45, origin=(0, 0))
        expected = affinity.translate(turned, *anchor)
        board = boards[row, place, hand]
        assert shapely.Polygon(board.ring).symmetric_difference(expected).area < 1e-3
        # The heading is the direction of the long edges; a left board's is a quarter turn further.
        heading = axis - 45 + (90 if hand == "L" else 0)
        assert (board.frame.angle - heading) % 360 == pytest.approx(0, abs=1e-9) or (
            (board.frame.angle - heading) % 360 == pytest.approx(360)
        )


def floor(length: float, width: float, axis: float, anchor: tuple[float, float] = (0.0, 0.0)) -> Floor:
    return Floor(board=Board(length=length, width=width), axis=axis, anchor=anchor)


def around(point: tuple[float, float], half: float) -> list[tuple[float, float]]:
    x, y = point
    return [(x - half, y - half), (x + half, y - half), (x + half, y + half), (x - half, y + half)]


@pytest.mark.parametrize("axis", [0.0, 90.0])
def test_along_the_axis_a_row_runs_and_the_next_row_lies_to_its_right(axis: float) -> None:
    """Place 1 is √2·W further along the axis, row 1 is √2·L to its right (METHODS.md, lattices)."""
    boards = {
        (board.row, board.place, board.hand): board
        for board in boards_over(HERRINGBONE, floor(600.0, 90.0, axis), around((0.0, 0.0), 2000))
    }
    first, along, across = (boards[key, place, "R"].frame for key, place in ((0, 0), (0, 1), (1, 0)))
    step, row = 2**0.5 * 90, 2**0.5 * 600
    places = {0.0: ((step, 0), (0, -row)), 90.0: ((0, step), (row, 0))}[axis]
    assert (along.x - first.x, along.y - first.y) == pytest.approx(places[0], abs=1e-9)
    assert (across.x - first.x, across.y - first.y) == pytest.approx(places[1], abs=1e-9)


@pytest.mark.parametrize("strips", [1, 2, 3, 4])
@pytest.mark.parametrize("size", [(613.7, 87.3), (450.0, 75.0), (500.0, 125.0)])
def test_strips_lie_side_by_side_as_the_table_has_them(strips: int, size: tuple[float, float]) -> None:
    """METHODS' table: A_k = [0, L] × [kW, (k+1)W], B_k = [L+kW, L+(k+1)W] × [b−L, b]; (b, b), (L, −L)."""
    length, width = size
    b = strips * width
    asked = structs.replace(floor(length, width, 45.0), strips=strips)
    for board in boards_over(HERRINGBONE, asked, around((0.0, 0.0), 1.5 * length)):
        place, k = divmod(board.place, strips)
        # The table's left boards stand one row further to the right than ours.
        row = board.row - (board.hand == "L")
        shape = {
            "R": shapely.box(0, k * width, length, (k + 1) * width),
            "L": shapely.box(length + k * width, b - length, length + (k + 1) * width, b),
        }[board.hand]
        moved = affinity.translate(shape, place * b + row * length, place * b - row * length)
        if board.hand == "L":
            moved = affinity.translate(moved, -b, -b)
        assert shapely.Polygon(board.ring).symmetric_difference(moved).area < 1e-3


def test_a_double_herringbone_has_two_strips_unless_it_says_more() -> None:
    double = find_pattern("double herringbone")
    for strips, named in ((2, None), (3, 3)):
        plain = structs.replace(floor(600.0, 90.0, 30.0), strips=strips)
        other = structs.replace(plain, pattern="double herringbone", strips=named)
        window = around((0.0, 0.0), 900)
        assert list(boards_over(double, other, window)) == list(boards_over(HERRINGBONE, plain, window))

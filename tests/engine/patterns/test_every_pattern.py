"""What every pattern must pass, found by itself: a new file in ``patterns`` is covered at once.

Reference for overlap and filling: shapely (GEOS).
"""

from itertools import product
from math import cos, radians, sin

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.geometry.shapes import Point
from engine.patterns import find_pattern, pattern_names
from engine.patterns.lattice import Hand, LaidBoard, Pattern, boards_count, boards_over

PATTERNS = [find_pattern(name) for name in pattern_names()]
every_pattern = pytest.mark.parametrize("pattern", PATTERNS, ids=lambda pattern: pattern.name)

sizes = st.tuples(st.floats(250, 1200), st.floats(0.08, 1.0)).map(lambda size: (size[0], size[0] * size[1]))
axes = st.sampled_from([0.0, 45.0, 90.0, -135.0]) | st.floats(-360, 360)
anchors = st.tuples(st.floats(-3000, 3000), st.floats(-3000, 3000))


def turned_box(axis: float, anchor: Point, half: float) -> list[Point]:
    """The corners of a square about a point near the anchor, square to the axis."""
    c, s = cos(radians(axis)), sin(radians(axis))
    corners = [(half, half), (-half, half), (-half, -half), (half, -half)]
    return [(anchor[0] + c * x - s * y, anchor[1] + s * x + c * y) for x, y in corners]


def shapes(boards: list[LaidBoard]) -> list[shapely.Polygon]:
    return [shapely.Polygon(board.ring) for board in boards]


@every_pattern
@settings(max_examples=25, deadline=None)
@given(size=sizes, axis=axes, anchor=anchors)
def test_boards_fill_the_plane_and_none_lies_on_another(
    pattern: Pattern, size: tuple[float, float], axis: float, anchor: Point
) -> None:
    """Over a square three boards wide, the union covers all and is as large as the boards' sum."""
    corners = turned_box(axis, anchor, 0.8 * size[0])
    boards = list(boards_over(pattern, *size, axis, anchor, corners))
    laid = shapes(boards)
    square = shapely.Polygon(corners)
    united = shapely.union_all(laid, grid_size=1e-6)
    assert united.area == pytest.approx(len(boards) * size[0] * size[1], rel=1e-7)
    # Hairlines of the grid between neighbours; a board left out would be thousands.
    assert square.difference(united).area < 1.0


@every_pattern
@settings(max_examples=25, deadline=None)
@given(size=sizes, axis=axes, anchor=anchors, away=st.tuples(st.floats(-4000, 4000), st.floats(-4000, 4000)))
def test_no_board_that_reaches_the_points_is_left_out(
    pattern: Pattern, size: tuple[float, float], axis: float, anchor: Point, away: Point
) -> None:
    """Held against every board in a range of the lattice twice as wide on each side, tried one by one."""
    centre = (anchor[0] + away[0], anchor[1] + away[1])
    window = turned_box(axis + 17, centre, 0.6 * size[0])
    found = {(b.row, b.place, b.hand): b for b in boards_over(pattern, *size, axis, anchor, window)}
    rows, places = sorted({key[0] for key in found}), sorted({key[1] for key in found})
    square = shapely.Polygon(window)
    wide = product(span(rows), span(places))
    for row, place in wide:
        for hand in {board.hand for board in found.values()}:
            if (row, place, hand) not in found:
                ring = moved_ring(pattern, size, found, row, place, hand)
                assert not shapely.Polygon(ring).buffer(-1e-6).intersects(square), (row, place, hand)


def span(values: list[int]) -> range:
    count = len(values)
    return range(values[0] - count, values[-1] + count + 1)


def moved_ring(
    pattern: Pattern,
    size: tuple[float, float],
    found: dict[tuple[int, int, Hand], LaidBoard],
    row: int,
    place: int,
    hand: Hand,
) -> list[Point]:
    """The board at a cell, by moving one of that hand along the lattice by hand."""
    known = next(board for board in found.values() if board.hand == hand)
    cell = pattern.cell(*size)
    rows, places = row - known.row, place - known.place
    u = rows * cell.next_row[0] + places * cell.next_place[0]
    v = rows * cell.next_row[1] + places * cell.next_place[1]
    angle = radians(known.frame.angle - next(b.heading for b in cell.boards if b.hand == hand))
    dx, dy = cos(angle) * u - sin(angle) * v, sin(angle) * u + cos(angle) * v
    return [(x + dx, y + dy) for x, y in known.ring]


@every_pattern
def test_the_count_is_that_of_the_boards(pattern: Pattern) -> None:
    """Boards are counted without making them."""
    asked = (pattern, 600.0, 90.0, 33.0, (120.0, -40.0), [(0.0, 0.0), (2400.0, 1700.0)])
    assert boards_count(*asked) == len(list(boards_over(*asked)))


@every_pattern
def test_a_board_is_laid_once(pattern: Pattern) -> None:
    """Row, place and hand name one board, and its ring runs counter-clockwise from its own corner."""
    boards = list(boards_over(pattern, 500.0, 83.3, 20.0, (7.0, 9.0), [(0.0, 0.0), (1500.0, 900.0)]))
    assert len({(board.row, board.place, board.hand) for board in boards}) == len(boards)
    for board in boards:
        assert shapely.Polygon(board.ring).exterior.is_ccw
        assert board.ring[0] == pytest.approx((board.frame.x, board.frame.y))


def test_an_unknown_pattern_is_named_with_those_there_are() -> None:
    with pytest.raises(KeyError, match="herringbone"):
        find_pattern("plaid")
    with pytest.raises(KeyError):
        find_pattern("lattice")

"""The chevron against the table of patterns as lattices (METHODS.md), written out once more with shapely."""

from math import cos, radians, sin, tan

import pytest
import shapely
from shapely import affinity

from engine.model.job import Board, Floor
from engine.patterns import find_pattern
from engine.patterns.lattice import boards_over
from engine.patterns.pattern import LaidBoard
from tests.engine.patterns.floors import same_place, shape, turned_box

CHEVRON = find_pattern("chevron")
every_angle = pytest.mark.parametrize("angle", [5.0, 30.0, 37.5, 45.0, 52.0, 80.0])


def boards(angle: float | None, axis: float = 90.0, reach: float = 700.0) -> list[LaidBoard]:
    floor = Floor(
        pattern="chevron", board=Board(length=613.7, width=87.3), axis=axis, anchor=(40.0, -25.0), angle=angle
    )
    return list(boards_over(CHEVRON, floor, turned_box(axis, (40.0, -25.0), reach)))


@every_angle
def test_boards_lie_where_the_table_puts_them(angle: float) -> None:
    """A parallelogram and its mirror image over C = L·cosβ, h = L·sinβ, P = W/cosβ; (0, P) and (2C, 0)."""
    beta = radians(angle)
    c, h, p = 613.7 * cos(beta), 613.7 * sin(beta), 87.3 / cos(beta)
    table = {
        "R": shapely.Polygon([(0, 0), (c, h), (c, h + p), (0, p)]),
        "L": shapely.Polygon([(c, h), (2 * c, 0), (2 * c, p), (c, h + p)]),
    }
    for board in boards(angle):
        # The table's left board stands at the far spine: one row further on than ours.
        row = board.row - (board.hand == "L")
        moved = affinity.translate(table[board.hand], 40.0 + row * 2 * c, -25.0 + board.place * p)
        assert same_place(shape(board), moved), (board.row, board.place, board.hand)


@every_angle
def test_both_ends_are_cut_at_the_angle_and_both_long_edges_are_as_long_as_the_board(angle: float) -> None:
    """The ends run along the row axis, W/cosβ long; left and right boards lean to different sides."""
    for board in boards(angle, axis=0.0):
        a, b, c, d = board.ring
        assert shapely.LineString([a, b]).length == pytest.approx(613.7)
        assert shapely.LineString([c, d]).length == pytest.approx(613.7)
        for lower, upper in ((a, d), (b, c)):
            assert lower[1] == pytest.approx(upper[1], abs=1e-6)
            assert abs(lower[0] - upper[0]) == pytest.approx(87.3 / cos(radians(angle)))
        lean = 87.3 * tan(radians(angle))
        assert board.size.lean == pytest.approx(lean if board.hand == "R" else -lean)


def test_without_an_angle_the_ends_are_cut_at_45_degrees() -> None:
    assert [board.ring for board in boards(None)] == [board.ring for board in boards(45.0)]

"""How far a board stands over a bent edge: by shapely's distance where no corner of the board tells."""

import pytest
import shapely

from engine.setting_out.board_over import board_over, corners_in
from engine.setting_out.corner_wedge import wedge_at
from engine.setting_out.edge_corner import EdgeCorner
from engine.setting_out.edge_line import EdgeLine, edge_line
from engine.setting_out.rim import Stretch
from engine.setting_out.searched_edge import Cut

LENGTH, WIDTH = 400.0, 60.0
# A wall 1 m long that is hollow by 2 mm in its middle: the floor lies above it.
HOLLOW = ((0.0, 0.0), (250.0, -1.5), (500.0, -2.0), (750.0, -1.5), (1000.0, 0.0))


def edge(*points: tuple[float, float]) -> EdgeLine:
    line = edge_line(Stretch("w", points, 1.0, 1.0), LENGTH)
    assert line is not None
    return line


@pytest.mark.parametrize("top", [-1.95, -1.7])
def test_a_side_along_a_hollow_edge_stands_in_where_the_edge_bends(top: float) -> None:
    """Promise: a board whose corners all end short lies along the edge all the same."""
    line = edge(*HOLLOW)
    board = ((300.0, top), (300.0 + LENGTH, top), (300.0 + LENGTH, top - WIDTH), (300.0, top - WIDTH))
    over = board_over(line, corners_in(line.frame, board), 0.0, 0.0)
    floor = shapely.Polygon([*HOLLOW, (1000.0, 500.0), (0.0, 500.0)])
    reaches_in = shapely.Polygon(board).intersection(floor).bounds
    assert over.top(over.heights, *line.stations[:: len(line.stations) - 1]) == pytest.approx(top + 2.0)
    assert reaches_in[3] == pytest.approx(top)


def test_a_corner_that_lies_in_a_board_is_as_deep_as_it_is_far_from_the_sides() -> None:
    one, other = edge((0.0, 0.0), (1000.0, 0.0)), edge((1000.0, 0.0), (1000.0, 500.0))
    board = ((900.0, -50.0), (1010.0, -50.0), (1010.0, 80.0), (900.0, 80.0))
    wedge = wedge_at(one, other, is_after=True, reach=500.0)
    over = board_over(one, corners_in(one.frame, board), 0.0, 0.0)
    beside = board_over(other, corners_in(other.frame, board), 0.0, 0.0)
    cut = Cut(1, beside, 0.0, EdgeCorner(False), wedge)
    apart = shapely.LinearRing(board).distance(shapely.Point(1000.0, 0.0))
    assert cut.depth(over) == pytest.approx(apart) == 10.0

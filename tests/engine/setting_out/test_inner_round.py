"""Where the room has an inner corner the floor goes round it, and what lies there lies along both walls."""

import msgspec
import shapely

from engine.model.job import Job
from engine.planning.floor_plan import plan_room
from engine.planning.pieces import nominal_pieces
from engine.planning.place import rated_place
from engine.setting_out.edge_line import edge_line
from engine.setting_out.inner_round import InnerRound
from engine.setting_out.rating import NamedEdge
from engine.setting_out.rim import Stretch
from engine.setting_out.searched_edge import TOUCH
from tests.engine.small_jobs import small_job

# An L: the inner corner is D.
L_SHAPE = {
    "A": [0, 0], "B": [2400, 0], "C": [2400, 1100], "D": [1300, 1100], "E": [1300, 2300], "F": [0, 2300]
}  # fmt: skip


def test_the_smallest_along_a_wall_is_found_by_distance_to_it_alone() -> None:
    """Promise: a piece lies along a wall if it comes within 0.01 mm of that wall's gap line.

    Held against shapely's distance from each piece to the wall, for some places of the pattern.
    """
    names = list(L_SHAPE)
    walls = [{"from": a, "to": b, "gap": 12} for a, b in zip(names, names[1:] + names[:1], strict=True)]
    edges = [{"from": "C", "to": "D"}, {"from": "D", "to": "E"}]
    straight = {"C–D": ((1300, 1088), (2400, 1088)), "D–E": ((1288, 1100), (1288, 2300))}
    only_round = 0
    for x, y in ((1000, 900), (1120, 940), (1240, 905), (1329, 927), (1390, 930)):
        job = small_job(floor__anchor=[x, y], setting_out={"edges": edges})
        job["room"] = {"corners": L_SHAPE, "walls": walls}
        read = msgspec.convert(job, Job)
        regions = [region for _, region in nominal_pieces(plan_room(read).lay_area, read.floor)]
        parts = [shapely.Polygon(outer) for region in regions for outer, *_ in region]
        smallest = rated_place(read).smallest
        for name, line in straight.items():
            wall = shapely.LineString([L_SHAPE[corner] for corner in name.split("–")])
            least = min((part for part in parts if part.distance(wall) <= 12.01), key=lambda part: part.area)
            assert abs(smallest[name].area - least.area) < 0.1
            only_round += least.distance(shapely.LineString(line)) > 0.01
    assert only_round


def test_a_board_over_the_corner_meets_its_round() -> None:
    """Also one that holds the corner itself, with every edge far from it."""
    found = InnerRound((0.0, 0.0), 10.0)
    assert found.is_met_by(((-50, -50), (50, -50), (50, 50), (-50, 50)), 0.01)
    assert found.is_met_by(((10.005, -50), (90, -50), (90, 50), (10.005, 50)), 0.01)
    assert not found.is_met_by(((10.02, -50), (90, -50), (90, 50), (10.02, 50)), 0.01)
    assert found.is_near((6.0, 8.0), 0.0)
    assert not found.is_near((6.1, 8.0), 0.01)


def test_a_side_that_passes_by_the_round_lies_along_both_walls() -> None:
    """No corner of the piece is near: its side comes to within 0.01 mm of the round, or does not."""
    wall = NamedEdge("C–D", 1.0, (), (InnerRound((0, 0), 12.5),))
    for off, is_along in ((12.509, True), (12.511, False)):
        piece = ((-100.0, off), (100.0, off), (100.0, off + 50.0), (-100.0, off + 50.0))
        assert wall.touches((piece,)) == is_along
        assert (shapely.Polygon(piece).distance(shapely.Point(0, 0)) <= 12.5 + TOUCH) == is_along


def test_a_side_that_passes_by_the_end_of_an_edge_lies_along_it() -> None:
    line = edge_line(Stretch("A–B", ((0.0, 0.0), (500.0, 0.0)), 1.0, 1.0), 600.0)
    assert line is not None
    wall = NamedEdge("A–B", 1.0, (line,))
    for off, is_along in ((0.009, True), (0.011, False)):
        piece = ((500.0 + off, -100.0), (550.0, -100.0), (550.0, 100.0), (500.0 + off, 100.0))
        assert wall.touches((piece,)) == is_along
        assert (shapely.Polygon(piece).distance(shapely.LineString(line.points)) <= TOUCH) == is_along

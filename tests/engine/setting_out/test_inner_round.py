"""Where the room has an inner corner the floor goes round it, and what lies there lies along both walls."""

import msgspec
import shapely

from engine.model.job import Job
from engine.planning.floor_plan import plan_room
from engine.planning.pieces import nominal_pieces
from engine.planning.place import rated_place
from engine.setting_out.inner_round import InnerRound
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

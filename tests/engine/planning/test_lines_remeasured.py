"""What the sheet states, read as a person reads it and measured anew: in L-shaped rooms with islands.

Every distance is taken as it is shown, to a tenth of a millimetre. Reference for crossings of circles:
TRADE.md, two-tape fix; for what lies on the floor: shapely (GEOS).
"""

from functools import cache
from math import dist
from typing import Any

import pytest
import shapely
from shapely.ops import substring

from tests.engine.planning.ell_rooms import ell_room
from tests.engine.planning.test_setting_out import two_tapes
from tests.engine.small_jobs import ask

SEEDS = range(30)
# A few each time, all of them with --long.
every_room = pytest.mark.parametrize(
    "seed", [seed if seed in (0, 10, 17) else pytest.param(seed, marks=pytest.mark.long) for seed in SEEDS]
)
# The promise: what is struck from the stated distances lies within half a millimetre.
STRUCK = 0.5
Point = tuple[float, float]


@cache
def reply_to(seed: int) -> tuple[dict[str, Any], dict[str, Any]]:
    job = ell_room(seed)
    reply = ask("plan", job=job)
    assert reply["reply"] == "plan", reply
    return job, reply


def struck(mark: dict[str, Any], drawn: Point, corners: dict[str, Point]) -> Point:
    """Where a person makes the mark: of both crossings the one that meets the check.

    Where only two corners are in sight the drawing tells them apart, for they lie far from each other.
    """
    (one, a), (other, b) = (read(tie) for tie in mark["ties"])
    both = two_tapes(corners[one], corners[other], a, b)
    if mark["check"]:
        corner, distance = read(mark["check"])
        return min(both, key=lambda point: abs(dist(point, corners[corner]) - distance))
    assert dist(*both) > 300
    return min(both, key=lambda point: dist(point, drawn))


def read(figure: dict[str, Any]) -> tuple[str, float]:
    """Corner and distance as they are shown."""
    return figure["label"].rpartition(" ")[2], float(figure["text"])


@every_room
def test_every_line_struck_from_its_stated_distances_lies_within_half_a_millimetre(seed: int) -> None:
    """Both marks, the distance between them, the line along its whole length, and the corners' lasers."""
    job, reply = reply_to(seed)
    corners = {name: (x, y) for name, (x, y) in job["room"]["corners"].items()}
    lines, shown = reply["plan"]["setting_out"]["lines"], reply["setting_out"]["lines"]
    assert len(lines) == len(shown) >= 4
    for line, drawn in zip(lines, shown, strict=True):
        ends = (line["from"], line["to"])
        start, end = (struck(mark, at, corners) for mark, at in zip(drawn["marks"], ends, strict=True))
        assert dist(start, line["from"]) < STRUCK, line
        assert dist(end, line["to"]) < STRUCK, line
        assert dist(start, end) == pytest.approx(float(drawn["length"]["text"]), abs=STRUCK)
        chalk = shapely.LineString([start, end])
        assert chalk.hausdorff_distance(shapely.LineString([line["from"], line["to"]])) < STRUCK
        for laser in drawn["laser"]:
            corner, side = laser["label"].split(",")[0], 1 if "left" in laser["label"] else -1
            beside = cross(start, end, corners[corner]) / dist(start, end)
            assert side * beside == pytest.approx(float(laser["text"]), abs=2 * STRUCK)


def cross(start: Point, end: Point, point: Point) -> float:
    (ax, ay), (bx, by), (x, y) = start, end, point
    return (bx - ax) * (y - ay) - (by - ay) * (x - ax)


@every_room
def test_every_line_lies_on_the_floor_and_whole_boards_lie_at_it_where_it_says(seed: int) -> None:
    """No mark on an island or in a wall; from where to where by shapely, of the boards of the plan file."""
    job, reply = reply_to(seed)
    rings = reply["plan"]["lay_area"]["rings"]
    area = shapely.Polygon()
    for ring in rings:
        area = area.symmetric_difference(shapely.Polygon(ring))
    area = area.buffer(0.05)
    whole = [shapely.Polygon(p["outline"][0]) for p in reply["plan"]["pieces"] if p["kind"] == "whole"]
    for line, drawn in zip(reply["plan"]["setting_out"]["lines"], reply["setting_out"]["lines"], strict=True):
        chalk = shapely.LineString([line["from"], line["to"]])
        assert area.covers(chalk), line
        for island in job["room"]["fixed"]:
            assert chalk.distance(shapely.Polygon(island["outline"])) > 7
        near = chalk.intersection(shapely.union_all(whole).buffer(0.5))
        stated = [tuple(map(float, figure["text"].split(" to "))) for figure in drawn["field"]]
        # A corner that touches the line from beside it tells nothing, and takes 2 mm of it at most.
        told = shapely.union_all([substring(chalk, low, high) for low, high in stated]).buffer(0.2)
        left = near.difference(told)
        assert all(part.length < 2 for part in getattr(left, "geoms", [left]))
        for low, high in stated:
            assert -0.1 <= low < high <= chalk.length + 0.1
            for at in (low, high):
                assert shapely.union_all(whole).distance(chalk.interpolate(at)) < 0.6


@pytest.mark.long
def test_the_rooms_are_as_hard_as_they_are_meant_to_be() -> None:
    """Some lines come in parts, some marks move off the wall, and every pattern is among them."""
    sheets = [reply_to(seed)[1]["setting_out"] for seed in SEEDS]
    assert sum("part 2" in line["name"] for sheet in sheets for line in sheet["lines"]) > 20
    assert {ell_room(seed)["floor"]["pattern"] for seed in SEEDS} >= {"herringbone", "straight", "chevron"}
    assert sum(len(ell_room(seed)["room"]["fixed"]) for seed in SEEDS) > 30

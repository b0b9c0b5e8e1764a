"""The number of ways in which the saw is turned, against the floor itself instead of our own band.

What of a board must stay on a piece (it is farther from every wall than gap + tolerance) and what must fall
(it is nearer than gap − tolerance) are had by clipping with shapely (BSD) two lay areas that share no code
with the engine. A setting holds a cut's band if some line of that direction has the one on its one side and
the other on the other. Cuts of which no two share a setting need one each (common knowledge on intervals).
"""

import json
from collections.abc import Iterator
from math import cos, radians, sin
from typing import Any

import numpy as np
import pytest
from shapely import affinity
from shapely.geometry import box

from engine.cutting.fewest import witnesses
from engine.entry import handle
from tests.engine.small_jobs import small_job
from tests.reference.independent_floor import lay_area

TURNS = [half / 2 for half in range(-100, 101)]
# What our cuts keep back from either side of the band (`straight_cut.BAND_MARGIN`), and rounding, mm.
KEPT_BACK = 0.006


def bowed(tolerance: float, seed: int, axis: float, width: float) -> dict[str, Any]:
    """The box room without things in it, its walls so bowed and so far from square that many cuts differ."""
    board = {"length": max(400, 2 * width), "width": width}
    job = small_job(cutting__gap_tolerance=tolerance, floor__axis=axis, floor__board=board)
    job["room"] |= {"corners": job["room"]["corners"] | {"C": [1812 + 30 * seed, 1420 + 15 * seed]}}
    walls = [
        {"from": "A", "to": "B", "offsets": [[300, 8 + seed], [900, 18 - 2 * seed], [1500, 9]]},
        {"from": "B", "to": "C", "gap": 8, "offsets": [[700, 7]]},
        {"from": "C", "to": "D", "curve": "arc", "offsets": [[900, -20 + 4 * seed]]},
        {"from": "D", "to": "A", "curve": "straight", "offsets": [[700, 4]]},
    ]
    job["room"] |= {"walls": walls, "fixed": []}
    return job


JOBS = {
    f"{tolerance} mm, room {seed}, axis {axis}°, boards of {width} mm": bowed(tolerance, seed, axis, width)
    for tolerance, seed, axis, width in (
        (2.0, 2, 90.0, 60.0),
        (1.0, 1, 90.0, 120.0),
        (2.0, 3, 90.0, 180.0),
        (1.0, 0, 87.0, 180.0),
    )
}


def in_board(shape: Any, place: dict[str, float]) -> np.ndarray:
    """The corners of a shape's hull in the board's frame: lines part two shapes as they part their hulls."""
    moved = affinity.translate(shape.convex_hull, -place["x"], -place["y"])
    return np.array(affinity.rotate(moved, -place["angle"], origin=(0, 0)).exterior.coords)


def turns_used(piece: dict[str, Any]) -> list[float]:
    """The ways in which the saw is turned for a piece to a mark of its scale, degrees to the right."""
    steps = [step for step in piece["steps"] if step["work"] == "turn"]
    turns = (step["angle"] * (-1.0 if step["turned"] == "left" else 1.0) for step in steps)
    return [turn for turn in turns if turn in TURNS]


def held_turns(job: dict[str, Any], plan: dict[str, Any]) -> Iterator[tuple[float, float]]:
    """For each turn of the saw the first and the last one that hold the band as well.

    They are looked for where a board has one straight cut; a board that is cut more than once has its own
    turns as they are. Board face up, x along it: turned to the right by t the blade runs along
    (−sin t, cos t).
    """
    tolerance, size = job["cutting"]["gap_tolerance"], job["floor"]["board"]
    stays, may_stay = lay_area(job, tolerance), lay_area(job, -tolerance)
    whole = box(0, 0, size["length"], size["width"])
    boards = [piece["id"].split(".")[0] for piece in plan["pieces"]]
    for piece in plan["pieces"]:
        used, is_alone = turns_used(piece), boards.count(piece["id"]) == 1
        if len(used) != 1 or len(piece["cuts"]) != 1 or not is_alone:
            yield from ((turn, turn) for turn in used)
            continue
        place = piece["board"]
        board = affinity.translate(affinity.rotate(whole, place["angle"], (0, 0)), place["x"], place["y"])
        kept, fallen = in_board(board & stays, place), in_board(board - may_stay, place)
        # The piece lies on the left of its cut.
        (_, first), (_, last) = piece["cuts"][0]["points"]
        way = 1.0 if last > first else -1.0
        normals = [way * np.array([-cos(radians(turn)), -sin(radians(turn))]) for turn in TURNS]
        held = [
            turn
            for turn, normal in zip(TURNS, normals, strict=True)
            if min(kept @ normal) - max(fallen @ normal) >= KEPT_BACK
        ]
        if held:
            yield min(held), max(held)


@pytest.mark.parametrize("name", JOBS)
def test_the_saw_is_turned_in_the_fewest_ways_that_hold_every_band(name: str) -> None:
    plan = json.loads(handle(json.dumps({"ask": "plan", "job": JOBS[name]})))["plan"]
    held = list(held_turns(JOBS[name], plan))
    assert sum(first < last for first, last in held) > 20
    used = {turn for piece in plan["pieces"] for turn in turns_used(piece)}
    assert len(used) <= len(witnesses(held))

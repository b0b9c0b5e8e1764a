"""The number of ways in which the saw is turned, for whole floors, against every setting tried on every cut.

For each straight cut every half degree that the saw can be set to is tried by a
linear programme's feasibility in one unknown: is there a line of that direction with
what must stay on one side and what must fall on the other? Cuts of which no two share
a setting need one each; so many there must be, however they are grouped (common
knowledge on intervals; METHODS: fewest saw settings).
"""

import json
from collections.abc import Iterator
from math import asin, cos, degrees, radians, sin
from typing import Any

import numpy as np
import pytest

from engine.cutting.corridor import Corridor, Strip
from engine.cutting.fewest import fewest_points, witnesses
from engine.cutting.gap_field import BoardGapField, GapField
from engine.cutting.saw_angles import Saw
from engine.cutting.sawn_piece import plan_cuts
from engine.cutting.treatment import StraightCuts
from engine.entry import handle
from engine.planning.floor_plan import plan_floor
from engine.planning.pieces import nominal_pieces
from engine.planning.saw_order import turn_for, turned_cuts
from engine.planning.tools import mitre_saw
from engine.wire.job_file import open_job
from tests.engine.small_jobs import small_job

REACH = 50.0
SETTINGS = [half / 2 for half in range(-100, 101)]


def bowed(tolerance: float, seed: int) -> dict[str, Any]:
    """The box room with walls that bow and lean so much that one setting cannot do for all its cuts."""
    job = small_job(cutting__gap_tolerance=tolerance, room__walls__1={"from": "B", "to": "C", "gap": 8})
    job["room"]["corners"]["C"] = [1812 + 30 * seed, 1420 + 15 * seed]
    job["room"]["walls"][0]["offsets"] = [[300, 8 + seed], [900, 18 - 2 * seed], [1500, 9]]
    job["room"]["walls"][2]["offsets"] = [[900, -20 + 4 * seed]]
    return job


ROOMS = [(tolerance, seed) for tolerance in (0.3, 0.5, 2.0) for seed in (0, 2)]
JOBS = {f"{tolerance} mm, room {seed}": bowed(tolerance, seed) for tolerance, seed in ROOMS}


def strips(job: dict[str, Any]) -> Iterator[Corridor]:
    """What each straight cut of the floor has to respect."""
    opened = open_job(job).job
    plan = plan_floor(opened)
    field = GapField(plan.room.barriers)
    for board, parts in nominal_pieces(plan.room.lay_area, opened.floor):
        for part in parts:
            nominal = tuple(board.frame.ring_to_board(ring) for ring in part)
            planned = plan_cuts(nominal, board.size, BoardGapField(field, board.frame), 0.5)
            for treatment in planned.treatments:
                if isinstance(treatment, StraightCuts):
                    yield from (line.corridor for line in treatment.lines if line.corridor is not None)


def turns_that_hold(corridor: Corridor) -> list[float]:
    """Each half degree to which the saw can be turned, to the right positive, for a cut in the corridor.

    Board face up, x along it: turned to the right by t the blade runs along (−sin t, cos t).
    """
    turn = np.array([[corridor.along[0], corridor.along[1]], [-corridor.along[1], corridor.along[0]]])
    keep, fall = np.array(corridor.above) @ turn, np.array(corridor.below) @ turn
    way = 1.0 if corridor.along[1] > 0 else -1.0
    held = []
    for setting in SETTINGS:
        direction = way * np.array([-sin(radians(setting)), cos(radians(setting))])
        normal = np.array([-direction[1], direction[0]])
        if min(keep @ normal) >= max(fall @ normal):
            held.append(setting)
    return held


@pytest.mark.parametrize("name", JOBS)
def test_the_saw_is_turned_in_no_more_ways_than_there_must_be(name: str) -> None:
    """As many as there are cuts of which no two share a setting, and each cut at one that holds its band."""
    job = JOBS[name]
    held = [turns for corridor in strips(job) if (turns := turns_that_hold(corridor))]
    least = len(witnesses([(min(turns), max(turns)) for turns in held]))
    opened = open_job(job).job
    plan, saw = plan_floor(opened), mitre_saw(opened.cutting)
    used = {
        round(turn_for(cut, saw), 4) + 0.0
        for piece in plan.pieces
        for cut in turned_cuts(piece, saw)
        if cut.is_set
    }
    assert used <= set(SETTINGS)
    assert len(used) == least
    assert all(piece.sawn.is_inside_band for piece in plan.pieces if piece.sawn.kind in ("crosscut", "mitre"))


def test_the_rooms_need_more_than_one_setting_on_either_side() -> None:
    """Else the comparison above would show nothing."""
    counts = {name: len(json.loads(ask_settings(job))) for name, job in JOBS.items()}
    assert max(counts.values()) > 4, counts


def ask_settings(job: dict[str, Any]) -> str:
    plan = json.loads(handle(json.dumps({"ask": "plan", "job": job})))["plan"]
    return json.dumps(sorted({(s["turned"], s["angle"]) for s in plan["saw_settings"]}))


def arc_strips(radius: float, boards: int, width: float, least: float, most: float) -> list[Strip]:
    """Boards side by side that end at a round wall, the gap to it between ``least`` and ``most``."""

    def wall(y: float, gap: float) -> tuple[float, float]:
        return (1000 + radius * cos(asin(y / (radius - gap))) - radius - gap, y)

    found = []
    for board in range(boards):
        first = (board - boards / 2) * width
        ys = [first + width * i / 10 for i in range(11)]
        # In the board's own frame, its start end kept: the curve runs up, the piece on its left.
        gaps = ((least + most) / 2, most, least)
        rows = [[(x, y - first) for x, y in (wall(y, gap) for y in ys)] for gap in gaps]
        found.append(Strip(nominal=tuple(rows[0]), keep=tuple(rows[1]), fall=tuple(rows[2])))
    return found


@pytest.mark.parametrize(("radius", "settings"), [(6000, 8), (8000, 6), (12000, 4)])
def test_sixty_boards_along_an_arc_of_six_metres_take_a_few_settings(radius: float, settings: int) -> None:
    """METHODS, fewest saw settings: 60 boards, band 5–12 mm, 6 settings; its radius is not given there."""
    corridors = [Corridor.of(strip) for strip in arc_strips(radius, 60, 100, 5, 12)]
    saw = Saw(step=0.5)
    ranges = [settable for corridor in corridors if (settable := saw.settable(corridor.angles()))]
    assert len(ranges) == 60
    turns = fewest_points(ranges, saw.preferred)
    assert len(turns) == len(witnesses(ranges)) == settings
    own = {round(degrees(corridor.slopes()[0]), 3) for corridor in corridors}
    assert len(own) > 50

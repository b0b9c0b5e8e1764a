"""What a laid corner is offered to be read to: nothing that a tape cannot reach.

Reference for what stands between: shapely (GEOS).
"""

import json
from functools import cache
from pathlib import Path
from typing import Any

import pytest
import shapely

from engine.planning.floor_plan import FloorPlan, plan_floor
from engine.planning.laid_readings import readable_corners
from engine.planning.setting_out import plan_setting_out
from engine.planning.staying_true import board_of_piece
from engine.wire.job_file import open_job

DEMO = Path(__file__).parents[3] / "site_src/app/demo_job.json"
LINES = ("row axis", "square to it")


@cache
def demo_at(anchor: tuple[float, float]) -> FloorPlan:
    job: dict[str, Any] = json.loads(DEMO.read_text(encoding="utf-8"))
    job["floor"]["anchor"] = anchor
    return plan_floor(open_job(job).job)


def offered(plan: FloorPlan) -> list[tuple[shapely.Point, str, float]]:
    """Every seventh piece's corners, with what each is offered to be read to."""
    found = []
    for piece in plan.pieces[::7]:
        board = board_of_piece(plan, piece.id)
        assert board is not None
        for corner in readable_corners(plan, piece, board):
            found += [(shapely.Point(corner.at), to, away) for to, away in corner.targets]
    return found


def test_no_tape_runs_through_the_island_or_past_the_chalk() -> None:
    """The demo's island parts the lines; a corner beside it has no axis before it, only what lies behind."""
    plan = demo_at((2600.0, 2000.0))
    island = next(shapely.Polygon(each.points) for each in plan.room.barriers if each.solid)
    standing = {wall.name: shapely.LineString(wall.points) for wall in plan.room.outline.walls}
    for name in LINES:
        parts = [line for line in plan_setting_out(plan).lines if line.wanted.name == name]
        standing[name] = shapely.union_all(
            [shapely.LineString([part.start.at, part.end.at]) for part in parts]
        )
    read = offered(plan)
    assert {to for _, to, _ in read} >= {*LINES, "A–B", "F–A"}
    for at, to, away in read:
        assert at.distance(standing[to]) == pytest.approx(away, abs=3.0)
        tape = shapely.shortest_line(at, standing[to])
        assert not tape.intersects(island.buffer(-4.0)), (at, to)


def test_a_line_off_the_floor_is_not_offered() -> None:
    """With the anchor behind the wall no row axis is struck, so nobody can read to it."""
    targets = {to for _, to, _ in offered(demo_at((-3000.0, 2000.0)))}
    assert "row axis" not in targets
    assert "square to it" in targets

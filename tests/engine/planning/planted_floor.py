"""Why this file exists: tests of staying true lay a floor out of plan and read it, without the engine."""

from typing import Any

import numpy as np
from shapely import LineString, Point, Polygon

from engine.planning.floor_plan import FloorPlan, plan_floor
from engine.planning.staying_true import StayingTrue, staying_true
from engine.wire.job_file import open_job
from tests.engine.small_jobs import small_job

ANCHOR = complex(910, 640)
ABOUT = complex(700, 500)
COUNT = {"row": -3, "place": -9}
CORNERS = {("start", "right"): 0, ("far", "right"): 1, ("far", "left"): 2, ("start", "left"): 3}
# Walls read every 150 mm, so that a distance to one of them tells something.
READ: dict[str, Any] = {
    "room__walls": [
        {"from": a, "to": b, "gap": 10, "offsets": [[s, 0] for s in range(150, length, 150)]}
        for a, b, length in (("A", "B", 1800), ("B", "C", 1400), ("C", "D", 1800), ("D", "A", 1400))
    ],
    "room__fixed": [],
    "floor__count_from": COUNT,
}


class Laid:
    """A floor laid out of plan: ahead, left, turn and creep about a point, worked out without the engine."""

    def __init__(self, ahead: float = 0, left: float = 0, turn: float = 0, creep: float = 0) -> None:
        self.by = complex(-left, ahead)  # the row axis heads up
        self.turn = np.exp(1j * np.radians(turn))
        self.drawn = 1 + creep

    def place(self, board: Polygon, corner: complex) -> complex:
        middle = complex(board.centroid.x, board.centroid.y)
        return complex(
            ABOUT + (middle - ABOUT) * self.drawn * self.turn + self.by + (corner - middle) * self.turn
        )

    def off(self, at: complex) -> complex:
        return complex(ABOUT + (at - ABOUT) * self.drawn * self.turn + self.by - at)


def plan_with(**changes: Any) -> FloorPlan:
    return plan_floor(open_job(small_job(**{**READ, **changes})).job)


def read(plan: FloorPlan, laid: Laid) -> list[dict[str, Any]]:
    """Every third whole board read at its start right corner, to two walls or lines, without error."""
    walls = {wall.name: LineString(wall.points) for wall in plan.room.outline.walls}
    whole = [piece for piece in plan.pieces if piece.sawn.kind == "whole"][::3]
    readings: list[dict[str, Any]] = []
    for piece in whole:
        ring = Polygon(piece.board.ring)
        at = laid.place(ring, complex(*piece.board.ring[0]))
        for to in ("A–B", "B–C", "row axis", "square to it"):
            if to in walls:
                away = walls[to].distance(Point(at.real, at.imag))
            else:
                away = abs((at - ANCHOR).real if to == "row axis" else (at - ANCHOR).imag)
            if to in walls or away > 40:
                readings.append(
                    {
                        "id": f"d{len(readings)}",
                        "typed": f"{away:.2f}",
                        "piece": piece.id,
                        "end": "start",
                        "side": "right",
                        "to": to,
                        "sd": 0.5,
                    }
                )
    return readings


def state_of(laid: Laid, **changes: Any) -> StayingTrue:
    plan = plan_with(**changes)
    document = small_job(**{**READ, **changes}, laid={"readings": read(plan, laid)})
    return staying_true(open_job(document).job)

"""Why this file exists: several files of tests look at the boards of a planned floor."""

from typing import Any

import msgspec
import shapely

from engine.model.job import Job
from engine.planning.floor_plan import FloorPlan, plan_floor
from tests.engine.small_jobs import small_job
from tests.reference.test_boards_against_linear_programme import seeded_job


def plan_of(job: dict[str, Any]) -> FloorPlan:
    return plan_floor(msgspec.convert(job, Job))


def small(**changes: Any) -> FloorPlan:
    return plan_of(small_job(**changes))


def check_board(names: tuple[str, ...], plan: FloorPlan, kerf: float) -> None:
    """Cut in this order each blank comes out of what the ones before left, with the blade between them."""
    supply, pieces = plan.supply, {piece.id: piece for piece in plan.pieces}
    size = pieces[names[0]].board.size
    left = shapely.Polygon(size.ring)
    for n, name in enumerate(names):
        source, piece = supply.sources[name], pieces[name]
        assert source.after in (names[:n] if n else [None])
        assert source.way == 0 or piece.sawn.kept_end == "neither"
        taken = supply.laid.get(name, piece.sawn.outline[0])
        shape = shapely.Polygon([(x + source.way, y) for x, y in taken]).convex_hull
        assert left.buffer(0.01).covers(shape)
        assert shapely.Polygon(source.blank).buffer(0.01).covers(shape)
        left = left.difference(shape.buffer(kerf - 0.01))


def begun_floor_in_doubt() -> dict[str, Any]:
    """A seeded floor of which two pieces came from one board that were to share with others: one in doubt."""
    cut = {"cut": True, "board": "R1"}
    return seeded_job(28) | {"progress": {"5-15R": cut, "5-17R": cut}}


def long_floor_in_doubt() -> dict[str, Any]:
    """A long narrow floor with more cut pieces of a hand than prices are sought for: a board is in doubt."""
    corners = {"A": [0, 0], "B": [8800, 31], "C": [8780, 800], "D": [15, 840]}
    walls = [{"from": start, "to": end, "gap": 10} for start, end in ("AB", "BC", "CD", "DA")]
    return {
        "format": "out-of-true job",
        "version": 1,
        "name": "long floor",
        "room": {"corners": corners, "walls": walls},
        "floor": {
            "pattern": "diagonal",
            "board": {"length": 310, "width": 42},
            "axis": 3,
            "anchor": [1037, 300],
        },
        "cutting": {"kerf": 2.4},
    }

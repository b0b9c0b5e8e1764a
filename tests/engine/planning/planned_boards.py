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
    """A seeded chevron floor of which a hand is a board above what is proven to be the least.

    Two pieces were cut from one board that were to share with others.
    """
    cut = {"cut": True, "board": "R1"}
    return seeded_job(23) | {"progress": {"4-34R": cut, "4-2R": cut}}

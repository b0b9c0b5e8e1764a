"""One request of every kind, on the small job with few and large boards."""

from typing import Any, get_args

from engine.wire.requests import Request
from tests.engine.small_jobs import small_job

KINDS: tuple[str, ...] = tuple(kind.__struct_config__.tag for kind in get_args(Request))


def one_of_each() -> dict[str, dict[str, Any]]:
    """Kind → request, each of which gets a reply of its kind."""
    edges = {"edges": [{"from": "C", "to": "D"}], "measure": "long_point"}
    job = small_job(floor__board={"length": 900, "width": 150}, setting_out=edges)
    reading = {"id": "r1", "of": "offset", "from": "A", "to": "B", "station": 500, "by": "bow", "typed": "4"}
    on_job: dict[str, dict[str, Any]] = {kind: {} for kind in KINDS} | {
        "measured": {"piece": "2-2R", "left": 300},
        "wall correction": {"piece": "2-2R", "left": 300},
        "reading": {"reading": reading},
        "improve": {"solved": [], "seconds": 0},
        "laid board": {"piece": "2-2R"},
    }
    asked = {kind: {"ask": kind, "job": job, **rest} for kind, rest in on_job.items()}
    return asked | {"pace": {"ask": "pace", "pieces": []}}

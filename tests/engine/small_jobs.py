"""A small invented room that plans in a blink, and ways to change one thing in it."""

import json
from copy import deepcopy
from typing import Any

from engine.entry import handle

SMALL: dict[str, Any] = {
    "format": "out-of-true job",
    "version": 1,
    "name": "Box room",
    "room": {
        "corners": {"A": [0, 0], "B": [1800, 0], "C": [1812, 1420], "D": [-6, 1400]},
        "walls": [
            {"from": "A", "to": "B", "offsets": [[450, 5], [900, 8.5], [1350, 6]]},
            {"from": "B", "to": "C", "face": "threshold", "gap": 3, "tolerance": 1},
            {"from": "C", "to": "D", "gap": 10, "curve": "arc", "offsets": [[900, -6]]},
            {"from": "D", "to": "A", "gap": 10, "curve": "straight", "offsets": [[700, 4]]},
        ],
        "fixed": [
            {"name": "pipe", "centre": [282, 168], "diameter": 22, "gap": 8},
            {"name": "plinth", "outline": [[700, 600], [1100, 610], [1095, 900], [702, 890]], "gap": 10},
        ],
    },
    "floor": {"board": {"length": 600, "width": 90}, "axis": 90, "anchor": [910, 640]},
    "cutting": {"kerf": 2.4, "gap_tolerance": 2, "sliver": 20, "saw_step": 0.5},
}


def small_job(**changes: Any) -> dict[str, Any]:
    """The job with values put in; a key names its place with two underscores: ``room__walls__0__gap``."""
    job = deepcopy(SMALL)
    for place, value in changes.items():
        *way, last = (int(step) if step.isdigit() else step for step in place.split("__"))
        target: Any = job
        for step in way:
            target = target[step]
        target[last] = value
    return job


def ask(what: str, **rest: Any) -> dict[str, Any]:
    """The reply to a request, through the engine's door."""
    reply: dict[str, Any] = json.loads(handle(json.dumps({"ask": what, **rest})))
    return reply

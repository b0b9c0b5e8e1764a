"""Why this file exists: the demo job half laid, to see the screens for laying with something in them."""

import json
from pathlib import Path
from typing import Any

DEMO = Path(__file__).parents[2] / "site_src" / "app" / "demo_job.json"
# Invented: the floor lies some four millimetres on towards C–D, and one small piece is about to be lost.
SLIVER = 41
# Board, end, side, what it was read to, what was read.
READ = (
    ("3-6L", "start", "left", "A–B", "20.2"),
    ("3-6L", "start", "left", "F–A", "842.4"),
    ("3-6L", "start", "left", "row axis", "1758.2"),
    ("3-25L", "start", "left", "square to it", "448.8"),
    ("3-25L", "start", "left", "F–A", "845.5"),
    ("3-25L", "start", "left", "E–F", "1170.4"),
    ("5-24L", "start", "left", "row axis", "62.4"),
    ("5-24L", "start", "left", "square to it", "322.8"),
    ("5-24L", "start", "left", "C–D", "1766.7"),
    ("7-9R", "start", "left", "A–B", "530.9"),
    ("7-9R", "start", "left", "B–C", "967.9"),
    ("7-9R", "start", "left", "square to it", "1460.8"),
    ("8-32L", "start", "left", "B–C", "141.7"),
    ("8-32L", "start", "left", "C–D", "757.5"),
    ("8-32L", "start", "left", "square to it", "1342.8"),
)
CUT = ("3-2R", "3-3L", "3-31L", "4-2R", "4-15R", "5-3L")
# Where the marks of the long cut lie, and how far each is from the edge.
MARKS = (([5147.92, 94.54], 54), ([5146.17, 3661.23], 80), ([5147.0, 1900.0], 66))


def half_laid() -> dict[str, Any]:
    """The demo job with distances read on its floor, pieces cut, and a long cut with three marks."""
    job: dict[str, Any] = json.loads(DEMO.read_text(encoding="utf-8"))
    job["cutting"]["sliver"] = SLIVER
    job["laid"] = {
        "readings": [
            {"id": f"d{number}", "typed": typed, "piece": piece, "end": end, "side": side, "to": to}
            for number, (piece, end, side, to, typed) in enumerate(READ)
        ]
    }
    job["progress"] = {piece: {"cut": True} for piece in CUT}
    marks = [{"at": at, "distance": distance} for at, distance in MARKS]
    job["long_cuts"] = [{"from": "B", "to": "C", "guide": 95, "marks": marks}]
    return job

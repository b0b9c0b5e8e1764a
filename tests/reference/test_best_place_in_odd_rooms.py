"""The best place in rooms of which straight edges tell only half: alcoves, returns, pipes in walls.

What the best place is worth there was found by another search, which clips every board at each place of a
grid of 32 × 32 with shapely and then goes on from the best of them in halving steps.
"""

import json
from pathlib import Path

import msgspec
import pytest

from engine.model.job import Job
from engine.planning.best_place import best_place
from engine.planning.floor_plan import plan_room
from tests.reference.independent_places import Places
from tests.reference.test_best_place_against_dense_search import CLOSE, SAME

ROOMS = sorted((Path(__file__).parent / "places").glob("*.json"))


@pytest.mark.parametrize("room", ROOMS, ids=lambda path: path.stem)
def test_no_place_that_another_search_found_is_better(room: Path) -> None:
    known = json.loads(room.read_text(encoding="utf-8"))
    job = msgspec.convert(known["job"], Job)
    best = best_place(job)
    places = Places(known["job"], plan_room(job).lay_area, best.axis)
    mm = job.floor.board.width if best.ranked_by == "area" else 1.0
    assert best.ranked_by == job.wishes.measure
    assert places.value_at(best.anchor) == pytest.approx(best.rated.value, abs=SAME * mm)
    assert best.rated.value >= known["worth"] - CLOSE * mm
    assert best.bound >= known["worth"] - SAME * mm

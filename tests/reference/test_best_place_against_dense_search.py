"""The best place against trying places one by one, every board of them clipped by shapely."""

from typing import Any

import msgspec
import pytest

from engine.model.job import Job
from engine.planning.best_place import best_place
from engine.planning.floor_plan import plan_room
from tests.reference.crooked_floors import crooked_floor
from tests.reference.independent_places import Places

# A board that ends short of a wall is kept 0.02 mm off it, and a search stops 0.1 mm below what no place
# can beat; both in mm of length, or of a triangle's height for areas.
CLOSE = 0.15
# Read from two clippings of the same board, mm.
SAME = 0.01


def held_against_grid(job: dict[str, Any], steps: int) -> None:
    """The best place is worth what is said, no place of a grid is better, none beats the bound."""
    read = msgspec.convert(job, Job)
    best, places = best_place(read), Places(job, plan_room(read).lay_area)
    places.measure = best.ranked_by
    mm = job["floor"]["board"]["width"] if places.measure == "area" else 1.0
    assert places.value_at(best.anchor) == pytest.approx(best.rated.value, abs=SAME * mm)
    grid = (places.value((i + 0.5) / steps, (j + 0.5) / steps) for i in range(steps) for j in range(steps))
    densest = max(grid)
    assert best.rated.value >= densest - CLOSE * mm
    assert best.bound >= max(densest, best.rated.value) - SAME * mm


@pytest.mark.parametrize("seed", [11, 16, 21, 25])
def test_no_place_of_a_coarse_grid_is_better(seed: int) -> None:
    """A few rooms, several patterns, all measures: never worse than 5 × 5 places."""
    held_against_grid(crooked_floor(seed), 5)


@pytest.mark.long
@pytest.mark.parametrize("seed", range(40))
def test_no_place_of_a_dense_grid_is_better(seed: int) -> None:
    """Many rooms: never worse than 60 × 60 places."""
    held_against_grid(crooked_floor(seed), 60)

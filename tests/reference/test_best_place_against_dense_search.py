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
    if best.ranked_by != job["setting_out"]["measure"]:
        places.measure = job["setting_out"]["measure"]
        assert not any(
            places.value((i + 0.5) / steps, (j + 0.5) / steps) > CLOSE
            for i in range(steps)
            for j in range(steps)
        )


def bay_room() -> dict[str, Any]:
    """Twelve corners; one board at the wall that matters reaches round one of them into a bay."""
    corners = [
        (4.3, 0.9), (2494.8, 1.6), (2488.7, 567.1), (2663.2, 613.0), (2662.9, 822.3), (2496.7, 852.2),
        (2492.3, 2588.9), (-4.4, 2596.0), (-13.0, 1999.8), (-118.9, 1990.7), (-124.3, 1582.6), (3.2, 1587.2),
    ]  # fmt: skip
    gaps = (15, 12, 1.5, 12, 10, 5, 3, 3, 10, 5, 15, 12)
    names = "ABCDEFGHIJKL"
    walls: list[dict[str, Any]] = [
        {"from": a, "to": b, "gap": gap} for a, b, gap in zip(names, names[1:] + "A", gaps, strict=True)
    ]
    walls[1]["offsets"] = [[246, -3.5]]
    walls[6]["offsets"] = [[902, -6.2], [1669, -3.0]]
    walls[7]["offsets"] = [[259, 1.0]]
    walls[11]["offsets"] = [[721, 1.0]]
    return {
        "format": "out-of-true job",
        "version": 1,
        "name": "Bay room",
        "room": {"corners": dict(zip(names, corners, strict=True)), "walls": walls},
        "floor": {
            "pattern": "diagonal",
            "board": {"length": 959.9, "width": 90.5},
            "stagger": {"by": 240.0},
            "axis": 45,
            "anchor": [1194.8, 1251.9],
        },
        "setting_out": {"edges": [{"from": "G", "to": "H", "weight": 0.5}], "measure": "short_side"},
    }


def test_a_board_that_reaches_round_a_corner_hides_no_place_that_leaves_a_short_side() -> None:
    """In a strip 2 mm wide every piece along the wall has one; no place of a 12 × 12 grid is better."""
    job = bay_room()
    best = best_place(msgspec.convert(job, Job))
    assert best.ranked_by == "short_side"
    held_against_grid(job, 12)


def test_a_climb_beyond_a_whole_cell_forgets_no_board() -> None:
    """Where the axis may turn, a climb that went on past the boards known of found 331 mm; there were 14."""
    job = crooked_floor(1)
    job["setting_out"]["axis_within"] = 0.6
    read = msgspec.convert(job, Job)
    best = best_place(read)
    places = Places(job, plan_room(read).lay_area, best.axis)
    places.measure = best.ranked_by
    assert places.value_at(best.anchor) == pytest.approx(best.rated.value, abs=SAME)


@pytest.mark.parametrize("seed", [11, 16, 21, 25])
def test_no_place_of_a_coarse_grid_is_better(seed: int) -> None:
    """A few rooms, several patterns, all measures: never worse than 5 × 5 places."""
    held_against_grid(crooked_floor(seed), 5)


@pytest.mark.long
@pytest.mark.parametrize("seed", range(40))
def test_no_place_of_a_dense_grid_is_better(seed: int) -> None:
    """Many rooms: never worse than 60 × 60 places."""
    held_against_grid(crooked_floor(seed), 60)

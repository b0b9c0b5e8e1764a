"""Where a formula gives the best place, the search finds it: rectangular rooms, one wall and two."""

from math import sqrt
from typing import Any

import msgspec
import pytest

from engine.model.job import Job
from engine.patterns import find_pattern
from engine.patterns.lattice import cell_boards
from engine.planning.best_place import best_place, phase_cell
from engine.planning.floor_edges import floor_edges
from engine.planning.floor_plan import plan_room
from engine.setting_out.one_wall import wall_taper

GAP = 10
# Farther from a corner than a board reaches, mm.
CORNER = 700
# A board that ends short of a wall is kept 0.02 mm off it, which costs √2 times that of a leg; and the
# search may stop 0.1 mm below what no place can beat.
CLOSE = 0.15


def rectangle(width: float, depth: float, *edges: str, axis: float = 90, board: Any = (600, 90)) -> Job:
    """A room with straight walls, A–B below; E–F and G–H, right and left, keep off its corners."""
    near, far = CORNER, depth - CORNER
    corners = {
        "A": [0, 0],
        "B": [width, 0],
        "E": [width, near],
        "F": [width, far],
        "C": [width, depth],
        "D": [0, depth],
        "G": [0, far],
        "H": [0, near],
    }
    return msgspec.convert(
        {
            "format": "out-of-true job",
            "version": 1,
            "name": "Rectangle",
            "room": {
                "corners": corners,
                "walls": [{"from": a, "to": b, "gap": GAP} for a, b in zip(corners, "BEFCDGHA", strict=True)],
            },
            "floor": {
                "board": {"length": board[0], "width": board[1]},
                "axis": axis,
                "anchor": [width / 2, depth / 2],
            },
            "setting_out": {
                "edges": [{"from": edge[0], "to": edge[1]} for edge in edges],
                "measure": "long_point",
            },
        },
        Job,
    )


@pytest.mark.parametrize("across", [3211.0, 3283.5])
@pytest.mark.parametrize(("length", "width"), [(600.0, 90.0), (490.0, 70.0)])
def test_two_walls_across_the_axis_leave_what_the_formula_says(
    across: float, length: float, width: float
) -> None:
    """METHODS: (p + ρ)/2 with ρ = (√2·D + L + W) mod p and p = W, for two walls D apart across the axis."""
    job = rectangle(2400.0, across, "AB", "CD", board=(length, width))
    rest = (sqrt(2) * (across - 2 * GAP) + length + width) % width
    best = best_place(job)
    assert best.rated.value == pytest.approx((width + rest) / 2, abs=CLOSE)
    assert best.rated.value <= best.bound + 1e-6


@pytest.mark.parametrize("along", [2400.0, 2531.0])
def test_two_walls_along_the_axis_leave_what_the_formula_says(along: float) -> None:
    """The same with p = L for two walls along the row axis."""
    job = rectangle(along, 3000.0, "EF", "GH")
    rest = (sqrt(2) * (along - 2 * GAP) + 600 + 90) % 600
    best = best_place(job)
    assert best.rated.value == pytest.approx((600 + rest) / 2, abs=CLOSE)


@pytest.mark.parametrize("edge", ["AB", "EF"])
def test_one_straight_wall_is_best_at_the_largest_gap(edge: str) -> None:
    """Search and closed form agree: √2 times the largest gap between the depths is the long point."""
    job = rectangle(2400.0, 3000.0, edge)
    assert job.setting_out is not None
    cell = phase_cell(job.floor)
    edges = floor_edges(plan_room(job), job.floor.board.length)
    line = edges.named(job.setting_out)[0].lines[0]
    boards = cell_boards(find_pattern(job.floor.pattern), job.floor, 0)
    taper = wall_taper(line, [board.ring for board in boards], cell)
    assert taper is not None
    assert taper.taper == pytest.approx(0, abs=1e-6)
    assert best_place(job).rated.value == pytest.approx(sqrt(2) * taper.free, abs=CLOSE)

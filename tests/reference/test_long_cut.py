"""The long straight cut against others: a linear programme, numpy's least squares, shapely's areas.

The line: HiGHS through scipy.optimize.linprog, minimise t with |a·u + b − vᵢ − gap| ≤ t and a·u + b ≥ vᵢ,
in the frame of the line found, where distance across is distance square to it. The marks:
numpy.linalg.lstsq, and the studentised residuals from the hat matrix. The seam: the area of shapely's
polygon between edge and cut.
"""

from math import sin
from random import Random

import numpy as np
import pytest
import shapely
from scipy.optimize import linprog

from engine.cutting.long_cut import LongCutLine, long_cut_line
from engine.cutting.long_marks import fit_edge
from engine.geometry.shapes import Point

SEEDS = range(40)
# What is wanted between edge and cut, mm: less than half of what some of these edges wave.
GAP = 3.0


def edge_of(seed: int) -> list[Point]:
    """A bowed and wavy edge of an invented threshold, at any slant that one would still call an edge."""
    rng = Random(seed)
    length, bow, wave = rng.uniform(700, 5000), rng.uniform(-6, 6), rng.choice([0.0, 0.3, 1.2])
    slant, count = rng.uniform(-0.05, 0.05), rng.choice([2, 5, 60])
    stations = [length * i / (count - 1) for i in range(count)]
    return [
        (u, slant * u + 4 * bow * u / length * (1 - u / length) + wave * sin(u / 90) + rng.uniform(-0.2, 0.2))
        for u in stations
    ]


def linear_programme(line: LongCutLine) -> float:
    """The least greatest departure from a gap that a straight line can have which cuts into no edge.

    In the frame of the line found.
    """
    along, square = np.array(line.direction), np.array([-line.direction[1], line.direction[0]])
    edge = np.array(line.edge) - np.array(line.ends[0])
    u, v, ones = edge @ along, edge @ square, np.ones(len(edge))
    above, below = np.column_stack([u, ones, -ones]), np.column_stack([-u, -ones, -ones])
    clear = np.column_stack([-u, -ones, 0 * ones])
    found = linprog(
        [0, 0, 1],
        A_ub=np.vstack([above, below, clear]),
        b_ub=np.concatenate([v + GAP, -v - GAP, -v]),
        bounds=[(None, None), (None, None), (0, None)],
        method="highs",
    )
    a, b, _ = found.x
    # From the solution itself, not from what the solver says of it.
    return float(np.abs(a * u + b - v - GAP).max())


@pytest.mark.parametrize("seed", SEEDS)
def test_no_straight_line_leaves_a_better_worst_gap(seed: int) -> None:
    """The greatest departure from the wanted gap is that of the linear programme, above and below alike."""
    line = long_cut_line(edge_of(seed), GAP)
    least = linear_programme(line)
    assert max(line.gaps) == pytest.approx(GAP + least, abs=1e-6)
    assert min(line.gaps) == pytest.approx(max(0.0, GAP - least), abs=1e-6)


@pytest.mark.parametrize("seed", SEEDS)
def test_gaps_and_seam_are_those_of_shapely(seed: int) -> None:
    """Each gap is the distance to the cut, the filler the polygon between edge and cut times its depth."""
    line = long_cut_line(
        edge_of(seed), 12
    )  # wide enough never to be cut into: a polygon has no negative area
    (ax, ay), (bx, by) = line.ends
    dx, dy = bx - ax, by - ay
    cut = shapely.LineString([(ax - dx, ay - dy), (bx + dx, by + dy)])
    for gap, point in zip(line.gaps, line.edge, strict=True):
        assert gap == pytest.approx(cut.distance(shapely.Point(point)), abs=1e-6)
    seam = shapely.Polygon([*line.edge, *reversed(line.ends)])
    assert seam.is_valid
    assert line.seam_area * 14 / 1000 == pytest.approx(seam.area * 14 / 1000, abs=1e-6)


@pytest.mark.parametrize("seed", SEEDS)
def test_marks_are_fitted_as_by_numpy(seed: int) -> None:
    """Shift, turn, residuals and what each mark is off from the others are those of numpy's least squares."""
    rng = Random(seed)
    stations = sorted(rng.uniform(0, 4000) for _ in range(rng.randint(3, 8)))
    moves = [rng.uniform(-4, 4) for _ in stations]
    fit = fit_edge(stations, moves, 0.7)
    assert fit is not None
    design = np.column_stack([np.ones(len(stations)), stations])
    (first, turn), *_ = np.linalg.lstsq(design, np.array(moves), rcond=None)
    residuals = design @ [first, turn] - moves
    assert fit.moved(0) == pytest.approx(first, abs=1e-9)
    assert fit.turn == pytest.approx(turn, abs=1e-12)
    assert [mark.residual for mark in fit.marks] == pytest.approx(list(residuals), abs=1e-9)
    for place, mark in enumerate(fit.marks):
        kept = np.arange(len(stations)) != place
        others, *_ = np.linalg.lstsq(design[kept], np.array(moves)[kept], rcond=None)
        assert mark.off == pytest.approx(moves[place] - design[place] @ others, abs=1e-6)


def test_a_true_line_with_honest_marks_is_hardly_ever_doubted_and_lies_within_its_spread() -> None:
    """A shift and a turn planted, marks off by the stated deviation: 95 % of 600 ends lie within ± 2 sd."""
    inside = doubted = 0
    for seed in range(600):
        rng = Random(seed)
        shift, turn, sd = rng.uniform(-5, 5), rng.uniform(-0.003, 0.003), 0.7
        stations = [0, 1100, 1900, 3000, 4000]
        moves = [shift + turn * u + rng.gauss(0, sd) for u in stations]
        fit = fit_edge(stations, moves, sd)
        assert fit is not None
        inside += abs(fit.moved(4000) - shift - turn * 4000) <= 2 * fit.sd_at(4000)
        doubted += any(mark.is_doubted for mark in fit.marks)
    assert 0.93 <= inside / 600 <= 0.98
    assert doubted <= 12

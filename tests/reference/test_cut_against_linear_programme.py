"""The straight cut inside a gap band against a linear programme (HiGHS, through scipy.optimize.linprog).

minimise t subject to |a·u + b − vᵢ| ≤ t along the nominal curve, every point to be
kept above the line and every point to fall below it. That is the same question,
put as METHODS puts it, to another's solver.
"""

from math import cos, hypot, radians, sin
from random import Random

import numpy as np
import pytest
from scipy.optimize import linprog

from engine.cutting.corridor import STRAIGHT, Corridor, Strip
from engine.cutting.straight_cut import best_cut
from engine.geometry.shapes import Point

# How near a strip may be to having no cut at all before either answer is right, mm.
UNDECIDED = 1e-5


def strip_of(seed: int) -> Strip:
    """A bowed, wavy or kinked curve with a band about it, and a few more points to respect."""
    rng = Random(seed)
    length, band = rng.uniform(20, 700), rng.choice([0.3, 1.0, 1.98, 3.0])
    bow, wave = rng.choice([0, 1, 3, 8]) * rng.uniform(-1, 1), rng.choice([0.0, 0.4, 1.5])
    kink, kinked = rng.uniform(0.2, 0.8) * length, rng.choice([0.0, 0.0, 0.05])
    stations = [length * i / 30 for i in range(31)]
    rises = [
        4 * bow * s / length * (1 - s / length) + wave * sin(s / 40) + kinked * max(0.0, s - kink)
        for s in stations
    ]
    curve = list(zip(stations, rises, strict=True))
    keep, fall = [(s, r + band) for s, r in curve], [(s, r - band) for s, r in curve]
    if rng.random() < 0.5:
        keep += [(rng.uniform(0, length), bow + rng.uniform(band, 40)) for _ in range(3)]
    if rng.random() < 0.3:
        fall += [
            (0.0, rises[0] - rng.uniform(-0.5, 1) * band),
            (length, rises[-1] - band * rng.uniform(0, 1)),
        ]
    turn, at = radians(rng.uniform(-180, 180)), (rng.uniform(0, 500), rng.uniform(0, 90))

    def placed(points: list[Point]) -> tuple[Point, ...]:
        c, s = cos(turn), sin(turn)
        return tuple((at[0] + c * x - s * y, at[1] + s * x + c * y) for x, y in points)

    return Strip(nominal=placed(curve), keep=placed(keep), fall=placed(fall))


def chord_frame(strip: Strip) -> tuple[np.ndarray, np.ndarray, np.ndarray]:
    """The strip's three point sets with the chord of the nominal curve as the first axis."""
    start, end = np.array(strip.nominal[0]), np.array(strip.nominal[-1])
    along = (end - start) / hypot(*(end - start))
    axes = np.column_stack([along, [-along[1], along[0]]])
    nominal, keep, fall = (
        (np.array(points) - start) @ axes for points in (strip.nominal, strip.keep, strip.fall)
    )
    return nominal, keep, fall


def programme(strip: Strip, slack: float = 0.0) -> tuple[float, float, float] | None:
    """Least t, its slope a and rest b; None when no line holds the band widened by ``slack``."""
    nominal, keep, fall = chord_frame(strip)
    rows = [[u, 1, -1] for u, _ in nominal] + [[-u, -1, -1] for u, _ in nominal]
    limits = [v for _, v in nominal] + [-v for _, v in nominal]
    rows += [[u, 1, 0] for u, _ in keep] + [[-u, -1, 0] for u, _ in fall]
    limits += [v + slack for _, v in keep] + [slack - v for _, v in fall]
    free = (None, None)
    found = linprog([0, 0, 1], A_ub=rows, b_ub=limits, bounds=[free, free, (0, None)], method="highs")
    # HiGHS tells "infeasible" (2) and "infeasible or unbounded" (4) apart; with t ≥ 0 nothing is unbounded.
    if found.status in (2, 4):
        return None
    a, b, _ = found.x
    # Computed from the solution: a solver's own objective has been wrong before (METHODS, trap 2).
    return max(abs(a * u + b - v) for u, v in nominal), a, b


SEEDS = range(240)


def test_the_seeds_hold_strips_of_either_sort() -> None:
    """Else the comparison below would show nothing."""
    none = sum(programme(strip_of(seed)) is None for seed in SEEDS)
    assert 40 < none < len(SEEDS) - 80


@pytest.mark.parametrize("block", range(8))
def test_the_best_cut_is_that_of_the_linear_programme(block: int) -> None:
    """A cut is found just where one exists, holds the band, and lies as near to the curve as any."""
    for seed in SEEDS[block::8]:
        strip, answer = strip_of(seed), programme(strip_of(seed))
        line = best_cut(strip, saw_step=0)
        if line is None:
            assert programme(strip, -UNDECIDED) is None, seed
            continue
        assert programme(strip, UNDECIDED) is not None, seed
        assert min(line.side(point) for point in strip.keep) > -1e-6, seed
        assert max(line.side(point) for point in strip.fall) < 1e-6, seed
        assert line.departure == pytest.approx(max(abs(line.side(p)) for p in strip.nominal), abs=1e-6), seed
        if answer is not None:
            least, slope, _ = answer
            # A curve all but straight is cut along its chord.
            assert line.departure <= least * cos(np.arctan(slope)) + STRAIGHT + 1e-4, seed


def test_a_saw_setting_is_kept_to_whenever_one_holds_the_band() -> None:
    """Among all multiples of half a degree, tried one by one, none that holds is passed over."""
    for seed in SEEDS[::6]:
        strip = strip_of(seed)
        line, free = best_cut(strip, saw_step=0.5), best_cut(strip, saw_step=0)
        assert (line is None) == (free is None), seed
        if line is None or free is None or abs(free.angle) > 70:
            continue
        assert line.is_set == bool(settings_that_hold(strip)), seed
        if line.is_set:
            assert line.angle / 0.5 == pytest.approx(round(line.angle / 0.5), abs=1e-6), seed
            assert min(line.side(point) for point in strip.keep) > -1e-6, seed
            assert max(line.side(point) for point in strip.fall) < 1e-6, seed
            assert line.departure >= free.departure - STRAIGHT
        else:
            assert line.angle == pytest.approx(free.angle), seed


def settings_that_hold(strip: Strip) -> list[float]:
    """The multiples of half a degree at which a line of that direction has every point on its side."""
    (_, ay), (_, by) = strip.nominal[0], strip.nominal[-1]
    found = []
    for half in range(-178, 179):
        # The far end falls when the cut runs towards the left long edge, else the start end.
        up = 1.0 if by > ay else -1.0
        direction = np.array([-sin(radians(half / 2)), up * cos(radians(half / 2))])
        normal = np.array([-direction[1], direction[0]])
        if min(np.array(strip.keep) @ normal) >= max(np.array(strip.fall) @ normal):
            found.append(half / 2)
    return found


@pytest.mark.parametrize("block", range(4))
def test_the_range_of_angles_is_that_of_the_linear_programme(block: int) -> None:
    """On 400 corridors: least and greatest slope that hold the band, and none where there is none."""
    for seed in range(400)[block::4]:
        strip = strip_of(seed)
        least, most = Corridor.of(strip).slopes()
        ends = slopes_by_programme(strip)
        if ends is None or least > most:
            # Either may be right within a hair of having no cut at all.
            assert ends is None or ends[1] - ends[0] < UNDECIDED, seed
            assert least > most - UNDECIDED, seed
            continue
        # HiGHS holds its bounds to 1e-7; over the least length of a strip that is this much of a slope.
        assert (least, most) == pytest.approx(ends, abs=1e-7), seed


def slopes_by_programme(strip: Strip) -> tuple[float, float] | None:
    """Least and greatest a for which some b holds the band; None when none does."""
    _, keep, fall = chord_frame(strip)
    rows = [[u, 1] for u, _ in keep] + [[-u, -1] for u, _ in fall]
    limits = [v for _, v in keep] + [-v for _, v in fall]
    free = (None, None)
    ends = [
        linprog(aim, A_ub=rows, b_ub=limits, bounds=[free, free], method="highs") for aim in ([1, 0], [-1, 0])
    ]
    if any(end.status in (2, 4) for end in ends):
        return None
    return ends[0].x[0], ends[1].x[0]

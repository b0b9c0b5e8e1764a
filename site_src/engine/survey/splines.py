"""Slopes of cubic splines, because a wall is read at stations and has to be known between them.

A cubic through points is fixed by its slope at each point. Two ways to choose
them: not-a-knot, the smoothest honest guess, and shape-keeping, which never
swings past the readings and so shows where the first one might.
"""

from collections.abc import Sequence
from itertools import pairwise

Numbers = Sequence[float]


def not_a_knot_slopes(xs: Numbers, ys: Numbers) -> tuple[float, ...]:
    """Slopes of the cubic spline whose third derivative does not jump at the second and last-but-one point.

    ``xs`` rise strictly, at least two. Two points give the straight line,
    three the parabola, four the one cubic (de Boor, A Practical Guide to
    Splines, chapter IV).
    """
    steps, chords = _steps(xs), _chords(xs, ys)
    if len(xs) == 2:
        return (chords[0], chords[0])
    if len(xs) == 3:
        return _parabola_slopes(steps, chords)
    return _solve_three_diagonals(*_not_a_knot_system(steps, chords))


def shape_keeping_slopes(xs: Numbers, ys: Numbers) -> tuple[float, ...]:
    """Slopes of the piecewise cubic that rises and falls only where the readings do.

    Fritsch and Butland 1984, SIAM J. Sci. Stat. Comput. 5: inside, the weighted
    harmonic mean of the neighbouring chords; at the ends the three-point
    formula, kept from overshooting.
    """
    steps, chords = _steps(xs), _chords(xs, ys)
    if len(xs) == 2:
        return (chords[0], chords[0])
    inner = (_harmonic(steps[i], steps[i + 1], chords[i], chords[i + 1]) for i in range(len(chords) - 1))
    first = _kept_end(steps[0], steps[1], chords[0], chords[1])
    last = _kept_end(steps[-1], steps[-2], chords[-1], chords[-2])
    return (first, *inner, last)


def _steps(xs: Numbers) -> list[float]:
    return [b - a for a, b in pairwise(xs)]


def _chords(xs: Numbers, ys: Numbers) -> list[float]:
    return [(ys[i + 1] - ys[i]) / (xs[i + 1] - xs[i]) for i in range(len(xs) - 1)]


def _parabola_slopes(steps: Numbers, chords: Numbers) -> tuple[float, ...]:
    bend = (chords[1] - chords[0]) / (steps[0] + steps[1])
    return (
        chords[0] - bend * steps[0],
        chords[0] + bend * steps[0],
        chords[1] + bend * steps[1],
    )


def _not_a_knot_system(
    steps: Numbers, chords: Numbers
) -> tuple[list[float], list[float], list[float], list[float]]:
    """Lower, middle and upper diagonal and right side of the equations for the slopes."""
    inside = range(1, len(steps))
    first, last = steps[0] + steps[1], steps[-1] + steps[-2]
    lower = [0.0, *(steps[i] for i in inside), last]
    middle = [steps[1], *(2 * (steps[i - 1] + steps[i]) for i in inside), steps[-2]]
    upper = [first, *(steps[i - 1] for i in inside), 0.0]
    right = [
        _end_side(steps[0], steps[1], chords[0], chords[1]),
        *(3 * (steps[i] * chords[i - 1] + steps[i - 1] * chords[i]) for i in inside),
        _end_side(steps[-1], steps[-2], chords[-1], chords[-2]),
    ]
    return lower, middle, upper, right


def _end_side(outer: float, inner: float, outer_chord: float, inner_chord: float) -> float:
    both = outer + inner
    return ((outer + 2 * both) * inner * outer_chord + outer * outer * inner_chord) / both


def _solve_three_diagonals(
    lower: Numbers, middle: Numbers, upper: Numbers, right: Numbers
) -> tuple[float, ...]:
    """Thomas' elimination; no exchange of rows, since every pivot stays above the step to its right."""
    pivots, values = [middle[0]], [right[0]]
    for i in range(1, len(middle)):
        factor = lower[i] / pivots[-1]
        pivots.append(middle[i] - factor * upper[i - 1])
        values.append(right[i] - factor * values[-1])
    solved = [values[-1] / pivots[-1]]
    for i in range(len(middle) - 2, -1, -1):
        solved.append((values[i] - upper[i] * solved[-1]) / pivots[i])
    return tuple(reversed(solved))


def _harmonic(before: float, after: float, chord_before: float, chord_after: float) -> float:
    if chord_before * chord_after <= 0:
        return 0.0
    w1, w2 = 2 * after + before, after + 2 * before
    return (w1 + w2) / (w1 / chord_before + w2 / chord_after)


def _kept_end(outer: float, inner: float, outer_chord: float, inner_chord: float) -> float:
    slope = ((2 * outer + inner) * outer_chord - outer * inner_chord) / (outer + inner)
    if slope * outer_chord <= 0:
        return 0.0
    if outer_chord * inner_chord <= 0 and abs(slope) > 3 * abs(outer_chord):
        return 3 * outer_chord
    return slope

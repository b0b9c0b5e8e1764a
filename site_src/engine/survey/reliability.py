"""What the lengths of a room can find out about each other, and which tie would tell more.

A blunder shows only as far as other lengths contradict it (Baarda). One
redundant length detects a blunder and can never place it; then all that share
the blame are named.
"""

from collections.abc import Sequence
from itertools import combinations
from math import dist, inf, isinf, sqrt

from msgspec import Struct

from engine.geometry.linear import Matrix
from engine.geometry.shapes import Point
from engine.survey.crossing import crosses, inside
from engine.survey.network import (
    DETECTABLE,
    OUTLIER,
    UNCHECKED,
    Adjusted,
    Adjustment,
    Length,
    design_row,
    quadratic,
)

# Lengths whose test figures move together more than this can not be told apart.
TOLD_APART = 0.9


class TieGain(Struct, frozen=True, kw_only=True):
    """One more tie: the smallest blunder found everywhere goes from ``before`` to ``after`` mm.

    ``before`` is infinite while some length is checked by nothing, and
    ``unchecked`` says how many such lengths are left afterwards.
    """

    from_: str
    to: str
    before: float
    after: float
    unchecked: int

    @property
    def name(self) -> str:
        """Both corners, as a person reads them."""
        return f"{self.from_}–{self.to}"


def suspects(adjustment: Adjustment) -> tuple[Adjusted, ...]:
    """The length most likely wrong, with all that can not be told from it; empty when none stands out."""
    worst = max(adjustment.lengths, key=lambda line: abs(line.w), default=None)
    if worst is None or abs(worst.w) <= OUTLIER:
        return ()
    rows = {line.length: _row(adjustment, line.length) for line in adjustment.lengths}
    return tuple(
        line
        for line in adjustment.lengths
        if line is worst or _correlation(adjustment, rows, worst, line) > TOLD_APART
    )


def _row(adjustment: Adjustment, length: Length) -> list[float]:
    return design_row(length, adjustment.places, adjustment.unknowns)


def _correlation(
    adjustment: Adjustment, rows: dict[Length, list[float]], one: Adjusted, other: Adjusted
) -> float:
    """How far the test figures of two lengths move together, 0 to 1."""
    if min(one.redundancy, other.redundancy) < UNCHECKED:
        return 0.0
    shared = _bilinear(rows[one.length], adjustment.cofactors, rows[other.length])
    spreads = one.length.sd * sqrt(one.redundancy) * other.length.sd * sqrt(other.redundancy)
    return abs(shared) / spreads


def _bilinear(one: Sequence[float], cofactors: Matrix, other: Sequence[float]) -> float:
    return sum(a * b * cofactors[i][j] for i, a in enumerate(one) if a for j, b in enumerate(other) if b)


def smallest_blunder(adjustment: Adjustment) -> float:
    """The blunder in mm that would show in whichever length it is made; else infinite."""
    return max((line.smallest_blunder for line in adjustment.lengths), default=inf)


def best_tie(order: Sequence[str], adjustment: Adjustment, sd: float) -> TieGain | None:
    """The tie between corners in sight that finds the smallest blunder; None when all are measured.

    ``order`` is the room's corners in order, ``sd`` the standard deviation of the tie to come.
    """
    known = {frozenset((line.length.from_, line.length.to)) for line in adjustment.lengths}
    ring = [adjustment.places[name] for name in order]
    free = [
        (a, b)
        for a, b in combinations(order, 2)
        if frozenset((a, b)) not in known and in_sight(ring, adjustment.places[a], adjustment.places[b])
    ]
    gains = [_gain(adjustment, a, b, sd) for a, b in free]
    return min(gains, key=lambda gain: (gain.unchecked, gain.after), default=None)


def in_sight(ring: Sequence[Point], one: Point, other: Point) -> bool:
    """Whether a laser at one corner meets the other without a wall between (straight walls)."""
    sides = zip(ring, (*ring[1:], ring[0]), strict=True)
    if any(crosses((one, other), side) for side in sides):
        return False
    middle = ((one[0] + other[0]) / 2, (one[1] + other[1]) / 2)
    neighbours = abs(ring.index(one) - ring.index(other)) in (1, len(ring) - 1)
    return neighbours or inside(middle, ring)


def _gain(adjustment: Adjustment, a: str, b: str, sd: float) -> TieGain:
    tie = Length(from_=a, to=b, value=dist(adjustment.places[a], adjustment.places[b]), sd=sd)
    cofactors = _with_tie(adjustment.cofactors, _row(adjustment, tie), sd)
    found = []
    for length in (*(line.length for line in adjustment.lengths), tie):
        redundancy = 1 - quadratic(_row(adjustment, length), cofactors) / length.sd**2
        found.append(DETECTABLE * length.sd / sqrt(redundancy) if redundancy > UNCHECKED else inf)
    return TieGain(
        from_=a,
        to=b,
        before=smallest_blunder(adjustment),
        after=max((value for value in found if not isinf(value)), default=inf),
        unchecked=sum(map(isinf, found)),
    )


def _with_tie(cofactors: Matrix, row: Sequence[float], sd: float) -> Matrix:
    """Cofactors once the tie has been measured: Q − Qa(σ² + aᵀQa)⁻¹aᵀQ."""
    pulled = [sum(a * b for a, b in zip(line, row, strict=True)) for line in cofactors]
    spread = sd**2 + quadratic(row, cofactors)
    return [
        [value - pulled[i] * pulled[j] / spread for j, value in enumerate(line)]
        for i, line in enumerate(cofactors)
    ]

"""Where the laid pattern lies, from distances read between laid corners and lines that are known.

Weighted least squares for shift, turn and creep along and across the rows
(METHODS: as laid). What the readings do not tell yet is held near nothing by
what is usual, and its doubt stays in every bound; what they do tell is
computed from them alone. Where they show that the creep changed on the way,
the change is fitted too, so that what is still to come follows the later part.
"""

from collections.abc import Sequence
from math import sqrt

from msgspec import Struct

from engine.geometry.drift import Drift
from engine.geometry.linear import Matrix
from engine.geometry.shapes import Point
from engine.setting_out.confidence import NORMAL, most_chi_square, student
from engine.setting_out.creep_change import changed_creep
from engine.setting_out.laid_equations import USUAL, Adjusted, LaidDistance, adjusted

NAMES = ("ahead", "left", "turn", "creep along", "creep across")

# An unknown is known once readings bring its standard deviation below this share of the usual.
KNOWN = 0.5

# A reading is doubted when it misses the others by more standard deviations than this (α = 0.001, Baarda).
DOUBTED = 3.2905
# A reading with less redundancy than this is held by no other, so nothing can be said against it.
HELD = 0.01


class LaidFit(Struct, frozen=True, kw_only=True):
    """The pattern as it lies. ``covariance`` is that of ``Drift.values``.

    ``known`` are the names of what the readings tell. ``residuals``: reading
    id → read less fitted, mm; ``doubted`` the ids of readings that do not go
    with the others. ``spread`` is by how much they scatter more than their
    standard deviations say (1: no more); ``factor`` makes a standard deviation a
    95 % bound, the spread in it. ``reading_sd`` is that of one reading, mm.
    """

    drift: Drift
    covariance: Matrix
    known: tuple[str, ...]
    residuals: dict[str, float]
    doubted: tuple[str, ...]
    freedom: int
    spread: float
    factor: float
    reading_sd: float

    def bound(self, index: int) -> float:
        """95 % bound of one of ``Drift.values``, in its unit."""
        return self.factor * sqrt(self.covariance[index][index])

    def bound_of(self, parts: Sequence[float]) -> float:
        """95 % bound of a sum of ``Drift.values``, each times its part."""
        return self.factor * sqrt(max(self._variance(parts), 0.0))

    def offset(self, point: Point, direction: Point) -> float:
        """How far the pattern lies off its plan at a planned point, in a direction of length 1, mm."""
        x, y = self.drift.moved(point)
        return (x - point[0]) * direction[0] + (y - point[1]) * direction[1]

    def offset_bound(self, point: Point, direction: Point) -> float:
        """95 % bound of ``offset``, mm."""
        return self.bound_of(self._slopes(point, direction))

    def reading_bound(self, point: Point, direction: Point) -> float:
        """95 % bound of what will be read there: the offset's, and one reading's own, mm."""
        variance = self._variance(self._slopes(point, direction)) + self.reading_sd**2
        return self.factor * sqrt(max(variance, 0.0))

    def _slopes(self, point: Point, direction: Point) -> list[float]:
        return [dx * direction[0] + dy * direction[1] for dx, dy in self.drift.slopes(point, point)]

    def _variance(self, parts: Sequence[float]) -> float:
        pairs = ((i, a, j, b) for i, a in enumerate(parts) for j, b in enumerate(parts))
        return sum(a * b * self.covariance[i][j] for i, a, j, b in pairs)


def fit_laid(distances: Sequence[LaidDistance], axis: float) -> LaidFit:
    """Fit a pattern with that row axis (degrees) to one distance or more."""
    start = Drift(about=_mean([reading.middle for reading in distances]), axis=axis)
    usual = [1 / usual**2 for usual in USUAL]
    held = adjusted(distances, start, usual)
    known = [held.sd(index) <= KNOWN * usual for index, usual in enumerate(USUAL)]
    names = tuple(name for name, k in zip(NAMES, known, strict=True) if k)
    # What is known by its readings needs no help from what is usual.
    weights = [0.0 if k else w for k, w in zip(known, usual, strict=True)]
    free = adjusted(distances, start, weights)
    doubted = _doubted(distances, free)
    sound = [reading for reading in distances if reading.id not in doubted]
    changed = changed_creep(distances, sound, free, weights)
    if changed is None:
        return _judged(distances, free, names, len(names), doubted)
    return _judged(distances, changed, names, len(names) + 1, _doubted(distances, changed))


def _judged(
    distances: Sequence[LaidDistance],
    found: Adjusted,
    known: tuple[str, ...],
    fitted: int,
    doubted: tuple[str, ...],
) -> LaidFit:
    """``fitted`` is how many unknowns the readings alone tell."""
    freedom = max(len(distances) - fitted, 0)
    scattered = freedom > 0 and found.squares > most_chi_square(freedom)
    spread = sqrt(found.squares / freedom) if scattered else 1.0
    return LaidFit(
        drift=found.drift,
        covariance=found.of_drift,
        known=known,
        residuals={r.id: miss for r, miss in zip(distances, found.misses, strict=True)},
        doubted=doubted,
        freedom=freedom,
        spread=spread,
        # Standard deviations that the readings contradict are taken from the readings: Student, not normal.
        factor=spread * student(freedom) if scattered else NORMAL,
        reading_sd=sqrt(sum(reading.sd**2 for reading in distances) / len(distances)),
    )


def _doubted(distances: Sequence[LaidDistance], found: Adjusted) -> tuple[str, ...]:
    """The reading that misses the others most, and those that cannot be told from it; often none."""
    size = range(len(found.covariance))
    misses: dict[str, float] = {}
    for reading, row, miss in zip(distances, found.rows, found.misses, strict=True):
        taken = sum(row[i] * row[j] * found.covariance[i][j] for i in size for j in size)
        redundancy = 1 - taken / reading.sd**2
        if redundancy > HELD:
            misses[reading.id] = abs(miss) / (reading.sd * sqrt(redundancy))
    worst = max(misses.values(), default=0.0)
    return tuple(name for name, miss in misses.items() if miss > max(DOUBTED, worst - 0.05))


def _mean(points: Sequence[Point]) -> Point:
    return sum(x for x, _ in points) / len(points), sum(y for _, y in points) / len(points)

"""Where the laid pattern lies, from distances read between laid corners and lines that are known.

Weighted least squares for shift, turn and creep along and across the rows
(METHODS: as laid). What the readings do not tell yet is held near nothing by
what is usual, and its doubt stays in every bound; what they do tell is
computed from them alone.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from math import dist, hypot, sqrt

from engine.geometry.drift import Drift
from engine.geometry.linear import Matrix, Vector, cholesky, inverse, normal_equations, solve_lower
from engine.geometry.plane import nearest_on_polyline
from engine.geometry.shapes import Point
from engine.setting_out.confidence import NORMAL, most_chi_square, student

NAMES = ("ahead", "left", "turn", "creep along", "creep across")

# What is usual before anything was read, one standard deviation: a shift of 20 mm, a turn of 5 mm a metre,
# 1.5 mm of creep a metre (about 0.13 mm a joint between boards of 90 mm). Common practice, no source.
USUAL = (20.0, 20.0, 0.005, 0.0015, 0.0015)

# An unknown is known once readings bring its standard deviation below this share of the usual.
KNOWN = 0.5

# A reading is doubted when it misses the others by more standard deviations than this (α = 0.001, Baarda).
DOUBTED = 3.2905
# A reading with less redundancy than this is held by no other, so nothing can be said against it.
HELD = 0.01

# The model is all but straight: after some three steps it stands still, to this share of the usual.
STEPS, STILL = 12, 1e-7


@dataclass(frozen=True, kw_only=True, slots=True)
class LaidDistance:
    """A distance read from a board's corner to a line. All in room mm.

    ``corner`` and ``middle`` are the board's, where the plan has them;
    ``line`` is a wall as a chain of points or two points of a struck line;
    ``endless`` when it runs on past its ends. ``sd`` is the reading's standard
    deviation, the doubt about the line itself in it.
    """

    id: str
    corner: Point
    middle: Point
    line: tuple[Point, ...]
    endless: bool
    distance: float
    sd: float


@dataclass(frozen=True, kw_only=True, slots=True)
class LaidFit:
    """The pattern as it lies. ``covariance`` is that of ``Drift.values``.

    ``known`` are the names of what the readings tell. ``residuals``: reading
    id → read less fitted, mm; ``doubted`` the ids of readings that do not go
    with the others. ``spread`` is by how much they scatter more than their
    standard deviations say (1: no more); ``factor`` makes a standard deviation a
    95 % bound, the spread in it.
    """

    drift: Drift
    covariance: Matrix
    known: tuple[str, ...]
    residuals: dict[str, float]
    doubted: tuple[str, ...]
    freedom: int
    spread: float
    factor: float

    def bound(self, index: int) -> float:
        """95 % bound of one of ``Drift.values``, in its unit."""
        return self.factor * sqrt(self.covariance[index][index])

    def offset(self, point: Point, direction: Point) -> float:
        """How far the pattern lies off its plan at a planned point, in a direction of length 1, mm."""
        x, y = self.drift.moved(point)
        return (x - point[0]) * direction[0] + (y - point[1]) * direction[1]

    def offset_bound(self, point: Point, direction: Point) -> float:
        """95 % bound of ``offset``, mm."""
        slopes = [dx * direction[0] + dy * direction[1] for dx, dy in self.drift.slopes(point, point)]
        variance = sum(
            a * b * self.covariance[i][j] for i, a in enumerate(slopes) for j, b in enumerate(slopes)
        )
        return self.factor * sqrt(max(variance, 0.0))


def fit_laid(distances: Sequence[LaidDistance], axis: float) -> LaidFit:
    """Fit a pattern with that row axis (degrees) to one distance or more."""
    start = Drift(about=_mean([reading.middle for reading in distances]), axis=axis)
    usual = [1 / usual**2 for usual in USUAL]
    held = _adjusted(distances, start, usual)
    spread_of = [sqrt(held.covariance[i][i]) for i in range(len(NAMES))]
    known = [spread <= KNOWN * usual for spread, usual in zip(spread_of, USUAL, strict=True)]
    # What is known by its readings needs no help from what is usual.
    free = _adjusted(distances, start, [0.0 if k else w for k, w in zip(known, usual, strict=True)])
    return _judged(distances, free, tuple(name for name, k in zip(NAMES, known, strict=True) if k))


@dataclass(frozen=True, kw_only=True, slots=True)
class _Adjusted:
    drift: Drift
    covariance: Matrix
    rows: list[Vector]
    misses: Vector


def _adjusted(distances: Sequence[LaidDistance], drift: Drift, usual: Sequence[float]) -> _Adjusted:
    """Gauss–Newton; ``usual`` are weights that hold each value near nothing."""
    for _ in range(STEPS):
        rows, misses = _linear(distances, drift)
        lower, right = _equations(distances, rows, misses, usual, drift)
        change = solve_lower(lower, right)
        drift = drift.with_values([value + by for value, by in zip(drift.values, change, strict=True)])
        if all(abs(by) <= STILL * usually for by, usually in zip(change, USUAL, strict=True)):
            break
    rows, misses = _linear(distances, drift)
    lower, _ = _equations(distances, rows, misses, usual, drift)
    return _Adjusted(drift=drift, covariance=inverse(lower), rows=rows, misses=misses)


def _equations(
    distances: Sequence[LaidDistance],
    rows: Sequence[Vector],
    misses: Vector,
    usual: Sequence[float],
    drift: Drift,
) -> tuple[Matrix, Vector]:
    """The triangle of the normal equations, and their right side."""
    matrix, right = normal_equations(rows, [1 / reading.sd**2 for reading in distances], misses)
    for index, (weight, value) in enumerate(zip(usual, drift.values, strict=True)):
        matrix[index][index] += weight
        right[index] -= weight * value
    return cholesky(matrix), right


def _linear(distances: Sequence[LaidDistance], drift: Drift) -> tuple[list[Vector], Vector]:
    """For each reading how its distance changes with each value, and read less computed in mm."""
    rows: list[Vector] = []
    misses: Vector = []
    for reading in distances:
        at = drift.moved_with(reading.middle, reading.corner)
        distance, (nx, ny) = _to_line(at, reading)
        rows.append([dx * nx + dy * ny for dx, dy in drift.slopes(reading.middle, reading.corner)])
        misses.append(reading.distance - distance)
    return rows, misses


def _to_line(point: Point, reading: LaidDistance) -> tuple[float, Point]:
    """The distance to the reading's line, and the direction in which it grows."""
    line = reading.line
    if reading.endless:
        return _to_endless(point, line[0], line[-1], reading.corner)
    foot = nearest_on_polyline(point, line).point
    away = dist(point, foot)
    return away, ((point[0] - foot[0]) / away, (point[1] - foot[1]) / away) if away else (0.0, 0.0)


def _to_endless(point: Point, start: Point, end: Point, planned: Point) -> tuple[float, Point]:
    """The same for an endless line; positive on the side where the plan has the corner."""
    length = dist(start, end)
    nx, ny = (start[1] - end[1]) / length, (end[0] - start[0]) / length
    side = 1.0 if (planned[0] - start[0]) * nx + (planned[1] - start[1]) * ny >= 0 else -1.0
    nx, ny = side * nx, side * ny
    return (point[0] - start[0]) * nx + (point[1] - start[1]) * ny, (nx, ny)


def _judged(distances: Sequence[LaidDistance], found: _Adjusted, known: tuple[str, ...]) -> LaidFit:
    freedom = max(len(distances) - len(known), 0)
    squares = sum((miss / r.sd) ** 2 for r, miss in zip(distances, found.misses, strict=True))
    scattered = freedom > 0 and squares > most_chi_square(freedom)
    spread = sqrt(squares / freedom) if scattered else 1.0
    return LaidFit(
        drift=found.drift,
        covariance=found.covariance,
        known=known,
        residuals={r.id: miss for r, miss in zip(distances, found.misses, strict=True)},
        doubted=_doubted(distances, found),
        freedom=freedom,
        spread=spread,
        # Standard deviations that the readings contradict are taken from the readings: Student, not normal.
        factor=spread * student(freedom) if scattered else NORMAL,
    )


def _doubted(distances: Sequence[LaidDistance], found: _Adjusted) -> tuple[str, ...]:
    """The reading that misses the others most, and those that cannot be told from it; often none."""
    size = range(len(NAMES))
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


def direction_of(start: Point, end: Point) -> Point:
    """The direction from one point to another, as a vector of length 1."""
    length = hypot(end[0] - start[0], end[1] - start[1])
    return (end[0] - start[0]) / length, (end[1] - start[1]) / length

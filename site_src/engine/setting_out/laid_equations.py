"""The least squares behind a floor as it lies: distances read, what they share, and the values that fit them.

A wall that was surveyed a little wrong is wrong for every distance read to it.
What readings share is an unknown of its own, held near nothing by its standard
deviation, so that many readings to one wall do not pretend to know it better.
"""

from collections.abc import Sequence
from math import dist, sqrt

from msgspec import Struct

from engine.geometry.drift import Drift
from engine.geometry.linear import Matrix, Vector, cholesky, inverse, normal_equations, solve_lower
from engine.geometry.plane import nearest_on_polyline
from engine.geometry.shapes import Point

# What is usual before anything was read, one standard deviation: a shift of 20 mm, a turn of 5 mm a metre,
# 1.5 mm of creep a metre (about 0.13 mm a joint between boards of 90 mm). Common practice, no source.
# A change of the creep is only looked for where readings can tell it, so nothing usual holds it.
USUAL = (20.0, 20.0, 0.005, 0.0015, 0.0015)
USUAL_CHANGE = 0.0015

# The model is all but straight: after some three steps it stands still, to this share of the usual.
STEPS, STILL = 12, 1e-7


class LaidDistance(Struct, frozen=True, kw_only=True):
    """A distance read from a board's corner to a line. All in room mm.

    ``corner`` and ``middle`` are the board's, where the plan has them;
    ``line`` is a wall as a chain of points or two points of a struck line;
    ``endless`` when it runs on past its ends. ``sd`` is the reading's own
    standard deviation. ``shared``: what this distance shares with others (a
    stretch of wall, a corner of the room) → how much longer it gets when that
    is off by one standard deviation, mm.
    """

    id: str
    corner: Point
    middle: Point
    line: tuple[Point, ...]
    endless: bool
    distance: float
    sd: float
    shared: tuple[tuple[str, float], ...] = ()


class Adjusted(Struct, frozen=True, kw_only=True):
    """The values that fit best.

    ``rows``: how each distance changes with each unknown, those of the drift
    first; ``covariance`` is that of all unknowns, ``misses`` is read less fitted
    in mm. ``off``: what readings share → by how many standard deviations it is
    off. ``squares`` adds up what misses and shared errors are in theirs.
    """

    drift: Drift
    covariance: Matrix
    rows: list[Vector]
    misses: Vector
    off: dict[str, float]
    squares: float

    def sd(self, index: int) -> float:
        """Standard deviation of an unknown, in its unit."""
        return sqrt(self.covariance[index][index])

    @property
    def of_drift(self) -> Matrix:
        """The covariance of ``Drift.values`` alone."""
        count = len(self.drift.values)
        return [row[:count] for row in self.covariance[:count]]


def adjusted(distances: Sequence[LaidDistance], drift: Drift, usual: Sequence[float]) -> Adjusted:
    """Gauss–Newton from ``drift``; ``usual`` are weights that hold each of its values near nothing."""
    names = sorted({name for reading in distances for name, _ in reading.shared})
    shares = [[dict(reading.shared).get(name, 0.0) for name in names] for reading in distances]
    scale = (*USUAL, *([USUAL_CHANGE] if drift.change else []), *(1.0 for _ in names))
    held = [*usual, *(1.0 for _ in names)]
    off, weights = [0.0] * len(names), [1 / reading.sd**2 for reading in distances]
    for _ in range(STEPS):
        rows, misses = _linear(distances, drift, shares, off)
        values = [*drift.values, *off]
        lower, right = _equations(rows, weights, misses, held, values)
        change = solve_lower(lower, right)
        values = [value + by for value, by in zip(values, change, strict=True)]
        count = len(drift.values)
        drift, off = drift.with_values(values[:count]), values[count:]
        if all(abs(by) <= STILL * usually for by, usually in zip(change, scale, strict=True)):
            break
    rows, misses = _linear(distances, drift, shares, off)
    lower, _ = _equations(rows, weights, misses, held, [*drift.values, *off])
    squares = sum(weight * miss**2 for weight, miss in zip(weights, misses, strict=True))
    return Adjusted(
        drift=drift,
        covariance=inverse(lower),
        rows=rows,
        misses=misses,
        off=dict(zip(names, off, strict=True)),
        squares=squares + sum(value**2 for value in off),
    )


def _equations(
    rows: Sequence[Vector],
    weights: Sequence[float],
    misses: Vector,
    held: Sequence[float],
    values: Sequence[float],
) -> tuple[Matrix, Vector]:
    """The triangle of the normal equations, and their right side."""
    matrix, right = normal_equations(rows, weights, misses)
    for index, (weight, value) in enumerate(zip(held, values, strict=True)):
        matrix[index][index] += weight
        right[index] -= weight * value
    return cholesky(matrix), right


def _linear(
    distances: Sequence[LaidDistance], drift: Drift, shares: Sequence[Vector], off: Vector
) -> tuple[list[Vector], Vector]:
    """For each reading how its distance changes with each unknown, and read less computed in mm."""
    rows: list[Vector] = []
    misses: Vector = []
    for reading, share in zip(distances, shares, strict=True):
        distance, slopes = changing(reading, drift)
        rows.append([*slopes, *share])
        shared = sum(part * value for part, value in zip(share, off, strict=True))
        misses.append(reading.distance - distance - shared)
    return rows, misses


def changing(reading: LaidDistance, drift: Drift) -> tuple[float, Vector]:
    """The distance as a drift has it, and how it changes with each of the drift's values."""
    at = drift.moved_with(reading.middle, reading.corner)
    distance, (nx, ny) = _to_line(at, reading)
    slopes = drift.slopes(reading.middle, reading.corner)
    return distance, [dx * nx + dy * ny for dx, dy in slopes]


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

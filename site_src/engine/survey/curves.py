"""A wall between two corners as a curve in its own frame.

Station runs from 0 along the straight line between the corners to ``chord``,
offset is square to it, positive into the room (to the left of from → to). All
in millimetres; slope and bend are the first and second derivative of the
offset by the station.
"""

from bisect import bisect_right
from collections.abc import Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import asin, ceil, sin, sqrt
from typing import Protocol

from engine.model.job import CurveKind, Pair
from engine.survey.splines import not_a_knot_slopes, shape_keeping_slopes

# Sampled curves stay this near to the true one. The saw follows half a
# millimetre; a hundredth is out of sight and keeps a wall near 50 points.
CHORD_ERROR = 0.01

# A wall is not an arc beyond this share of its chord: near a half circle the
# offset square to the chord no longer tells one point from its neighbour.
MOST_SAGITTA = 0.45


class Curve(Protocol):
    """What every shape of a wall can tell of itself."""

    @property
    def stations(self) -> tuple[float, ...]:
        """Stations that a drawing must pass through, both ends included."""

    def offset(self, station: float) -> float:
        """Offset in mm at that station."""

    def slope(self, station: float) -> float:
        """Rise of the offset per mm of station."""

    def bend(self, station: float) -> float:
        """Second derivative of the offset in 1/mm: about the curvature."""

    def between(self, start: float, end: float) -> tuple[float, ...]:
        """Stations to add between two neighbours of ``stations`` to keep ``CHORD_ERROR``."""


@dataclass(frozen=True, slots=True)
class Cubics:
    """A cubic from each point to the next, given by offset and slope at the points."""

    stations: tuple[float, ...]
    offsets: tuple[float, ...]
    slopes: tuple[float, ...]

    def offset(self, station: float) -> float:
        i, t = self._place(station)
        c0, c1, c2, c3 = self._coefficients(i)
        return c0 + t * (c1 + t * (c2 + t * c3))

    def slope(self, station: float) -> float:
        i, t = self._place(station)
        _, c1, c2, c3 = self._coefficients(i)
        return c1 + t * (2 * c2 + t * 3 * c3)

    def bend(self, station: float) -> float:
        i, t = self._place(station)
        _, _, c2, c3 = self._coefficients(i)
        return 2 * c2 + 6 * c3 * t

    def between(self, start: float, end: float) -> tuple[float, ...]:
        # The bend runs straight from end to end of one cubic, so it is greatest at one of them.
        _, _, c2, c3 = self._coefficients(self._place(start)[0])
        greatest = max(abs(2 * c2), abs(2 * c2 + 6 * c3 * (end - start)))
        parts = ceil((end - start) * sqrt(greatest / (8 * CHORD_ERROR)))
        return tuple(start + (end - start) * k / parts for k in range(1, parts))

    def _place(self, station: float) -> tuple[int, float]:
        i = min(max(bisect_right(self.stations, station) - 1, 0), len(self.stations) - 2)
        return i, station - self.stations[i]

    def _coefficients(self, i: int) -> tuple[float, float, float, float]:
        h = self.stations[i + 1] - self.stations[i]
        chord = (self.offsets[i + 1] - self.offsets[i]) / h
        first, last = self.slopes[i], self.slopes[i + 1]
        return (
            self.offsets[i],
            first,
            (3 * chord - 2 * first - last) / h,
            (first + last - 2 * chord) / (h * h),
        )


@dataclass(frozen=True, slots=True)
class Chain:
    """Straight lines from each point to the next."""

    stations: tuple[float, ...]
    offsets: tuple[float, ...]

    def offset(self, station: float) -> float:
        i = self._place(station)
        return self.offsets[i] + self.slope(station) * (station - self.stations[i])

    def slope(self, station: float) -> float:
        i = self._place(station)
        return (self.offsets[i + 1] - self.offsets[i]) / (self.stations[i + 1] - self.stations[i])

    def bend(self, station: float) -> float:
        del station
        return 0.0

    def between(self, start: float, end: float) -> tuple[float, ...]:
        del start, end
        return ()

    def _place(self, station: float) -> int:
        return min(max(bisect_right(self.stations, station) - 1, 0), len(self.stations) - 2)


@dataclass(frozen=True, slots=True)
class Arc:
    """A circular arc through both corners; ``sagitta`` is its offset in the middle, signed."""

    chord: float
    sagitta: float

    @property
    def stations(self) -> tuple[float, ...]:
        return (0.0, self.chord)

    @property
    def radius(self) -> float:
        """R = c²/8s + s/2 in mm (railway versine, TRADE.md); signed as the sagitta, infinite when straight."""
        if self.sagitta == 0:
            return float("inf")
        return self.chord**2 / (8 * self.sagitta) + self.sagitta / 2

    def offset(self, station: float) -> float:
        m = self._sharpness()
        rest = station * (self.chord - station)
        return m * rest / (1 + sqrt(1 + m * m * rest))

    def slope(self, station: float) -> float:
        m = self._sharpness()
        rest = station * (self.chord - station)
        return m * (self.chord / 2 - station) / sqrt(1 + m * m * rest)

    def bend(self, station: float) -> float:
        m = self._sharpness()
        rest = station * (self.chord - station)
        return -m * (1 + (m * self.chord / 2) ** 2) / sqrt(1 + m * m * rest) ** 3

    def between(self, start: float, end: float) -> tuple[float, ...]:
        if self.sagitta == 0:
            return ()
        radius, middle = abs(self.radius), self.chord / 2
        first, last = asin((start - middle) / radius), asin((end - middle) / radius)
        parts = ceil((last - first) / sqrt(8 * CHORD_ERROR / radius))
        return tuple(middle + radius * sin(first + (last - first) * k / parts) for k in range(1, parts))

    def _sharpness(self) -> float:
        """One over the distance of the centre from the chord: stays finite as the wall gets straight."""
        return 8 * self.sagitta / (self.chord**2 - 4 * self.sagitta**2)


def wall_curve(kind: CurveKind, chord: float, readings: Sequence[Pair]) -> Curve:
    """The wall's curve through (0, 0), the readings and (chord, 0).

    ``readings`` are (station, offset) in any order, no two at one station and
    all strictly between the corners (see ``checks``).
    """
    if kind == "arc" and readings:
        return Arc(chord, best_sagitta(chord, readings))
    stations, offsets = _with_corners(chord, readings)
    if kind == "straight" or not readings:
        return Chain(stations, offsets)
    return Cubics(stations, offsets, not_a_knot_slopes(stations, offsets))


def shape_keeping_curve(chord: float, readings: Sequence[Pair]) -> Cubics:
    """The curve through the same points that never swings past them."""
    stations, offsets = _with_corners(chord, readings)
    return Cubics(stations, offsets, shape_keeping_slopes(stations, offsets))


def _with_corners(chord: float, readings: Sequence[Pair]) -> tuple[tuple[float, ...], tuple[float, ...]]:
    points = ((0.0, 0.0), *sorted(readings), (chord, 0.0))
    return tuple(x for x, _ in points), tuple(y for _, y in points)


def best_sagitta(chord: float, readings: Sequence[Pair]) -> float:
    """The sagitta of the arc whose offsets miss the readings least, squares summed (Gauss–Newton).

    It is held inside ± ``MOST_SAGITTA`` of the chord.
    """
    most = MOST_SAGITTA * chord
    rests = [station * (chord - station) for station, _ in readings]
    sagitta = sum(r * y for r, (_, y) in zip(rests, readings, strict=True)) / sum(r * r for r in rests)
    sagitta = min(max(sagitta * chord**2 / 4, -most), most)
    for _ in range(60):
        stepped = min(max(sagitta + _sagitta_step(chord, sagitta, readings), -most), most)
        if abs(stepped - sagitta) <= 1e-13 * chord:
            break
        sagitta = stepped
    return sagitta


def _sagitta_step(chord: float, sagitta: float, readings: Sequence[Pair]) -> float:
    arc = Arc(chord, sagitta)
    squares = chord**2 - 4 * sagitta**2
    sharpness = 8 * sagitta / squares
    by_sagitta = 8 * (chord**2 + 4 * sagitta**2) / squares**2
    above = below = 0.0
    for station, read in readings:
        rest = station * (chord - station)
        root = sqrt(1 + sharpness**2 * rest)
        rate = rest / (root * (1 + root)) * by_sagitta
        above += rate * (read - arc.offset(station))
        below += rate * rate
    return above / below


def sample(curve: Curve) -> tuple[Pair, ...]:
    """(station, offset) along the whole curve, both ends included, every reading a point of a curve through it."""
    chosen = [curve.stations[0]]
    for start, end in pairwise(curve.stations):
        chosen += [*curve.between(start, end), end]
    return tuple((station, curve.offset(station)) for station in chosen)


def greatest_offset(curve: Curve) -> Pair:
    """(station, offset) where the wall is farthest from the straight line between its corners, to 0.001 mm.

    Between two samples the curve is all but a parabola, so its top is found
    from the slopes at both.
    """
    points = sample(curve)
    best = max(points, key=lambda point: abs(point[1]))
    for (start, _), (end, _) in pairwise(points):
        before, after = curve.slope(start), curve.slope(end)
        if before * after < 0:
            top = start + (end - start) * before / (before - after)
            best = max(best, (top, curve.offset(top)), key=lambda point: abs(point[1]))
    return best

"""A wall between two corners as a curve in its own frame.

Station runs from 0 along the straight line between the corners to ``chord``,
offset is square to it, positive into the room (to the left of from → to). All
in millimetres; slope and bend are the first and second derivative of the
offset by the station.
"""

from bisect import bisect_right
from collections.abc import Sequence
from itertools import pairwise
from math import ceil, sqrt
from typing import Protocol

from msgspec import Struct

from engine.model.job import CurveKind, Pair
from engine.survey.arcs import Arc, best_sagitta
from engine.survey.splines import not_a_knot_slopes, shape_keeping_slopes
from engine.survey.tolerances import CHORD_ERROR, SAME_STATION


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


class Cubics(Struct, frozen=True):
    """A cubic from each point to the next, given by offset and slope at the points."""

    stations: tuple[float, ...]
    offsets: tuple[float, ...]
    slopes: tuple[float, ...]

    def offset(self, station: float) -> float:
        """Offset in mm at that station."""
        i, t = self._place(station)
        c0, c1, c2, c3 = self._coefficients(i)
        return c0 + t * (c1 + t * (c2 + t * c3))

    def slope(self, station: float) -> float:
        """Rise of the offset per mm of station."""
        i, t = self._place(station)
        _, c1, c2, c3 = self._coefficients(i)
        return c1 + t * (2 * c2 + t * 3 * c3)

    def bend(self, station: float) -> float:
        """Second derivative of the offset in 1/mm."""
        i, t = self._place(station)
        _, _, c2, c3 = self._coefficients(i)
        return 2 * c2 + 6 * c3 * t

    def between(self, start: float, end: float) -> tuple[float, ...]:
        """Stations to add so that the drawn chords keep to the curve."""
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


class Chain(Struct, frozen=True):
    """Straight lines from each point to the next."""

    stations: tuple[float, ...]
    offsets: tuple[float, ...]

    def offset(self, station: float) -> float:
        """Offset in mm at that station."""
        i = self._place(station)
        return self.offsets[i] + self.slope(station) * (station - self.stations[i])

    def slope(self, station: float) -> float:
        """Rise of the offset per mm of station."""
        i = self._place(station)
        return (self.offsets[i + 1] - self.offsets[i]) / (self.stations[i + 1] - self.stations[i])

    def bend(self, station: float) -> float:
        """Second derivative of the offset in 1/mm."""
        del station
        return 0.0

    def between(self, start: float, end: float) -> tuple[float, ...]:
        """Stations to add so that the drawn chords keep to the curve."""
        del start, end
        return ()

    def _place(self, station: float) -> int:
        return min(max(bisect_right(self.stations, station) - 1, 0), len(self.stations) - 2)


class Broken(Struct, frozen=True):
    """Curves one after the other: at a break the wall may kink, or step from one offset to another."""

    parts: tuple[Curve, ...]

    @property
    def stations(self) -> tuple[float, ...]:
        """Those of all parts; a break is there twice."""
        return tuple(station for part in self.parts for station in part.stations)

    def offset(self, station: float) -> float:
        """Offset in mm at that station."""
        return self._part(station).offset(station)

    def slope(self, station: float) -> float:
        """Rise of the offset per mm of station."""
        return self._part(station).slope(station)

    def bend(self, station: float) -> float:
        """Second derivative of the offset in 1/mm."""
        return self._part(station).bend(station)

    def between(self, start: float, end: float) -> tuple[float, ...]:
        """Stations to add so that the drawn chords keep to the curve."""
        return self._part(start).between(start, end)

    def _part(self, station: float) -> Curve:
        """The part that holds the station; at a break the one after it."""
        starts = [part.stations[0] for part in self.parts]
        return self.parts[max(bisect_right(starts, station) - 1, 0)]


def wall_curve(
    kind: CurveKind, chord: float, readings: Sequence[Pair], breaks: Sequence[float] = ()
) -> Curve:
    """The wall's curve through (0, 0), the readings and (chord, 0).

    ``readings`` are (station, offset), strictly between the corners; no two at
    one station but at a break, where the first is the wall before the break and
    the second the wall after it. ``breaks`` are stations that have a reading,
    and split the wall; an arc cannot be split (see ``checks``).
    """
    if kind == "arc" and readings:
        return Arc(chord, best_sagitta(chord, readings))
    parts = tuple(_through(kind, points) for points in split_at_breaks(chord, readings, breaks))
    return parts[0] if len(parts) == 1 else Broken(parts)


def split_at_breaks(
    chord: float, readings: Sequence[Pair], breaks: Sequence[float]
) -> tuple[tuple[Pair, ...], ...]:
    """The wall's points, corners included, part by part; a break's reading ends one and starts the next."""
    points = _with_corners(chord, readings)
    cuts = [0]
    for station in sorted(breaks):
        here = [i for i, (x, _) in enumerate(points) if abs(x - station) < SAME_STATION]
        cuts += [here[0], here[-1]]
    cuts.append(len(points) - 1)
    return tuple(points[a : b + 1] for a, b in zip(cuts[::2], cuts[1::2], strict=True))


def _through(kind: CurveKind, points: Sequence[Pair]) -> Curve:
    stations, offsets = tuple(x for x, _ in points), tuple(y for _, y in points)
    if kind == "straight" or len(points) == 2:
        return Chain(stations, offsets)
    return Cubics(stations, offsets, not_a_knot_slopes(stations, offsets))


def shape_keeping_curve(chord: float, readings: Sequence[Pair]) -> Cubics:
    """The curve through the same points that never swings past them; breaks are left aside."""
    points = _with_corners(chord, readings)
    stations, offsets = tuple(x for x, _ in points), tuple(y for _, y in points)
    return Cubics(stations, offsets, shape_keeping_slopes(stations, offsets))


def _with_corners(chord: float, readings: Sequence[Pair]) -> tuple[Pair, ...]:
    """By station; two readings at one station keep their order, which tells before from after a break."""
    return ((0.0, 0.0), *sorted(readings, key=lambda reading: reading[0]), (chord, 0.0))


def sample(curve: Curve) -> tuple[Pair, ...]:
    """(station, offset) along the whole curve, both ends and every reading it goes through included."""
    if isinstance(curve, Broken):
        points = [point for part in curve.parts for point in sample(part)]
        return tuple(point for i, point in enumerate(points) if i == 0 or point != points[i - 1])
    chosen = [curve.stations[0]]
    for start, end in pairwise(curve.stations):
        chosen += [*curve.between(start, end), end]
    return tuple((station, _exact_offset(curve, station)) for station in chosen)


def _exact_offset(curve: Curve, station: float) -> float:
    """The end of the last cubic may miss its reading in the last digit; the reading is meant."""
    if isinstance(curve, (Cubics, Chain)) and station == curve.stations[-1]:
        return curve.offsets[-1]
    return curve.offset(station)


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

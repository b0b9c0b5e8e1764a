"""The straight cut that keeps the gap inside its band and lies nearest to the nominal gap.

Along a piece's nominal cut curve the gap band is a strip of known half-width.
A straight cut may lie anywhere in that strip. In the frame of the curve's chord
(u along it, v towards the piece) a cut is v = a·u + b, and every point that must
stay or fall is a linear bound on (a, b): the cuts that hold the band are a convex
set (METHODS: straight cut inside a gap band; O'Rourke 1981 gives the on-line form).
For a fixed slope the best b is the middle of the curve, moved into its bounds; the
greatest departure from the nominal curve is convex in the slope.
"""

from collections.abc import Callable, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import atan, cos, degrees, floor, hypot, radians, sin, tan

from engine.geometry.hull import lower_hull, upper_hull
from engine.geometry.shapes import Point

# Kept back from the band so that rounding never shows a gap outside it, mm.
BAND_MARGIN = 0.02
# A curve that leaves its chord by less than this is straight, mm.
STRAIGHT = 0.005
# Beyond this a mitre saw does not swing; such a cut is marked and sawn along the line, degrees.
SAW_REACH = 75.0
GOLDEN = 0.6180339887498949


@dataclass(frozen=True, kw_only=True, slots=True)
class Strip:
    """What a cut has to respect, all in the board's frame.

    ``nominal`` is the curve at the nominal gap, the piece on its left.
    ``keep`` must stay on the piece, ``fall`` must not.
    """

    nominal: tuple[Point, ...]
    keep: tuple[Point, ...]
    fall: tuple[Point, ...]


@dataclass(frozen=True, kw_only=True, slots=True)
class CutLine:
    """A straight cut through ``at`` with the piece on the left of ``direction`` (unit vector).

    ``departure`` is its greatest distance from the nominal curve in mm;
    ``is_set`` tells whether the saw can be set to its angle.
    """

    at: Point
    direction: Point
    departure: float
    is_set: bool = True

    @property
    def angle(self) -> float:
        """Saw angle in degrees: 0 is square, positive leaves the right long edge longer."""
        return saw_angle(self.direction)

    def side(self, point: Point) -> float:
        """Distance in mm to the left of the cut (on the piece's side)."""
        dx, dy = self.direction
        return dx * (point[1] - self.at[1]) - dy * (point[0] - self.at[0])


def saw_angle(direction: Point) -> float:
    """Saw angle in degrees of a cut in that direction, the piece on its left: atan((right − left)/W)."""
    dx, dy = direction
    if dy == 0:
        return 90.0 if dx < 0 else -90.0
    return degrees(atan(-dx / abs(dy)))


def best_cut(strip: Strip, saw_step: float) -> CutLine | None:
    """The cut nearest to the nominal curve that the saw can be set to; None where none holds the band.

    With ``saw_step`` in degrees above 0 the angle is a multiple of it where one
    holds the band; where none does, the angle is the best one and ``is_set`` false.
    """
    bounds = _Bounds.of(strip)
    slope = bounds.best_slope()
    if slope is None:
        return None
    settable = _settable_slopes(bounds, slope, saw_step)
    held = [other for other in settable if bounds.holds(other)]
    if not settable or not held:
        return bounds.line(slope, is_set=not settable)
    return bounds.line(min(held, key=bounds.departure), is_set=True)


def _settable_slopes(bounds: "_Bounds", slope: float, saw_step: float) -> tuple[float, ...]:
    """The slopes of the saw's settings just below and just above; none when any angle can be set."""
    angle = saw_angle(bounds.direction(slope))
    if saw_step <= 0 or abs(angle) > SAW_REACH:
        return ()
    below = floor(angle / saw_step) * saw_step
    turn = 1.0 if bounds.direction(slope)[1] > 0 else -1.0
    return tuple(tan(atan(slope) + turn * radians(setting - angle)) for setting in (below, below + saw_step))


@dataclass(frozen=True, slots=True)
class _Bounds:
    """The same in the chord's frame: bounds on a line v = a·u + b."""

    origin: Point
    along: Point
    nominal: tuple[Point, ...]
    above: tuple[Point, ...]
    below: tuple[Point, ...]

    @classmethod
    def of(cls, strip: Strip) -> "_Bounds":
        start, end = strip.nominal[0], strip.nominal[-1]
        length = hypot(end[0] - start[0], end[1] - start[1])
        along = ((end[0] - start[0]) / length, (end[1] - start[1]) / length)

        def turned(points: Sequence[Point]) -> tuple[Point, ...]:
            shifted = [(x - start[0], y - start[1]) for x, y in points]
            return tuple((x * along[0] + y * along[1], y * along[0] - x * along[1]) for x, y in shifted)

        return cls(start, along, turned(strip.nominal), turned(strip.keep), turned(strip.fall))

    def best_slope(self) -> float | None:
        """The slope that stays nearest to the nominal curve among those that hold the band."""
        unbound = self._chebyshev_slope()
        if self._is_free(unbound):
            return unbound
        reach = 4 * (self._spread() + 1) / max(u for u, _ in self.nominal)
        inside = unbound if self.holds(unbound) else _least(lambda slope: -self._room(slope), -reach, reach)
        if not self.holds(inside):
            return None
        return _least(
            self.departure, _last_held(self.holds, inside, -reach), _last_held(self.holds, inside, reach)
        )

    def _spread(self) -> float:
        values = [v for _, v in self.nominal + self.above + self.below]
        return max(values) - min(values)

    def _chebyshev_slope(self) -> float:
        """Slope of the line with the least greatest distance to the curve: that of an edge of its hull."""
        if max(abs(v) for _, v in self.nominal) <= STRAIGHT:
            return 0.0
        sides = (*pairwise(lower_hull(self.nominal)), *pairwise(upper_hull(self.nominal)))
        slopes = [(q[1] - p[1]) / (q[0] - p[0]) for p, q in sides if q[0] != p[0]]
        return min(slopes, key=self._height, default=0.0)

    def _height(self, slope: float) -> float:
        rests = [v - slope * u for u, v in self.nominal]
        return max(rests) - min(rests)

    def _limits(self, slope: float) -> tuple[float, float]:
        """The least and greatest b that hold the band at this slope."""
        least = max((v - slope * u for u, v in self.below), default=float("-inf"))
        most = min((v - slope * u for u, v in self.above), default=float("inf"))
        return least, most

    def _room(self, slope: float) -> float:
        least, most = self._limits(slope)
        return most - least

    def holds(self, slope: float) -> bool:
        """Is there a cut of this slope inside the band?"""
        return self._room(slope) >= 0

    def _middle(self, slope: float) -> float:
        """The b of the line of this slope that runs midway through the nominal curve."""
        rests = [v - slope * u for u, v in self.nominal]
        return (max(rests) + min(rests)) / 2

    def _is_free(self, slope: float) -> bool:
        """Does the midway line of this slope hold the band by itself?"""
        least, most = self._limits(slope)
        return least <= self._middle(slope) <= most

    def _rest(self, slope: float) -> float:
        least, most = self._limits(slope)
        return min(max(self._middle(slope), least), most)

    def departure(self, slope: float) -> float:
        """Greatest distance in mm from the nominal curve to the best cut of this slope."""
        rest = self._rest(slope)
        return max(abs(v - slope * u - rest) for u, v in self.nominal) * cos(atan(slope))

    def direction(self, slope: float) -> Point:
        """Unit vector of a cut of this slope, in the board's frame."""
        turn = atan(slope)
        c, s = cos(turn), sin(turn)
        return (self.along[0] * c - self.along[1] * s, self.along[1] * c + self.along[0] * s)

    def line(self, slope: float, is_set: bool) -> CutLine:
        """The best cut of this slope, in the board's frame."""
        rest = self._rest(slope)
        at = (self.origin[0] - self.along[1] * rest, self.origin[1] + self.along[0] * rest)
        return CutLine(at=at, direction=self.direction(slope), departure=self.departure(slope), is_set=is_set)


def _least(function: Callable[[float], float], low: float, high: float) -> float:
    """Where a convex function is least between two bounds (golden section, to 1e-9 of the range)."""
    a, b = high - GOLDEN * (high - low), low + GOLDEN * (high - low)
    at_a, at_b = function(a), function(b)
    for _ in range(44):
        if at_a <= at_b:
            high, b, at_b = b, a, at_a
            a = high - GOLDEN * (high - low)
            at_a = function(a)
        else:
            low, a, at_a = a, b, at_b
            b = low + GOLDEN * (high - low)
            at_b = function(b)
    return (low + high) / 2


def _last_held(holds: Callable[[float], bool], inside: float, outside: float) -> float:
    """The slope nearest to ``outside`` that still holds the band (bisection)."""
    for _ in range(50):
        middle = (inside + outside) / 2
        if holds(middle):
            inside = middle
        else:
            outside = middle
    return inside

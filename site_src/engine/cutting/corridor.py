"""The straight cuts that keep the gap inside its band, all of them, for one stretch of a piece's rim.

Along a piece's nominal cut curve the gap band is a strip of known half-width.
A straight cut may lie anywhere in that strip. In the frame of the curve's chord
(u along it, v towards the piece) a cut is v = a·u + b, and every point that must
stay or fall is a linear bound on (a, b): the cuts that hold the band are a convex
set (METHODS: straight cut inside a gap band; O'Rourke 1981 gives the on-line form).
For a fixed slope the best b is the middle of the curve, moved into its bounds; the
greatest departure from the nominal curve is convex in the slope.
"""

from collections.abc import Callable, Sequence
from itertools import pairwise
from math import atan, cos, degrees, hypot, inf, isfinite, radians, sin, tan

from msgspec import Struct

from engine.geometry.hull import lower_hull, upper_hull
from engine.geometry.shapes import Point

# A curve that leaves its chord by less than this is straight, mm.
STRAIGHT = 0.005
# A cut that crosses its chord at more than 84° is none along it: where next to nothing must stay or fall,
# nothing else would bound the slope.
STEEPEST = 10.0
GOLDEN = 0.6180339887498949


class Strip(Struct, frozen=True, kw_only=True):
    """What a cut has to respect, all in the board's frame.

    ``nominal`` is the curve at the nominal gap, the piece on its left.
    ``keep`` must stay on the piece, ``fall`` must not.
    """

    nominal: tuple[Point, ...]
    keep: tuple[Point, ...]
    fall: tuple[Point, ...]


class CutLine(Struct, frozen=True, kw_only=True):
    """A straight cut through ``at`` with the piece on the left of ``direction`` (unit vector).

    ``departure`` is its greatest distance from the nominal curve in mm;
    ``is_set`` tells whether the saw can be set to its angle; ``corridor`` are all the cuts it was
    chosen from.
    """

    at: Point
    direction: Point
    departure: float
    is_set: bool = True
    corridor: "Corridor | None" = None

    @property
    def angle(self) -> float:
        """Saw angle in degrees: 0 is square, positive leaves the right long edge longer."""
        return saw_angle(self.direction)

    @property
    def keeps_start(self) -> bool:
        """Is the start end of the board on the piece's side?"""
        return self.direction[1] > 0

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


class Corridor(Struct, frozen=True):
    """The same in the chord's frame: bounds on a line v = a·u + b."""

    origin: Point
    along: Point
    nominal: tuple[Point, ...]
    above: tuple[Point, ...]
    below: tuple[Point, ...]

    @classmethod
    def of(cls, strip: Strip) -> "Corridor":
        """The strip in the frame of its chord."""
        start, end = strip.nominal[0], strip.nominal[-1]
        length = hypot(end[0] - start[0], end[1] - start[1])
        along = ((end[0] - start[0]) / length, (end[1] - start[1]) / length)

        def turned(points: Sequence[Point]) -> tuple[Point, ...]:
            shifted = [(x - start[0], y - start[1]) for x, y in points]
            return tuple((x * along[0] + y * along[1], y * along[0] - x * along[1]) for x, y in shifted)

        return cls(start, along, turned(strip.nominal), turned(strip.keep), turned(strip.fall))

    @property
    def ends(self) -> tuple[Point, Point]:
        """The first and the last point of the nominal curve, in the board's frame."""
        far = self.nominal[-1][0]
        return self.origin, (self.origin[0] + self.along[0] * far, self.origin[1] + self.along[1] * far)

    def best_slope(self) -> float | None:
        """The slope that stays nearest to the nominal curve among those that hold the band."""
        unbound = self._chebyshev_slope()
        if self._is_free(unbound):
            return unbound
        least, most = self.slopes()
        return _least(self.departure, least, most) if least <= most else None

    def slopes(self) -> tuple[float, float]:
        """The least and the greatest slope that hold the band; none does when the first is the greater.

        A line with every kept point on or above it and every falling one on or
        below it: no kept point may be seen from a falling one at a lesser slope
        ahead, nor at a greater one behind (METHODS). The hulls alone count.
        """
        least, most = -STEEPEST, STEEPEST
        for kept_u, kept_v in lower_hull(self.above):
            for u, v in upper_hull(self.below):
                if kept_u > u:
                    most = min(most, (kept_v - v) / (kept_u - u))
                elif kept_u < u:
                    least = max(least, (kept_v - v) / (kept_u - u))
                elif kept_v < v:
                    return inf, -inf
        return least, most

    def angles(self) -> tuple[float, float]:
        """The least and the greatest saw angle that hold the band, in degrees. Some cut is known to."""
        ends = sorted(self.angle_of(slope) for slope in self.slopes())
        return ends[0], ends[1]

    def angle_of(self, slope: float) -> float:
        """The saw angle of a slope, in degrees; it runs on past ±90 for what is no cut across a board."""
        return saw_angle(self.along) + self._turn * degrees(atan(slope))

    def slope_of(self, angle: float) -> float:
        """The slope of a saw angle in degrees."""
        return tan(radians(self._turn * (angle - saw_angle(self.along))))

    @property
    def _turn(self) -> float:
        """Does the saw angle grow or fall as the cut turns to the left?"""
        return 1.0 if self.along[1] > 0 else -1.0

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

    def _finite_limits(self, slope: float) -> tuple[float, float]:
        """The same; on a side where nothing binds, the best cut's own b."""
        least, most = (b if isfinite(b) else self._rest(slope) for b in self._limits(slope))
        return least, most

    def holds(self, slope: float) -> bool:
        """Is there a cut of this slope inside the band?"""
        least, most = self._limits(slope)
        return least <= most

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
        return self._line(slope, self._rest(slope), is_set)

    def moved(self, slope: float, share: float, is_set: bool) -> CutLine:
        """The cut of this slope a share of the way through all that hold the band."""
        least, most = self._finite_limits(slope)
        return self._line(slope, least + share * (most - least), is_set)

    def outermost(self, slope: float, doubt: float, share: float) -> tuple[CutLine, CutLine]:
        """The two cuts of this slope that hold the band by ``doubt`` mm more than they must.

        Where that is more than there is, those that take no more than a share of the band at its middle.
        On a side where nothing binds the cut stays at the nominal curve.
        """
        least, most = self._finite_limits(slope)
        back = doubt if 2 * doubt < most - least else (1 - share) / 2 * (most - least)
        return self._line(slope, least + back, is_set=True), self._line(slope, most - back, is_set=True)

    def through(self, point: Point, slope: float) -> CutLine:
        """The cut of this slope through a point of the board's frame, whether it holds the band or not."""
        dx, dy = point[0] - self.origin[0], point[1] - self.origin[1]
        u, v = dx * self.along[0] + dy * self.along[1], dy * self.along[0] - dx * self.along[1]
        return self._line(slope, v - slope * u, is_set=True)

    def _line(self, slope: float, rest: float, is_set: bool) -> CutLine:
        at = (self.origin[0] - self.along[1] * rest, self.origin[1] + self.along[0] * rest)
        departure = max(abs(v - slope * u - rest) for u, v in self.nominal) * cos(atan(slope))
        direction = self.direction(slope)
        return CutLine(at=at, direction=direction, departure=departure, is_set=is_set, corridor=self)


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

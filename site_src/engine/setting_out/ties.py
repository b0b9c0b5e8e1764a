"""A mark on the floor by two tapes from corners, and a third that proves it.

Of all pairs of corners in sight the one is taken whose circles fix the mark
best. A tape of EC class II may be off by 0.3 mm + 0.2 mm per metre (TRADE.md);
two tapes that cross at an angle θ leave hypot(e₁, e₂) / sin θ.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import combinations
from math import asin, degrees, dist, hypot, radians, sin

from msgspec import Struct

from engine.geometry.shapes import Point
from engine.setting_out.clear_line import Sight

# Two tapes that cross flatter than this are taken only where there are no better ones, degrees.
GOOD_ANGLE = 30.0
# Flatter than this they do not say where the mark is.
LEAST_ANGLE = 15.0
# A tape shorter than this is mostly hook, and one shorter than a hook is none, mm.
NEAR, HOOK = 150.0, 1.0
# Added to what flat tapes leave open, so that they come last of all, mm.
FLAT = 1e6
# EC class II: mm, and mm per mm.
TAPE_FIXED, TAPE_PART = 0.3, 0.2 / 1000


class Tie(Struct, frozen=True):
    """A distance in mm from a corner."""

    corner: str
    distance: float


class Mark(Struct, frozen=True, kw_only=True):
    """A mark on the floor. ``ties`` meet in it at ``angle`` (degrees, 0 to 90), ``check`` proves it.

    ``known_to``: what two tapes leave, mm. Not ``in_sight``: something stands in the way of a tape,
    and one must measure over it.
    """

    at: Point
    ties: tuple[Tie, Tie]
    check: Tie | None
    angle: float
    known_to: float
    in_sight: bool


def best_mark(places: Sequence[Point], corners: Mapping[str, Point], sight: Sight) -> Mark:
    """The first of the places that two tapes in sight fix at a good angle; else the best there is.

    ``corners`` are three or more, not in one line.
    """
    flat: list[Mark] = []
    for place in places:
        for mark in _marks(place, _in_sight(place, corners, sight), in_sight=True):
            if mark.angle >= GOOD_ANGLE:
                return mark
            flat.append(mark)
    blind = [mark for place in places for mark in _marks(place, corners, in_sight=False)]
    for seen in (flat, blind):
        best = max(seen, key=_by_angle, default=None)
        if best is not None and best.angle >= LEAST_ANGLE:
            return best
    return max(flat or blind, key=_by_angle)


def _by_angle(mark: Mark) -> float:
    return mark.angle


def _in_sight(at: Point, corners: Mapping[str, Point], sight: Sight) -> dict[str, Point]:
    """The corners that a tape reaches from a place."""
    return {
        name: corner
        for name, corner in corners.items()
        if dist(corner, at) >= NEAR and sight.is_clear(corner, at)
    }


def _marks(at: Point, corners: Mapping[str, Point], *, in_sight: bool) -> Iterator[Mark]:
    """The mark by the two corners that fix it best; none from fewer than two."""
    reached = {name: corner for name, corner in corners.items() if dist(corner, at) >= HOOK}
    pairs = [(_left_open(at, reached[a], reached[b]), a, b) for a, b in combinations(reached, 2)]
    if pairs:
        known_to, first, second = min(pairs)
        others = [name for name in reached if name not in (first, second)]
        yield Mark(
            at=at,
            ties=(_tie(at, first, reached), _tie(at, second, reached)),
            check=_check(at, (first, second), others, reached),
            angle=degrees(asin(_sine(at, reached[first], reached[second]))),
            known_to=known_to if known_to < FLAT else known_to - FLAT,
            in_sight=in_sight,
        )


def _left_open(at: Point, first: Point, second: Point) -> float:
    errors = (TAPE_FIXED + TAPE_PART * dist(at, corner) for corner in (first, second))
    sine = _sine(at, first, second)
    return hypot(*errors) / max(sine, 1e-9) + (0.0 if sine >= sin(radians(GOOD_ANGLE)) else FLAT)


def _sine(at: Point, first: Point, second: Point) -> float:
    """Sine of the angle at which two tapes cross, 0 to 1."""
    (ax, ay), (bx, by) = ((corner[0] - at[0], corner[1] - at[1]) for corner in (first, second))
    return min(1.0, abs(ax * by - ay * bx) / (hypot(ax, ay) * hypot(bx, by)))


def _tie(at: Point, name: str, corners: Mapping[str, Point]) -> Tie:
    return Tie(name, dist(at, corners[name]))


def _check(
    at: Point, pair: tuple[str, str], others: Iterable[str], corners: Mapping[str, Point]
) -> Tie | None:
    """The corner that best tells the mark from the other crossing of the two circles."""
    other_crossing = _mirrored(at, corners[pair[0]], corners[pair[1]])

    def tells(name: str) -> float:
        return abs(dist(corners[name], at) - dist(corners[name], other_crossing))

    best = max(others, key=tells, default=None)
    return None if best is None else _tie(at, best, corners)


def _mirrored(point: Point, start: Point, end: Point) -> Point:
    ux, uy = end[0] - start[0], end[1] - start[1]
    share = ((point[0] - start[0]) * ux + (point[1] - start[1]) * uy) / (ux * ux + uy * uy)
    return 2 * (start[0] + share * ux) - point[0], 2 * (start[1] + share * uy) - point[1]

"""A mark on the floor by two tapes from corners, and a third that proves it.

Of all pairs of corners in sight the one is taken whose circles fix the mark
best. A tape of EC class II may be off by 0.3 mm + 0.2 mm per metre (TRADE.md);
two tapes that cross at an angle θ leave hypot(e₁, e₂) / sin θ.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass
from itertools import combinations
from math import asin, degrees, dist, hypot, radians, sin

from engine.geometry.shapes import Point
from engine.setting_out.clear_line import Sight

# Two tapes that cross flatter than this are taken only where there are no better ones, degrees.
GOOD_ANGLE = 30.0
# Flatter than this they do not say where the mark is.
LEAST_ANGLE = 15.0
# A tape shorter than this is all hook, mm.
NEAR = 150.0
# EC class II: mm, and mm per mm.
TAPE_FIXED, TAPE_PART = 0.3, 0.2 / 1000


@dataclass(frozen=True, slots=True)
class Tie:
    """A distance in mm from a corner."""

    corner: str
    distance: float


@dataclass(frozen=True, kw_only=True, slots=True)
class Mark:
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
    """The first of the places that two tapes in sight fix at a good angle; else the best there is."""
    flat: list[Mark] = []
    for place in places:
        mark = _mark(place, corners, sight)
        if mark is not None and mark.angle >= GOOD_ANGLE:
            return mark
        if mark is not None and mark.angle >= LEAST_ANGLE:
            flat.append(mark)
    if flat:
        return max(flat, key=lambda mark: mark.angle)
    blind = _mark(places[0], corners, None)
    if blind is None:
        raise ValueError("a room has three corners or more that are not in one line")
    return blind


def _mark(at: Point, corners: Mapping[str, Point], sight: Sight | None) -> Mark | None:
    """The mark by the corners in sight, or by any when sight is not asked for; None from fewer than two."""
    names = [
        name
        for name, corner in corners.items()
        if dist(corner, at) >= NEAR and (sight is None or sight.is_clear(corner, at))
    ]
    pairs = [(_left_open(at, corners[a], corners[b]), a, b) for a, b in combinations(names, 2)]
    if not pairs:
        return None
    known_to, first, second = min(pairs)
    others = [name for name in names if name not in (first, second)]
    return Mark(
        at=at,
        ties=(_tie(at, first, corners), _tie(at, second, corners)),
        check=_check(at, (first, second), others, corners),
        angle=degrees(asin(_sine(at, corners[first], corners[second]))),
        known_to=known_to,
        in_sight=sight is not None,
    )


def _left_open(at: Point, first: Point, second: Point) -> float:
    errors = (TAPE_FIXED + TAPE_PART * dist(at, corner) for corner in (first, second))
    # Flat crossings come last of all, however short their tapes.
    sine = _sine(at, first, second)
    penalty = 0.0 if sine >= sin(radians(GOOD_ANGLE)) else 1e3
    return hypot(*errors) / max(sine, 1e-9) + penalty


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

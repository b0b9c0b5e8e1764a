"""Where one point of a fixed thing is, from lengths to it from the corners.

The two read first put it there, or of more lengths the first two that cross
well enough. They leave two places, mirror images in the line from corner to
corner, of which one is chosen.
"""

from collections.abc import Mapping, Sequence
from itertools import combinations
from math import dist, hypot, sqrt

from msgspec import Struct

from engine.errors import Refused
from engine.geometry.plane import distance_to_segment
from engine.geometry.shapes import Point, Ring
from engine.survey.crossing import inside
from engine.survey.tolerances import ASKED_ABOUT, BEHIND_WALL
from engine.survey.two_tapes import two_tape_fix

# Two standard deviations: 95 % of a normal error.
SURE = 2.0

# Two lengths that cross at 30° or more hold a point well enough: a third then only proves it.
WELL = 0.5

# Lengths that only just touch cross at this sine, so that what they leave open stays a number.
TOUCHING = 1e-6


class ThingLength(Struct, frozen=True, kw_only=True):
    """A length in mm from a corner, to a point of a fixed thing.

    ``sd`` holds the corner's own error too. ``path`` is the reading's place in
    the job file.
    """

    thing: str
    point: int
    from_: str
    value: float
    sd: float
    path: str


class Placed(Struct, frozen=True, kw_only=True):
    """A point, the two lengths that put it there and the corners where they start."""

    at: Point
    pair: tuple[ThingLength, ThingLength]
    starts: tuple[Point, Point]

    @property
    def known_to(self) -> float:
        """Two standard deviations in the direction in which the place is known worst, mm."""
        (xx, xy), yy = self._covariance((1.0, 0.0)), self._covariance((0.0, 1.0))[1]
        return SURE * sqrt((xx + yy) / 2 + hypot((xx - yy) / 2, xy))

    def miss(self, length: ThingLength, start: Point) -> float:
        """What was read less what it would be by the two others, mm."""
        return length.value - dist(self.at, start)

    def allowed(self, length: ThingLength, start: Point) -> float:
        """How far a length from ``start`` may be off before it is asked about, mm."""
        ux, uy = _direction(start, self.at)
        cx, cy = self._covariance((ux, uy))
        return ASKED_ABOUT * sqrt(ux * cx + uy * cy + length.sd**2)

    def _covariance(self, along: Point) -> Point:
        """The place's covariance matrix times a direction, mm²."""
        (ax, ay), (bx, by) = (_direction(start, self.at) for start in self.starts)
        crossing = ax * by - ay * bx
        if abs(crossing) < TOUCHING:
            crossing = TOUCHING
        # How the place moves when the one or the other length grows by 1.
        moves = ((by / crossing, -bx / crossing), (-ay / crossing, ax / crossing))
        x = y = 0.0
        for (mx, my), length in zip(moves, self.pair, strict=True):
            share = (mx * along[0] + my * along[1]) * length.sd**2
            x, y = x + mx * share, y + my * share
        return (x, y)


def place_point(
    now: Point, lengths: Sequence[ThingLength], corners: Mapping[str, Point], ring: Ring
) -> Placed | None:
    """The point from the first two lengths that cross well, else best; None when no two of them meet.

    ``now`` is where the job has it, ``ring`` the room.
    """
    for one, other in sorted(pairs(lengths), key=lambda pair: -min(_crossing(pair, corners), WELL)):
        starts = corners[one.from_], corners[other.from_]
        spots = _spots(one, other, *starts)
        if spots:
            others = [length for length in lengths if length not in (one, other)]
            at = _likeliest(spots, now, others, corners, ring)
            return Placed(at=at, pair=(one, other), starts=starts)
    return None


def pairs(lengths: Sequence[ThingLength]) -> list[tuple[ThingLength, ThingLength]]:
    """Every two lengths that start from two corners."""
    return [(one, other) for one, other in combinations(lengths, 2) if one.from_ != other.from_]


def _crossing(pair: tuple[ThingLength, ThingLength], corners: Mapping[str, Point]) -> float:
    """Sine of the angle at which two lengths cross (law of cosines); 0 when they do not meet."""
    one, other = pair
    base = dist(corners[one.from_], corners[other.from_])
    cosine = (one.value**2 + other.value**2 - base**2) / (2 * one.value * other.value)
    return sqrt(max(1 - cosine**2, 0.0))


def _spots(one: ThingLength, other: ThingLength, a: Point, b: Point) -> tuple[Point, ...]:
    """Both places where the two lengths end together; none when they do not meet."""
    slack = ASKED_ABOUT * hypot(one.sd, other.sd)
    try:
        return (
            two_tape_fix(a, b, one.value, other.value, slack),
            two_tape_fix(b, a, other.value, one.value, slack),
        )
    except Refused:
        return ()


def _likeliest(
    spots: Sequence[Point],
    now: Point,
    others: Sequence[ThingLength],
    corners: Mapping[str, Point],
    ring: Ring,
) -> Point:
    """The place inside the room; of two inside the one that the other lengths fit, else the nearer."""
    within = [spot for spot in spots if _is_within(spot, ring)] or spots

    def misfit(spot: Point) -> float:
        return sum((dist(spot, corners[length.from_]) - length.value) ** 2 for length in others)

    return min(within, key=misfit if others else lambda spot: dist(spot, now))


def _is_within(spot: Point, ring: Ring) -> bool:
    """Inside the room, or as little behind a wall as a length to it may be off."""
    sides = zip(ring, (*ring[1:], ring[0]), strict=True)
    return inside(spot, ring) or any(distance_to_segment(spot, *side) <= BEHIND_WALL for side in sides)


def _direction(start: Point, end: Point) -> Point:
    reach = dist(start, end) or 1.0
    return ((end[0] - start[0]) / reach, (end[1] - start[1]) / reach)

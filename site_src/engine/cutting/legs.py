"""A cut curve taken apart at its corners: straight legs, and the round between two of them.

Where two walls meet inside a board the curve has a corner. At an outside corner
of the room the points at the gap from it form a small arc, which is drilled.
"""

from collections.abc import Iterator, Sequence
from math import atan2, degrees, hypot, pi

from msgspec import Struct

from engine.geometry.shapes import Point

# A turn sharper than this between two edges is a corner of the room, not a bend of a wall, degrees.
CORNER = 5.0
# An arc tighter than this is drilled or sawn round, not cut straight, mm.
TIGHT_RADIUS = 80.0
# Edges of a sampled arc are short; a longer edge is a straight leg, mm.
ARC_EDGE = 12.0


class Leg(Struct, frozen=True):
    """A part of a cut curve without a corner in it. ``is_round``: a tight arc."""

    points: tuple[Point, ...]
    is_round: bool


def turn_at(before: Point, at: Point, after: Point) -> float:
    """Change of direction at a point in degrees, positive to the left."""
    first = atan2(at[1] - before[1], at[0] - before[0])
    second = atan2(after[1] - at[1], after[0] - at[0])
    return degrees((second - first + pi) % (2 * pi) - pi)


def legs_of(points: Sequence[Point]) -> tuple[Leg, ...]:
    """The legs of an open curve, in order, each sharing its end with the next."""
    turns = [0.0, *(turn_at(*points[i : i + 3]) for i in range(len(points) - 2)), 0.0]
    is_round = [_is_round_edge(points, turns, i) for i in range(len(points) - 1)]
    return tuple(_collect(points, turns, is_round))


def _collect(points: Sequence[Point], turns: Sequence[float], is_round: Sequence[bool]) -> Iterator[Leg]:
    start = 0
    for i in range(1, len(points)):
        is_last = i == len(points) - 1
        if is_last or is_round[i] != is_round[i - 1] or (not is_round[i] and abs(turns[i]) > CORNER):
            yield Leg(tuple(points[start : i + 1]), is_round[i - 1])
            start = i


def _is_round_edge(points: Sequence[Point], turns: Sequence[float], i: int) -> bool:
    """Does a short edge bend away at either end as a tight arc does?"""
    length = hypot(points[i + 1][0] - points[i][0], points[i + 1][1] - points[i][1])
    if length > ARC_EDGE:
        return False
    return any(degrees(length / TIGHT_RADIUS) < abs(turn) < 4 * CORNER for turn in turns[i : i + 2])


def turns_outward(points: Sequence[Point]) -> bool:
    """Does a bent curve with the piece on its left turn to the right, so that it bites into the piece?"""
    turned = sum(turn_at(*points[i : i + 3]) for i in range(len(points) - 2))
    return turned < 0

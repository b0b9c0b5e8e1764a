"""Phases that one board bars: there it lies at its edge with too small a piece.

Near any phase a board rises over its edge in proportion to the move, so that
what it bars is a strip between two lines. What all strips leave free of a range
of phases is all of it that can still hold a better place. Where boards change
places along an edge no range is small enough for the most that each piece can
measure to tell; the strips of the one that goes and of the one that comes meet there.
"""

from collections.abc import Iterable, Sequence
from typing import NamedTuple

from engine.geometry.shapes import Point
from engine.setting_out.piece_left import clipped

# More parts of a range than this are not told apart: strips that would part it further are left out.
MOST_PARTS = 16
# A part narrower than this share of its range either way is none.
THIN = 1e-9

Part = Sequence[Point]


class Strip(NamedTuple):
    """The moves (u, v) from a phase, as parts of a cell, with ``low`` < u·along + v·across < ``high``, mm."""

    along: float
    across: float
    low: float
    high: float

    def comes_to(self, half_along: float, half_across: float) -> bool:
        """Does it come to any move of up to so much either way?"""
        most = abs(self.along) * half_along + abs(self.across) * half_across
        return self.low < most and self.high > -most


def free_parts(half_along: float, half_across: float, strips: Iterable[Strip]) -> list[Part]:
    """What strips leave of a range of phases, as convex parts around its middle."""
    a, b = half_along, half_across
    parts: list[Part] = [((-a, -b), (a, -b), (a, b), (-a, b))]
    for strip in strips:
        if not strip.comes_to(a, b):
            continue
        left = [part for whole in parts for part in _without(whole, strip, (THIN * a, THIN * b))]
        if len(left) <= MOST_PARTS:
            parts = left
        if not parts:
            break
    return parts


def box(parts: Sequence[Part]) -> tuple[Point, Point]:
    """The least and the greatest of some parts' phases."""
    points = [point for part in parts for point in part]
    return (
        (min(u for u, _ in points), min(v for _, v in points)),
        (max(u for u, _ in points), max(v for _, v in points)),
    )


def middle(part: Part) -> Point:
    """A point inside a convex part."""
    return sum(u for u, _ in part) / len(part), sum(v for _, v in part) / len(part)


def _without(part: Part, strip: Strip, thin: Point) -> list[Part]:
    rises = [u * strip.along + v * strip.across for u, v in part]
    least, most = min(rises), max(rises)
    if most <= strip.low or least >= strip.high:
        return [part]
    below = [[strip.low - rise, u, v] for rise, (u, v) in zip(rises, part, strict=True)]
    above = [[rise - strip.high, u, v] for rise, (u, v) in zip(rises, part, strict=True)]
    kept = ([below] if least < strip.low else []) + ([above] if most > strip.high else [])
    left = [[(row[1], row[2]) for row in clipped(rows, 0)] for rows in kept]
    return [part for part in left if not _is_thin(part, thin)]


def _is_thin(part: Part, thin: Point) -> bool:
    (u, v), (other_u, other_v) = box([part])
    return other_u - u <= thin[0] and other_v - v <= thin[1]

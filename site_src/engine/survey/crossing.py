"""Do straight lines cross, is a point inside? For a handful of corners; shapes are the kernel's work."""

from collections.abc import Sequence
from itertools import combinations

from engine.geometry.shapes import Point

Segment = tuple[Point, Point]


def crossings(ring: Sequence[Point]) -> int:
    """How many pairs of sides of the ring cross each other."""
    sides = list(zip(ring, (*ring[1:], ring[0]), strict=True))
    return count_crossing(sides)


def count_crossing(sides: Sequence[Segment]) -> int:
    """How many pairs of the lines cross inside both; lines that share an end do not."""
    return sum(crosses(one, other) for one, other in combinations(sides, 2))


def crosses(one: Segment, other: Segment) -> bool:
    """Whether each line has its ends strictly on both sides of the other."""
    (a, b), (c, d) = one, other
    return _side(a, b, c) * _side(a, b, d) < 0 and _side(c, d, a) * _side(c, d, b) < 0


def _side(a: Point, b: Point, c: Point) -> float:
    """Twice the area of the triangle; exactly 0 when c is an end of the line."""
    if c in (a, b):
        return 0.0
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def inside(point: Point, ring: Sequence[Point]) -> bool:
    """Even-odd rule: a line from the point to the right crosses the ring an odd number of times."""
    x, y = point
    found = False
    for (ax, ay), (bx, by) in zip(ring, (*ring[1:], ring[0]), strict=True):
        if (ay > y) != (by > y) and x < ax + (bx - ax) * (y - ay) / (by - ay):
            found = not found
    return found

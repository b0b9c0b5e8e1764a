"""Convex hulls and what is measured on them."""

from collections.abc import Iterable, Sequence
from math import hypot, inf

from engine.geometry.shapes import Point, Ring


def turn_of(a: Point, b: Point, c: Point) -> float:
    """Give twice the area of the triangle, positive when a → b → c turns left."""
    return (b[0] - a[0]) * (c[1] - a[1]) - (b[1] - a[1]) * (c[0] - a[0])


def lower_hull(points: Iterable[Point]) -> list[Point]:
    """Give the lower hull from left to right, without corners on its sides (Andrew's monotone chain)."""
    return _chain(sorted(set(points)))


def upper_hull(points: Iterable[Point]) -> list[Point]:
    """Give the upper hull from left to right, without corners on its sides."""
    return _chain(sorted(set(points), reverse=True))[::-1]


def convex_hull(points: Iterable[Point]) -> Ring:
    """Give the hull counter-clockwise from its leftmost lowest point; two points or one when flat."""
    ordered = sorted(set(points))
    if len(ordered) < 3:
        return tuple(ordered)
    return tuple(_chain(ordered)[:-1] + _chain(ordered[::-1])[:-1])


def least_width(hull: Ring) -> float:
    """Give the least distance between two parallel lines that hold a convex ring between them, 0 when flat.

    One of the two lines always lies on a side (Houle & Toussaint 1988, from
    memory); the corner farthest from it only moves forward as the side does.
    """
    count = len(hull)
    if count < 3:
        return 0.0
    least = inf
    far = 1
    for place, start in enumerate(hull):
        end = hull[(place + 1) % count]
        while turn_of(start, end, hull[(far + 1) % count]) > turn_of(start, end, hull[far]):
            far = (far + 1) % count
        least = min(least, turn_of(start, end, hull[far]) / hypot(end[0] - start[0], end[1] - start[1]))
    return least


def _chain(ordered: Sequence[Point]) -> list[Point]:
    """Keep the points of a sorted row that turn left all the way."""
    chain: list[Point] = []
    for point in ordered:
        while len(chain) > 1 and turn_of(chain[-2], chain[-1], point) <= 0:
            chain.pop()
        chain.append(point)
    return chain

"""Small questions about points, lines and rings in the plane, answered without a library. Lengths in mm."""

from collections.abc import Sequence
from itertools import pairwise
from math import acos, ceil, cos, dist, hypot, pi, sin
from typing import NamedTuple

from engine.geometry.shapes import Point, Region, Ring

PARALLEL = 1e-12
"""Sine of the angle below which two lines are held to be parallel: they meet too far away to matter."""


class Nearest(NamedTuple):
    """The point of a polyline nearest to a given one, its distance, and its station along the line."""

    distance: float
    station: float
    point: Point


def nearest_on_segment(point: Point, start: Point, end: Point) -> Point:
    """Give the point of the segment nearest to ``point``."""
    along_x, along_y = end[0] - start[0], end[1] - start[1]
    squared = along_x * along_x + along_y * along_y
    if squared == 0:
        return start
    share = ((point[0] - start[0]) * along_x + (point[1] - start[1]) * along_y) / squared
    if share <= 0:
        return start
    if share >= 1:
        return end
    return start[0] + share * along_x, start[1] + share * along_y


def distance_to_segment(point: Point, start: Point, end: Point) -> float:
    """Give the distance from a point to a segment."""
    return dist(point, nearest_on_segment(point, start, end))


def comes_within(ring: Ring, point: Point, reach: float) -> bool:
    """Tell whether a ring's line comes to within so much of a point."""
    x, y = point
    columns, rows = zip(*ring, strict=True)
    if min(columns) > x + reach or max(columns) < x - reach or min(rows) > y + reach or max(rows) < y - reach:
        return False
    sides = pairwise((*ring, ring[0]))
    return any(distance_to_segment(point, start, end) <= reach for start, end in sides)


def nearest_on_polyline(point: Point, line: Sequence[Point]) -> Nearest:
    """Give the first nearest point of a polyline of one point or more."""
    best = Nearest(dist(point, line[0]), 0.0, line[0])
    passed = 0.0
    for start, end in pairwise(line):
        foot = nearest_on_segment(point, start, end)
        distance = dist(point, foot)
        if distance < best.distance:
            best = Nearest(distance, passed + dist(start, foot), foot)
        passed += dist(start, end)
    return best


def polyline_length(line: Sequence[Point]) -> float:
    """Give the length of a polyline."""
    return sum(dist(start, end) for start, end in pairwise(line))


def in_ring(point: Point, ring: Ring) -> bool:
    """Tell whether a point lies inside a ring (crossings of a ray to the right); either way on its line."""
    x, y = point
    inside = False
    ax, ay = ring[-1]
    for bx, by in ring:
        if (ay > y) != (by > y) and x < ax + (y - ay) * (bx - ax) / (by - ay):
            inside = not inside
        ax, ay = bx, by
    return inside


def in_region(point: Point, region: Region) -> bool:
    """Tell whether a point lies inside a region and in none of its holes."""
    return any(
        in_ring(point, outer) and not any(in_ring(point, hole) for hole in holes) for outer, *holes in region
    )


def line_intersection(a: Point, b: Point, c: Point, d: Point) -> Point | None:
    """Give the point where the endless line a–b meets the endless line c–d; None when parallel."""
    ux, uy = b[0] - a[0], b[1] - a[1]
    vx, vy = d[0] - c[0], d[1] - c[1]
    crossed = ux * vy - uy * vx
    if abs(crossed) <= PARALLEL * hypot(ux, uy) * hypot(vx, vy):
        return None
    share = ((c[0] - a[0]) * vy - (c[1] - a[1]) * vx) / crossed
    return a[0] + share * ux, a[1] + share * uy


def in_steps(point: Point, first: Point, second: Point) -> tuple[float, float]:
    """Give how many steps of two ways, which may not be parallel, lead from the origin to a point."""
    (ax, ay), (bx, by), (x, y) = first, second, point
    crossed = ax * by - ay * bx
    return (x * by - y * bx) / crossed, (ax * y - ay * x) / crossed


def arc_steps(radius: float, sweep: float, chord_error: float) -> int:
    """Give the fewest chords over ``sweep`` radians that stay within ``chord_error`` of the arc.

    From the rise of an arc over its chord, s = R·(1 − cos(step / 2)).
    """
    # No chord over more than a quarter turn, so that the smallest circle is still a square.
    step = pi / 2 if chord_error >= radius else min(pi / 2, 2 * acos(1 - chord_error / radius))
    return max(1, ceil(abs(sweep) / step - 1e-9))


def arc(centre: Point, radius: float, start: float, sweep: float, chord_error: float) -> list[Point]:
    """Sample an arc from angle ``start`` over ``sweep`` (radians), both ends included, all corners on it."""
    steps = arc_steps(radius, sweep, chord_error)
    angles = (start + sweep * step / steps for step in range(steps + 1))
    return [(centre[0] + radius * cos(angle), centre[1] + radius * sin(angle)) for angle in angles]


def circle(centre: Point, radius: float, chord_error: float) -> Ring:
    """Sample a circle counter-clockwise, all corners on it, no chord farther in than ``chord_error``."""
    return tuple(arc(centre, radius, 0.0, 2 * pi, chord_error)[:-1])

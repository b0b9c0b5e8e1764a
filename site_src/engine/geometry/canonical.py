"""One way to write each shape down, so that equal shapes are equal values.

Outer rings run counter-clockwise, holes clockwise; each ring starts at its
first point by column, then by y; corners that say nothing are left out;
polygons and holes are sorted by their first point; leftovers without width
are dropped.
"""

from collections.abc import Iterable, Sequence
from math import hypot, inf

from engine.geometry.shapes import Point, Polygon, Region, Ring, signed_area
from engine.geometry.tolerances import COLLINEAR, COLUMN, THINNEST


def canonical_region(polygons: Iterable[Sequence[Sequence[Point]]]) -> Region:
    """Write down polygons (outer ring first, rings open, any direction) in the canonical form."""
    written = [canonical_polygon(polygon) for polygon in polygons]
    return tuple(sorted((polygon for polygon in written if polygon), key=_polygon_order))


def canonical_polygon(polygon: Sequence[Sequence[Point]]) -> Polygon:
    """Write down one polygon; empty when it has no width."""
    outer = canonical_ring(polygon[0])
    if not outer:
        return ()
    holes = (canonical_ring(hole, hole=True) for hole in polygon[1:])
    return (outer, *sorted((hole for hole in holes if hole), key=_ring_order))


def canonical_ring(points: Sequence[Point], *, hole: bool = False) -> Ring:
    """Write down one ring without the corners that say nothing; empty when it has no width."""
    kept = without_flat_corners(points)
    if len(kept) < 3 or _is_thin(kept):
        return ()
    return turned(kept, hole=hole)


def turned(ring: Sequence[Point], *, hole: bool = False) -> Ring:
    """Give the ring its direction and its first point, every corner kept."""
    ring = tuple(ring)
    if (signed_area(ring) > 0) == hole:
        ring = ring[::-1]
    orders = [_order(point) for point in ring]
    first = orders.index(min(orders))
    return ring[first:] + ring[:first]


def without_flat_corners(points: Sequence[Point]) -> list[Point]:
    """Leave out repeated corners and those within ``COLLINEAR`` of the line that replaces them.

    Every corner left out is measured against the final line, so a finely
    sampled curve is not eaten away step by step.
    """
    if len(points) < 3:
        return []
    before, after = (points[-1], *points[:-1]), (*points[1:], points[0])
    off = [_off_line(*three) for three in zip(points, before, after, strict=True)]
    start = _sharpest(off)
    if min(off) > COLLINEAR:
        return [*points[start:], *points[:start]]
    kept: list[Point] = [points[start]]
    skipped: list[Point] = []
    for point in [*points[start + 1 :], *points[: start + 1]]:
        if skipped and not _all_on_line(skipped, kept[-1], point):
            kept.append(skipped[-1])
            skipped = []
        skipped.append(point)
    return kept


def _sharpest(off: Sequence[float]) -> int:
    """Place of the corner farthest ``off`` its neighbours' line: it surely stays.

    The first of those that are as far to within ``COLUMN``: in a rectangle or a
    parallelogram the last digit would choose, which differs from machine to machine.
    """
    columns = [round(each / COLUMN) for each in off]
    return columns.index(max(columns))


def _all_on_line(skipped: Sequence[Point], start: Point, end: Point) -> bool:
    return all(_off_line(point, start, end) <= COLLINEAR for point in skipped)


def _off_line(point: Point, start: Point, end: Point) -> float:
    """Distance from the line through two points, or from ``start`` where they are one."""
    along_x, along_y = end[0] - start[0], end[1] - start[1]
    to_x, to_y = point[0] - start[0], point[1] - start[1]
    length = hypot(along_x, along_y)
    if length == 0:
        return hypot(to_x, to_y)
    return abs(along_x * to_y - along_y * to_x) / length


def _is_thin(ring: Sequence[Point]) -> bool:
    """Tell a ring whose mean width is below ``THINNEST`` (a strip of length a has perimeter 2a)."""
    around = sum(hypot(b[0] - a[0], b[1] - a[1]) for a, b in zip(ring, [*ring[1:], ring[0]], strict=True))
    return abs(signed_area(tuple(ring))) <= THINNEST * around / 2


def _order(point: Point) -> tuple[float, float]:
    x, y = point
    return (round(x / COLUMN), y)


def _ring_order(ring: Ring) -> tuple[float, float]:
    return _order(ring[0]) if ring else (inf, inf)


def _polygon_order(polygon: Polygon) -> tuple[float, float]:
    return _ring_order(polygon[0])

"""A point well inside a polygon, where its name stands and a finger meets it.

The centre of area will not do: it may lie in a notch or a hole.
"""

from collections.abc import Iterator

from engine.geometry.plane import in_region, nearest_on_polyline
from engine.geometry.shapes import Point, Polygon, Ring, centroid

# A centre that keeps this far from every edge is taken as it is, mm.
CLEAR = 10.0
# So many lines are laid across, either way.
LINES = 12


def inner_point(polygon: Polygon) -> Point:
    """The centre of area when it lies well inside; else the clearest middle of a line laid across.

    Always inside, unless the polygon has no area.
    """
    centre = centroid(polygon[0])
    if in_region(centre, (polygon,)) and _clearance(centre, polygon) >= CLEAR:
        return centre
    middles = [*_middles(polygon), *((x, y) for y, x in _middles(tuple(map(_swapped, polygon))))]
    inside = [point for point in middles if in_region(point, (polygon,))]
    return max(inside, key=lambda point: _clearance(point, polygon), default=centre)


def _clearance(point: Point, polygon: Polygon) -> float:
    return min(nearest_on_polyline(point, (*ring, ring[0])).distance for ring in polygon)


def _middles(polygon: Polygon) -> Iterator[Point]:
    """The middles of what level lines have inside the polygon."""
    heights = [y for _, y in polygon[0]]
    low, high = min(heights), max(heights)
    for step in range(LINES):
        y = low + (high - low) * (step + 0.5) / LINES
        crossings = sorted(x for ring in polygon for x in _crossings(ring, y))
        for left, right in zip(crossings[::2], crossings[1::2], strict=False):
            yield ((left + right) / 2, y)


def _crossings(ring: Ring, y: float) -> Iterator[float]:
    for (ax, ay), (bx, by) in zip(ring, (*ring[1:], ring[0]), strict=True):
        if (ay > y) != (by > y):
            yield ax + (y - ay) * (bx - ax) / (by - ay)


def _swapped(ring: Ring) -> Ring:
    return tuple((y, x) for x, y in ring)

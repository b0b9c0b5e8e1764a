"""Shapes as two flat arrays, the form in which they cross from Python to JavaScript and back.

``coords`` (doubles) is x, y, x, y, … of every ring in turn. ``counts`` (32-bit
integers) says how to cut it up: for each region the number of its polygons,
for each polygon the number of its rings, for each ring the number of its
points. One array read at once costs a hundredth of a list of lists.
"""

from array import array
from collections.abc import Iterable, Iterator, Sequence

from engine.geometry.shapes import Point, Polygon

UNTOUCHED = -1
"""Stands for the number of polygons where a clipped board came back whole: its points stay here."""

RawPolygon = list[list[Point]]


def flatten(regions: Iterable[Sequence[Polygon]]) -> tuple["array[float]", "array[int]"]:
    """Write regions into (coords, counts)."""
    coords, counts = array("d"), array("i")
    for region in regions:
        counts.append(len(region))
        for polygon in region:
            counts.append(len(polygon))
            for ring in polygon:
                counts.append(len(ring))
                for point in ring:
                    coords.extend(point)
    return coords, counts


def unflatten(coords: Sequence[float], counts: Sequence[int]) -> Iterator[list[RawPolygon] | None]:
    """Read the regions out of (coords, counts) in order; None for one that is ``UNTOUCHED``."""
    points = zip(coords[0::2], coords[1::2], strict=True)
    numbers = iter(counts)
    for polygons in numbers:
        yield None if polygons == UNTOUCHED else [_polygon(points, numbers) for _ in range(polygons)]


def _polygon(points: Iterator[Point], numbers: Iterator[int]) -> RawPolygon:
    return [[next(points) for _ in range(next(numbers))] for _ in range(next(numbers))]

"""Plane shapes as plain values, shared by every layer above.

A ring is open (its first point is not repeated), an outer ring runs
counter-clockwise and a hole clockwise. A polygon is its outer ring followed by
its holes. A region is any number of polygons that do not touch inside.
"""

Point = tuple[float, float]
Ring = tuple[Point, ...]
Polygon = tuple[Ring, ...]
Region = tuple[Polygon, ...]


def signed_area(ring: Ring) -> float:
    """Area of a ring in mm², positive when it runs counter-clockwise (shoelace formula)."""
    if not ring:
        return 0.0
    # Relative to the first point: a small ring far from the origin keeps its digits.
    x0, y0 = ring[0]
    doubled = 0.0
    for (ax, ay), (bx, by) in zip(ring, ring[1:] + ring[:1], strict=True):
        doubled += (ax - x0) * (by - y0) - (bx - x0) * (ay - y0)
    return doubled / 2


def polygon_area(polygon: Polygon) -> float:
    """Area of a polygon in mm², its holes taken off."""
    return sum(signed_area(ring) for ring in polygon)


def region_area(region: Region) -> float:
    """Area of a region in mm²."""
    return sum(polygon_area(polygon) for polygon in region)


def centroid(ring: Ring) -> Point:
    """Centre of area of a ring; the mean of its corners when it has no area."""
    area = signed_area(ring)
    x0, y0 = ring[0]
    if area == 0:
        return (sum(x for x, _ in ring) / len(ring), sum(y for _, y in ring) / len(ring))
    sum_x = sum_y = 0.0
    for (ax, ay), (bx, by) in zip(ring, ring[1:] + ring[:1], strict=True):
        cross = (ax - x0) * (by - y0) - (bx - x0) * (ay - y0)
        sum_x += (ax + bx - 2 * x0) * cross
        sum_y += (ay + by - 2 * y0) * cross
    return (x0 + sum_x / (6 * area), y0 + sum_y / (6 * area))

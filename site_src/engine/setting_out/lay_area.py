"""The lay area: every point of the room at least the gap away from each wall and each fixed thing."""

from collections.abc import Sequence

from engine.geometry.barrier import Barrier
from engine.geometry.kernel import kernel
from engine.geometry.shapes import Polygon, Region, Ring, signed_area
from engine.geometry.strips import strip


def lay_area(outline: Ring, barriers: Sequence[Barrier]) -> Region:
    """The room's ring with a strip as wide as its gap taken off along each barrier. Parts come apart."""
    geos = kernel()
    taken: list[Polygon] = []
    for barrier in barriers:
        taken += _taken(barrier)
    return geos.subtract(((outline,),), geos.unite(taken))


def _taken(barrier: Barrier) -> list[Polygon]:
    """What one barrier takes: the strip along its line, and its inside when it is solid."""
    polygons = list(strip(barrier.points, barrier.gap)) if barrier.gap > 0 else []
    if barrier.solid:
        ring = barrier.points[:-1]
        polygons.append((ring if signed_area(ring) > 0 else ring[::-1],))
    return polygons

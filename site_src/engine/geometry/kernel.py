"""The one door to a geometry library: verbs over plain values, whole batches at a time.

On the desk the verbs are done by shapely, in the browser by GEOS compiled to
WebAssembly. Both answer in the same canonical form (see ``canonical``), so
every layer above may compare values and never learns which one is at work.
"""

from collections.abc import Sequence
from typing import Protocol

from engine.geometry.shapes import Point, Polygon, Region, Ring


class Kernel(Protocol):
    """What a geometry library has to do for us; all lengths in mm."""

    def unite(self, polygons: Sequence[Polygon]) -> Region:
        """All that any of the polygons covers. They may overlap; each must be valid.

        A single polygon keeps its coordinates; the rest comes back on the grid.
        """

    def subtract(self, region: Region, taken: Region) -> Region:
        """What stays of ``region`` when ``taken`` is cut out of it."""

    def clip(self, region: Region, boards: Sequence[Ring]) -> list[Region]:
        """For each convex board, in order, the part of it that lies in ``region``.

        A board wholly inside comes back with its own coordinates untouched, a
        board outside or only touching as an empty region.
        """

    def fault_of(self, polygon: Polygon) -> tuple[str, Point] | None:
        """Why the polygon is not a shape one can compute with, and where; None when it is sound.

        The reason is one of the keys of ``faults.REASONS``.
        """


_in_use: Kernel | None = None


def use(chosen: Kernel) -> None:
    """Make ``chosen`` the kernel of this process."""
    global _in_use
    _in_use = chosen


def kernel() -> Kernel:
    """Give the kernel in use: the chosen one, else shapely, which a desk always has."""
    if _in_use is None:
        from engine.geometry.native import Native  # here, because a phone has no shapely

        use(Native())
    assert _in_use is not None
    return _in_use

"""The geometry kernel of the phone: GEOS in WebAssembly, one call per verb.

The worker hands in ``batch`` (``worker/geos_kernel.js``), so that nothing here
knows JavaScript: what comes back is read by duck typing, and the same class
runs in tests with a stand-in.
"""

from array import array
from collections.abc import Sequence
from typing import Any, Protocol

from engine.geometry.canonical import canonical_region, turned
from engine.geometry.faults import Fault, plain_fault, reason_of
from engine.geometry.flat import RawPolygon, flatten, unflatten
from engine.geometry.shapes import Polygon, Region, Ring
from engine.geometry.tolerances import GRID, LOCAL_MARGIN


class Reply(Protocol):
    """What ``batch`` answers: two arrays as in ``flat``, and a text for the verb ``fault``."""

    coords: Any
    counts: Any
    text: str


class Batch(Protocol):
    """The function given by the worker. ``verb``: unite, subtract, clip or fault; lengths in mm."""

    def __call__(
        self, verb: str, coords: "array[float]", counts: "array[int]", grid: float, margin: float, /
    ) -> Reply:
        """Do one verb on the shapes in (``coords``, ``counts``)."""


class Browser:
    """``Kernel`` on a batch function."""

    def __init__(self, batch: Batch) -> None:
        self._batch = batch

    def unite(self, polygons: Sequence[Polygon]) -> Region:
        """All that any of the polygons covers."""
        return canonical_region(self._regions("unite", polygons)[0] or ())

    def subtract(self, region: Region, taken: Region) -> Region:
        """What stays of ``region`` when ``taken`` is cut out of it."""
        return canonical_region(self._regions("subtract", region, taken)[0] or ())

    def clip(self, region: Region, boards: Sequence[Ring]) -> list[Region]:
        """For each convex board the part of it that lies in ``region``."""
        parts = self._regions("clip", region, [(board,) for board in boards])
        return [
            ((turned(board),),) if part is None else canonical_region(part)
            for board, part in zip(boards, parts, strict=True)
        ]

    def fault_of(self, polygon: Polygon) -> Fault | None:
        """Why the polygon is not sound and where; None when it is."""
        fault = plain_fault(polygon)
        if fault:
            return fault
        reply = self._ask("fault", [polygon])
        if not reply.text:
            return None
        x, y = _numbers(reply.coords)
        return reason_of(reply.text), (x, y)

    def _regions(self, verb: str, *regions: Sequence[Polygon]) -> list[list[RawPolygon] | None]:
        reply = self._ask(verb, *regions)
        return list(unflatten(_numbers(reply.coords), _numbers(reply.counts)))

    def _ask(self, verb: str, *regions: Sequence[Polygon]) -> Reply:
        return self._batch(verb, *flatten(regions), GRID, LOCAL_MARGIN)


def _numbers(given: Any) -> Any:
    """Make a list of a typed array: a proxy of one is brought over whole by its ``to_py``."""
    return (given.to_py() if hasattr(given, "to_py") else given).tolist()

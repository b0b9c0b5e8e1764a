"""The geometry kernel of the desk: shapely (GEOS), whole arrays at a time.

The only module that imports shapely.
"""

import re
from collections.abc import Sequence
from typing import Any

import numpy
import shapely

from engine.geometry.canonical import canonical_region, turned
from engine.geometry.faults import Fault, plain_fault, reason_of
from engine.geometry.shapes import Point, Polygon, Region, Ring
from engine.geometry.tolerances import GRID

_REASON = re.compile(r"(?P<words>[^\[]*)\[(?P<x>\S+) (?P<y>\S+)\]")


class Native:
    """``Kernel`` on shapely."""

    def unite(self, polygons: Sequence[Polygon]) -> Region:
        """All that any of the polygons covers."""
        return _region(shapely.union_all(_geometries(polygons), grid_size=GRID))

    def subtract(self, region: Region, taken: Region) -> Region:
        """What stays of ``region`` when ``taken`` is cut out of it."""
        return _region(shapely.difference(_geometry(region), _geometry(taken), grid_size=GRID))

    def clip(self, region: Region, boards: Sequence[Ring]) -> list[Region]:
        """For each convex board the part of it that lies in ``region``."""
        if not boards:
            return []
        area = _geometry(region)
        shapes = _geometries([(board,) for board in boards])
        shapely.prepare(area)
        near = shapely.intersects(area, shapes)
        whole = near & shapely.covers(area, shapes)
        cut = numpy.flatnonzero(near & ~whole)
        clipped: list[Region] = [
            ((turned(board),),) if kept else () for board, kept in zip(boards, whole, strict=True)
        ]
        parts = _regions(shapely.intersection(area, shapes[cut], grid_size=GRID))
        for place, part in zip(cut, parts, strict=True):
            clipped[place] = part
        return clipped

    def fault_of(self, polygon: Polygon) -> Fault | None:
        """Why the polygon is not sound and where; None when it is."""
        fault = plain_fault(polygon)
        if fault:
            return fault
        found = _REASON.fullmatch(shapely.is_valid_reason(_geometries([polygon])[0]))
        return (reason_of(found["words"]), (float(found["x"]), float(found["y"]))) if found else None


def _geometry(region: Region) -> Any:
    return shapely.multipolygons(_geometries(region))


def _geometries(polygons: Sequence[Polygon]) -> Any:
    """Make an array of shapely polygons out of ours."""
    rings = [ring for polygon in polygons for ring in polygon]
    owners = [place for place, polygon in enumerate(polygons) for _ in polygon]
    if not rings:
        return numpy.array([], dtype=object)
    points = numpy.array([point for ring in rings for point in ring], dtype=float)
    of_ring = numpy.repeat(numpy.arange(len(rings)), [len(ring) for ring in rings])
    closed: Any = shapely.linearrings(points, indices=of_ring)
    return shapely.polygons(closed, indices=owners)


def _region(geometry: Any) -> Region:
    return _regions([geometry])[0]


def _regions(geometries: Sequence[Any]) -> list[Region]:
    """Make one region of each geometry; lines and points in it are dropped."""
    parts, of_geometry = shapely.get_parts(geometries, return_index=True)
    areal = (shapely.get_dimensions(parts) == 2) & ~shapely.is_empty(parts)
    parts, of_geometry = parts[areal], of_geometry[areal]
    polygons: list[list[list[list[Point]]]] = [[] for _ in geometries]
    for part, owner in zip(parts, of_geometry.tolist(), strict=True):
        polygons[owner].append([_open_ring(ring) for ring in shapely.get_rings(part)])
    return [canonical_region(found) for found in polygons]


def _open_ring(ring: Any) -> list[Point]:
    return [(x, y) for x, y in shapely.get_coordinates(ring)[:-1].tolist()]

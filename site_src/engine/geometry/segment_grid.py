"""Many segments, sorted into square cells, to be asked what is near; thousands of questions a plan."""

from collections import defaultdict
from collections.abc import Iterator, Sequence
from math import floor, hypot
from typing import NamedTuple

from engine.geometry.shapes import Point

Segment = tuple[Point, Point, int]
"""Start, end and the number its owner gave it (a wall's, say)."""

Box = tuple[float, float, float, float]
"""Least x, least y, greatest x, greatest y."""

_Cell = tuple[int, int]

_SLACK = 1e-6
"""A segment is entered this many mm wider than it is, so that rounding never leaves a cell out."""


class Hit(NamedTuple):
    """What lies nearest: its distance, the number of the segment's owner, and the point on it."""

    distance: float
    number: int
    point: Point


class SegmentGrid:
    """An index over segments that do not change. ``cell`` in mm: about the reach of a usual question."""

    def __init__(self, segments: Sequence[Segment], cell: float = 50.0) -> None:
        self._segments = tuple(segments)
        self._cell = cell
        self._cells: dict[_Cell, list[int]] = defaultdict(list)
        for place, (start, end, _) in enumerate(self._segments):
            for key in self._cells_along(start, end):
                self._cells[key].append(place)

    def nearest(self, point: Point, within: float) -> Hit | None:
        """Give the segment nearest to ``point``, at most ``within`` mm away; None when there is none."""
        reach = min(within, self._cell)
        while True:
            hit = self._nearest_of(point, self._places(_around(point, reach)))
            if hit is not None and hit.distance <= reach:
                return hit
            if reach >= within:
                return None
            reach = min(2 * reach, within)

    def near(self, box: Box) -> list[Segment]:
        """Give, in their order, the segments whose own bounding box meets ``box``."""
        places = sorted(set(self._places(box)))
        return [segment for segment in map(self._segments.__getitem__, places) if _boxes_meet(segment, box)]

    def _nearest_of(self, point: Point, places: Iterator[int]) -> Hit | None:
        """Give the nearest of some segments; the loop is written out because it runs a million times."""
        px, py = point
        best: tuple[float, int, float, float] | None = None
        for place in places:
            (ax, ay), (bx, by), _ = self._segments[place]
            ux, uy = bx - ax, by - ay
            squared = ux * ux + uy * uy
            share = ((px - ax) * ux + (py - ay) * uy) / squared if squared else 0.0
            share = 0.0 if share < 0.0 else min(share, 1.0)
            x, y = ax + share * ux, ay + share * uy
            distance = hypot(px - x, py - y)
            # Of two at one distance the first entered wins, whatever cell it was found in.
            if best is None or (distance, place) < best[:2]:
                best = (distance, place, x, y)
        return None if best is None else Hit(best[0], self._segments[best[1]][2], best[2:])

    def _places(self, box: Box) -> Iterator[int]:
        """Give the places of segments entered in the cells under ``box``, some of them more than once."""
        left, low, right, high = (floor(side / self._cell) for side in box)
        for column in range(left, right + 1):
            for row in range(low, high + 1):
                yield from self._cells.get((column, row), ())

    def _cells_along(self, start: Point, end: Point) -> Iterator[_Cell]:
        """Give the cells a segment runs through, column by column."""
        (ax, ay), (bx, by) = sorted((start, end))
        upright = bx - ax <= _SLACK
        steep = 0.0 if upright else (by - ay) / (bx - ax)
        for column in range(floor((ax - _SLACK) / self._cell), floor((bx + _SLACK) / self._cell) + 1):
            enters = max(ax, column * self._cell - _SLACK)
            leaves = min(bx, (column + 1) * self._cell + _SLACK)
            ends = (ay, by) if upright else (ay + steep * (enters - ax), ay + steep * (leaves - ax))
            low, high = floor((min(ends) - _SLACK) / self._cell), floor((max(ends) + _SLACK) / self._cell)
            yield from ((column, row) for row in range(low, high + 1))


def _around(point: Point, reach: float) -> Box:
    return point[0] - reach, point[1] - reach, point[0] + reach, point[1] + reach


def _boxes_meet(segment: Segment, box: Box) -> bool:
    (ax, ay), (bx, by), _ = segment
    left, low, right, high = box
    return min(ax, bx) <= right and max(ax, bx) >= left and min(ay, by) <= high and max(ay, by) >= low

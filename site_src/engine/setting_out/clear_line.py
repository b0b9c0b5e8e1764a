"""Where a straight line can be struck, and from where to where a tape runs freely.

A chalk line and a tape want the same thing: nothing that stands up between their
two ends. Lengths in mm.
"""

from collections.abc import Iterable, Sequence
from itertools import pairwise
from math import dist, inf

from msgspec import Struct
from msgspec.structs import force_setattr

from engine.geometry.plane import distance_to_segment, in_ring
from engine.geometry.shapes import Point, Region

_Edge = tuple[Point, Point]

# A wall thinned to this misses nothing that would bend a tape.
THINNED = 0.5
# A tape bends round a bow of this much and reads no more than a hundredth longer for it.
BENDS = 3.0
# So near to its ends a tape touches what it is held to.
HELD = 15.0
# Where a part of a tape between two ways out is looked at, as a part of its length.
LOOKED_AT = (0.05, 0.5, 0.95)


def clear_parts(region: Region, through: Point, direction: Point) -> tuple[tuple[float, float], ...]:
    """From where to where the endless line lies inside the region, counted from ``through`` along it.

    ``direction`` has length 1. Every edge that the line crosses takes it in or out (even-odd rule).
    """
    crossings = sorted(
        along for polygon in region for ring in polygon for along in _crossings(ring, through, direction)
    )
    return tuple(zip(crossings[::2], crossings[1::2], strict=True))


def _crossings(ring: Sequence[Point], through: Point, direction: Point) -> Iterable[float]:
    ux, uy = direction
    placed = [
        ((x - through[0]) * ux + (y - through[1]) * uy, (y - through[1]) * ux - (x - through[0]) * uy)
        for x, y in ring
    ]
    for (along, beside), (next_along, next_beside) in pairwise((*placed, placed[0])):
        # Half open, so that a corner on the line counts once.
        if (beside >= 0) != (next_beside >= 0):
            yield along + (next_along - along) * beside / (beside - next_beside)


class Sight(Struct, frozen=True):
    """What stands in the way of a tape: walls and solid things as lines of points.

    ``ways_out`` are walls of the room that a tape runs through, as those of a doorway. ``room`` is its ring;
    without it no tape is known to run behind a wall.
    """

    lines: tuple[tuple[Point, ...], ...]
    ways_out: tuple[tuple[Point, ...], ...] = ()
    room: tuple[Point, ...] = ()
    _edges: tuple[_Edge, ...] = ()
    _open_edges: tuple[_Edge, ...] = ()

    def __post_init__(self) -> None:
        force_setattr(self, "_edges", _edges_of(self.lines))
        force_setattr(self, "_open_edges", _edges_of(self.ways_out))

    def is_clear(self, start: Point, end: Point) -> bool:
        """Does a tape run from one point to the other? It may bend by ``BENDS`` to either side."""
        length = dist(start, end)
        if length <= 2 * HELD:
            return True
        ux, uy = (end[0] - start[0]) / length, (end[1] - start[1]) / length
        return any(
            self._is_free(
                (start[0] + HELD * ux - bend * uy, start[1] + HELD * uy + bend * ux),
                (end[0] - HELD * ux - bend * uy, end[1] - HELD * uy + bend * ux),
            )
            for bend in (0.0, BENDS, -BENDS)
        )

    def _is_free(self, start: Point, end: Point) -> bool:
        return not any(_cross(start, end, *edge) for edge in self._edges) and not self._is_behind(start, end)

    def _is_behind(self, start: Point, end: Point) -> bool:
        """Does a part of the tape run behind a wall? By its ends it may have slipped out unseen."""
        if not self.room:
            return False
        ways = (_way_to(start, end, *edge) for edge in self._open_edges if _cross(start, end, *edge))
        for low, high in pairwise((0.0, *sorted(ways), 1.0)):
            for part in LOOKED_AT:
                way = low + part * (high - low)
                at = (start[0] + way * (end[0] - start[0]), start[1] + way * (end[1] - start[1]))
                if not in_ring(at, self.room) and self._is_nearest_to_wall(at):
                    return True
        return False

    def _is_nearest_to_wall(self, point: Point) -> bool:
        """Is a wall, or a solid thing, nearer to a point than any way out?"""
        wall, way_out = (
            min((distance_to_segment(point, *edge) for edge in edges), default=inf)
            for edges in (self._edges, self._open_edges)
        )
        return wall < way_out


def _cross(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Does the segment a–b cross c–d? One that begins or ends on the other does."""
    return _parts(a, b, c, d) and _parts(c, d, a, b)


def _way_to(a: Point, b: Point, c: Point, d: Point) -> float:
    """Which part of the segment a–b lies before it crosses c–d, from 0 to 1."""
    ux, uy = d[0] - c[0], d[1] - c[1]
    before, after = (ux * (y - c[1]) - uy * (x - c[0]) for x, y in (a, b))
    return before / (before - after) if before != after else 0.5


def _parts(a: Point, b: Point, c: Point, d: Point) -> bool:
    """Do two points lie on either side of the endless line a–b?"""
    ux, uy = b[0] - a[0], b[1] - a[1]
    on_left = ux * (c[1] - a[1]) - uy * (c[0] - a[0]) >= 0
    return on_left != (ux * (d[1] - a[1]) - uy * (d[0] - a[0]) >= 0)


def _edges_of(lines: Iterable[Sequence[Point]]) -> tuple[_Edge, ...]:
    return tuple(edge for line in lines for edge in pairwise(_thinned(line, THINNED)))


def _thinned(line: Sequence[Point], within: float) -> tuple[Point, ...]:
    """Fewer points, none of those left out farther from the line than ``within`` (Douglas and Peucker)."""
    if len(line) < 3:
        return tuple(line)
    first, last = line[0], line[-1]
    far = max(range(1, len(line) - 1), key=lambda index: distance_to_segment(line[index], first, last))
    if distance_to_segment(line[far], first, last) <= within:
        return (first, last)
    return (*_thinned(line[: far + 1], within), *_thinned(line[far:], within)[1:])

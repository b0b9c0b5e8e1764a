"""The long straight cut: one line along a whole edge, for a last row that was laid long.

The line is the middle one of the narrowest strip that holds the edge (the
Chebyshev line, on an edge of the hull), moved into the floor by the gap that is
wanted: no other straight line keeps the worst gap nearer to it. Where the edge would
be cut into that way, the cut touches it. All in the frame of
the straight line between the wall's corners: u along it, v into the room, mm.
"""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import atan, cos, hypot

from msgspec import Struct

from engine.cutting.corridor import CutLine
from engine.geometry.hull import lower_hull, upper_hull
from engine.geometry.shapes import Point


class LongCutLine(Struct, frozen=True, kw_only=True):
    """A straight cut v = slope · u + rest along an edge, and what it leaves.

    ``edge`` is the edge beside it, from its start to its end; ``gaps`` the distance from
    each of its points to the cut.
    """

    slope: float
    rest: float
    edge: tuple[Point, ...]
    gaps: tuple[float, ...]

    @property
    def direction(self) -> Point:
        """Unit vector along the cut, the floor on its left."""
        length = hypot(1.0, self.slope)
        return (1 / length, self.slope / length)

    @property
    def ends(self) -> tuple[Point, Point]:
        """Where the cut begins and ends: square from the two ends of the edge."""
        return self._foot(0), self._foot(-1)

    @property
    def narrowest(self) -> tuple[float, float]:
        """Station and width of the least gap, mm."""
        gap, station = min((gap, u) for gap, (u, _) in zip(self.gaps, self.edge, strict=True))
        return station, gap

    @property
    def widest(self) -> tuple[float, float]:
        """Station and width of the greatest gap, mm."""
        gap, station = max((gap, -u) for gap, (u, _) in zip(self.gaps, self.edge, strict=True))
        return -station, gap

    @property
    def length(self) -> float:
        """Length of the cut in mm."""
        (ax, ay), (bx, by) = self.ends
        return hypot(bx - ax, by - ay)

    @property
    def seam_area(self) -> float:
        """Area in mm² between edge and cut: along straight pieces the gap runs straight as well."""
        dx, dy = self.direction
        along = [u * dx + v * dy for u, v in self.edge]
        pairs = zip(pairwise(along), pairwise(self.gaps), strict=True)
        return sum((end - start) * (first + last) / 2 for (start, end), (first, last) in pairs)

    def moved_ends(self, off: float) -> tuple[Point, Point]:
        """The ends of a parallel to the cut, ``off`` mm into the floor."""
        (au, av), (bu, bv) = self.ends
        dx, dy = self.direction
        return (au - off * dy, av + off * dx), (bu - off * dy, bv + off * dx)

    def as_cut(self) -> CutLine:
        """The cut with the floor on its left."""
        return CutLine(at=self.ends[0], direction=self.direction, departure=0.0)

    def _foot(self, place: int) -> Point:
        (u, v), gap = self.edge[place], self.gaps[place]
        dx, dy = self.direction
        return (u - gap * dy, v + gap * dx)


def long_cut_line(edge: Sequence[Point], gap: float) -> LongCutLine:
    """The straight cut whose greatest departure from ``gap`` along the edge is least, none of it cut into."""
    slope = _strip_slope(edge)
    turn = cos(atan(slope))
    rests = [v - slope * u for u, v in edge]
    rest = max((max(rests) + min(rests)) / 2 + gap / turn, max(rests))
    return LongCutLine(
        slope=slope, rest=rest, edge=tuple(edge), gaps=tuple((rest - other) * turn for other in rests)
    )


def _strip_slope(edge: Sequence[Point]) -> float:
    """Slope of the narrowest strip that holds the edge: that of a side of its hull."""
    sides = (*pairwise(lower_hull(edge)), *pairwise(upper_hull(edge)))
    slopes = [(q[1] - p[1]) / (q[0] - p[0]) for p, q in sides if q[0] != p[0]]

    def width(slope: float) -> float:
        rests = [v - slope * u for u, v in edge]
        return (max(rests) - min(rests)) * cos(atan(slope))

    return min(slopes, key=width)


def part_between(edge: Sequence[Point], start: float, end: float) -> tuple[Point, ...]:
    """The part of an edge between two stations, both ends on it; the edge runs on by u."""
    inside = [point for point in edge if start < point[0] < end]
    return (
        (start, offset_at(edge, start, at_step="after")),
        *inside,
        (end, offset_at(edge, end, at_step="before")),
    )


def offset_at(edge: Sequence[Point], station: float, at_step: str = "middle") -> float:
    """Offset of the edge at a station; beyond its ends that of the end.

    Where the edge steps it has two: ``at_step`` chooses the one before, the one after or their middle.
    """
    offsets = tuple(_offsets(edge, station))
    if not offsets:
        return edge[0][1] if station < edge[0][0] else edge[-1][1]
    return {"before": offsets[0], "after": offsets[-1], "middle": (offsets[0] + offsets[-1]) / 2}[at_step]


def _offsets(edge: Sequence[Point], station: float) -> Iterator[float]:
    for (au, av), (bu, bv) in pairwise(edge):
        if au == bu == station:
            yield from (av, bv)
        elif au <= station <= bu:
            yield av + (station - au) / (bu - au) * (bv - av)

"""Where a board between two edges keeps too small a piece: on one side of a line, told by a tangent.

What straight edges that meet at outer corners leave of a board is the overlap of two
convex shapes. While one moves past the other, the length of a long edge inside and the
square root of the area are concave functions of the move (Brunn and Minkowski), so
that no move gains more than the tangent at any one of them says.
"""

from collections.abc import Iterator, Sequence
from math import sqrt
from typing import NamedTuple

from engine.geometry.board import BoardSize
from engine.model.setting_out import Measure
from engine.setting_out.barred import Strip
from engine.setting_out.piece_left import Heights, clipped

# A corner of what is left lies on an edge when it is no higher over it than this, mm.
ON_EDGE = 1e-7
# From which corner of a board to which its long edges go.
LONG_EDGES = ((0, 1), (3, 2))


class Cutting(NamedTuple):
    """A straight edge over a board: the ``heights`` and ``stations`` of its corners in the edge's frame.

    A cell along and across lifts the board by so many mm (``rises``).
    """

    heights: Heights
    stations: Sequence[float]
    rises: tuple[float, float]

    def lifted(self, half: tuple[float, float]) -> "Cutting":
        """Over the same board as high as a range of phases lifts it."""
        more = abs(self.rises[0]) * half[0] + abs(self.rises[1]) * half[1]
        return self._replace(heights=[height + more for height in self.heights])


class _Tangent(NamedTuple):
    """A concave size at a phase, and what it gains for a cell along and across at the most."""

    size: float
    along: float
    across: float

    def below(self, wanted: float, half: tuple[float, float]) -> Strip | None:
        """Moves of up to half a range to either side after which the size is surely no more than wanted."""
        most = abs(self.along) * half[0] + abs(self.across) * half[1]
        high = wanted - self.size
        if high <= -most or most == 0:
            return None
        scale = 1 / (abs(self.along) + abs(self.across))
        return Strip(self.along * scale, self.across * scale, -2 * most * scale, high * scale)


def tangent_strips(
    cuttings: Sequence[Cutting], size: BoardSize, measure: Measure, wanted: float, half: tuple[float, float]
) -> Iterator[Strip]:
    """The moves in a range of phases, ``half`` of it to either side, that leave no more than wanted.

    Only for a board that has its piece wherever it is moved in the range.
    """
    if measure == "area":
        tangents, wanted = [_area(cuttings, size)], sqrt(wanted)
    else:
        tangents = [_long_edge(cuttings, size, ends) for ends in LONG_EDGES]
    if measure == "long_point":
        # The longer long edge counts: the other must be short enough wherever the board is moved.
        lifted = [each.lifted(half) for each in cuttings]
        most = [_long_edge(lifted, size, ends) for ends in LONG_EDGES]
        is_short = [edge is None or edge.size <= wanted for edge in most]
        tangents = [tangent for tangent, other in zip(tangents, is_short[::-1], strict=True) if other][:1]
    for tangent in tangents:
        strip = tangent.below(wanted, half) if tangent is not None else None
        if strip is not None:
            yield strip


def _long_edge(cuttings: Sequence[Cutting], size: BoardSize, ends: tuple[int, int]) -> _Tangent | None:
    """The part of a long edge above all edges; None when there is none just now."""
    low, high = (0.0, 0.0, 0.0), (1.0, 0.0, 0.0)
    for heights, _, (by_place, by_row) in cuttings:
        start, end = heights[ends[0]], heights[ends[1]]
        if start < 0 and end < 0:
            return None
        if start < 0 or end < 0:
            fall = start - end
            crossing = start / fall, by_place / fall, by_row / fall
            low, high = (max(low, crossing), high) if start < 0 else (low, min(high, crossing))
    share, along, across = (b - a for a, b in zip(low, high, strict=True))
    return _Tangent(share * size.length, along * size.length, across * size.length) if share > 0 else None


def _area(cuttings: Sequence[Cutting], size: BoardSize) -> _Tangent | None:
    """The square root of the area above all edges; None when there is none just now."""
    count = len(cuttings)
    rows = [
        [*point, *(each.heights[place] for each in cuttings), *(each.stations[place] for each in cuttings)]
        for place, point in enumerate(size.ring)
    ]
    for which in range(2, 2 + count):
        rows = clipped(rows, which)
    twice = sum(a[0] * b[1] - b[0] * a[1] for a, b in zip(rows, rows[1:] + rows[:1], strict=True))
    if twice <= 0:
        return None
    root, along, across = sqrt(twice / 2), 0.0, 0.0
    for place, (_, _, (by_place, by_row)) in enumerate(cuttings):
        on_it = [row[2 + count + place] for row in rows if row[2 + place] <= ON_EDGE]
        if on_it:
            # Lifted by a mm, the board gains as much as the edge is long within it.
            length = max(on_it) - min(on_it)
            along, across = along + length * by_place, across + length * by_row
    return _Tangent(root, along / (2 * root), across / (2 * root))

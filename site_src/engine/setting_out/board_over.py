"""How a board lies over one edge of the floor, and that edge as a straight line within the board.

An edge bends, but within a board by hundredths of a millimetre only. So what it
leaves of the board is told by the straight line between the two places where it
enters and leaves it, and how far it strays from that line bounds the error.
"""

from collections.abc import Sequence
from math import inf
from typing import NamedTuple

from engine.geometry.board import BoardSize
from engine.geometry.frame import Frame
from engine.geometry.shapes import Ring
from engine.model.setting_out import Measure
from engine.setting_out.edge_line import EdgeLine
from engine.setting_out.piece_left import clipped, lift_to

# An edge that passes through less of a board than this is straightened over so much of it, mm.
SHORTEST = 1.0
# By how much a lift stays below one that is looked for, mm, and how often it is looked for closer.
TINY, TRIES = 1e-6, 3


class Corners(NamedTuple):
    """A board's four corners in the frame of an edge before it is moved, in mm.

    They lie between the stations ``first`` and ``last``, and from ``lowest`` to ``highest`` across.
    """

    stations: Sequence[float]
    across: Sequence[float]
    first: float
    last: float
    lowest: float
    highest: float


def corners_in(frame: Frame, ring: Ring) -> Corners:
    """The corners of a board in the room as an edge's frame has them."""
    stations, across = zip(*frame.ring_to_board(ring), strict=True)
    return Corners(stations, across, min(stations), max(stations), min(across), max(across))


class Over(NamedTuple):
    """A board's four corners in the frame of an edge, and their ``heights`` over it, in mm.

    They lie between the stations ``first`` and ``last``.
    """

    line: EdgeLine
    stations: Sequence[float]
    across: Sequence[float]
    heights: Sequence[float]
    first: float
    last: float

    def passes(self, is_after: bool, along: float, heights: Sequence[float], lift: float) -> bool:
        """May the board, moved by so much along, pass the last or the first station of the edge?

        Asked of that part of it that another edge leaves: ``heights`` over that, once lifted.
        """
        rows = [[height + lift, station] for height, station in zip(heights, self.stations, strict=True)]
        stations = [row[1] for row in (rows if lift == inf else clipped(rows, 0))]
        if is_after:
            return max(stations, default=-inf) + along > self.line.stations[-1]
        return min(stations, default=inf) - along < self.line.stations[0]

    def straightened(self, lift: float, measure: Measure) -> Sequence[float]:
        """The corners' heights over the edge as a straight line, once the board is lifted by some mm.

        The line meets the edge where that enters and leaves the board, or, for areas, leaves as much.
        """
        lifted = [height + lift for height in self.heights]
        crossed = None if self.line.is_straight else self._crossed(lifted)
        if crossed is None:
            return lifted
        more = self.line.bulge(*crossed) if measure == "area" else 0.0
        return self._over_chord(*crossed, lift - more)

    def surely(self, lift: float) -> Sequence[float]:
        """Heights over a straight line below which no point of the lifted board lies inside the floor."""
        lifted = [height + lift for height in self.heights]
        if self.line.is_straight:
            return lifted
        first, last = self.first, self.last
        one, other = self._crossed(lifted) or (first, last)
        heights = self._over_chord(one, other, lift)
        # Where the edge may part from the line by as much as a point lies below it, it may let that point in.
        most = self.line.strays(one, other, first, last)
        rows = [
            [height + most, -height, station] for height, station in zip(heights, self.stations, strict=True)
        ]
        doubtful = [row[2] for row in clipped(clipped(rows, 0), 1)]
        slack = self.line.strays(one, other, min(doubtful), max(doubtful)) if doubtful else 0.0
        return [height + slack for height in heights]

    def roughly(self, lift: float, way: int) -> Sequence[float]:
        """Heights over a straight line that the bent edge keeps below (``way`` 1) or above (−1).

        Quicker and farther off than it need be: once the corners and once what lies between them are taken
        to be where the edge sags most.
        """
        lift += 2 * way * self.line.most_sag
        return [height + lift for height in self.heights]

    def below(self, rise: float, along: float, lift: float) -> tuple[list[float], float]:
        """Heights over a straight line that the floor keeps above wherever the board is, and its slope.

        It is moved by up to ``rise`` mm over the edge and ``along`` mm beside it, and lifted by some mm.
        """
        heights = [height + lift for height in self.heights]
        if self.line.is_straight:
            return heights, self.line.gradients[0]
        first, last = self.first - along, self.last + along
        one, other = self._crossed(heights) or (first, last)
        slope = self.line.chord(one, other)[1]
        heights, most = self._over_chord(one, other, lift), self.line.falls_below(one, other, first, last)
        # Where the edge lies below the line, that matters as far as the board may come as near to it.
        rows = [
            [height + most + rise, rise - height, station]
            for height, station in zip(heights, self.stations, strict=True)
        ]
        near = [row[2] for row in clipped(clipped(rows, 0), 1)]
        slack = self.line.falls_below(one, other, min(near) - along, max(near) + along) if near else 0.0
        return [height + slack for height in heights], slope

    def top(self, inside: Sequence[float], start: float, end: float) -> float:
        """How far the board stands over the edge between two stations; ``inside`` are its heights there.

        A side along a hollow edge reaches in where no corner of the board does.
        """
        most = max(inside)
        return max(most, self._top_in_bends(start, end)) if -self.line.most_sag < most <= 0 else most

    def _top_in_bends(self, start: float, end: float) -> float:
        low, high = max(start, self.first), min(end, self.last)
        ring = list(zip(self.stations, self.across, strict=True))
        sides = [(a, b) for a, b in zip(ring, (*ring[1:], ring[0]), strict=True) if a[0] != b[0]]
        return max(
            (
                y + (other_y - y) * (station - x) / (other_x - x) - offset
                for station, offset in self.line.bends(low, high)
                for (x, y), (other_x, other_y) in sides
                if min(x, other_x) <= station <= max(x, other_x)
            ),
            default=-inf,
        )

    def _over_chord(self, one: float, other: float, lift: float) -> list[float]:
        start, slope = self.line.chord(one, other)
        return [
            across + lift - start - slope * (station - one)
            for station, across in zip(self.stations, self.across, strict=True)
        ]

    def lift_to(self, size: BoardSize, measure: Measure, wanted: float, *, is_rough: bool = False) -> float:
        """A lift, in mm, up to which the edge surely leaves no more of the board than wanted.

        A rough one, quicker, may be too small by four times as much as the edge bends within the board.
        """
        lift = lift_to(self.heights, size, measure, wanted)
        if self.line.is_straight:
            return lift
        if is_rough:
            return lift - 2 * self.line.strays(self.first, self.last, self.first, self.last)
        lift += lift_to(self.straightened(lift, measure), size, measure, wanted) - TINY
        for _ in range(TRIES):
            more = lift_to(self.surely(lift), size, measure, wanted)
            if more >= 0:
                return lift
            lift += more - TINY
        return -inf

    def _crossed(self, heights: Sequence[float]) -> tuple[float, float] | None:
        """From where to where the edge runs through the board, by stations; None when it does not."""
        found = []
        before, behind = heights[3], self.stations[3]
        for height, station in zip(heights, self.stations, strict=True):
            if (height < 0) != (before < 0):
                found.append(behind + before / (before - height) * (station - behind))
            before, behind = height, station
        if not found:
            return None
        low, high = min(found), max(found)
        more = max(0.0, (SHORTEST - high + low) / 2)
        return low - more, high + more


def board_over(line: EdgeLine, corners: Corners, x: float, y: float) -> Over:
    """A board over an edge, moved by some mm in the edge's frame."""
    stations = [station + x for station in corners.stations]
    across = [each + y for each in corners.across]
    heights = across if line.is_straight else line.heights(stations, across)
    return Over(line, stations, across, heights, corners.first + x, corners.last + x)

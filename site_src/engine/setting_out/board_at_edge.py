"""One board at one edge of the floor: how large its piece can be at the most, over a whole range of phases.

A board moves with the pattern, its corners rise and fall over the edge, and what
the edge leaves of it lies between what it leaves at the highest and at the
lowest. That bounds the piece for every phase of a range at once.
"""

from collections.abc import Mapping, Sequence
from dataclasses import dataclass
from math import inf
from typing import NamedTuple

from engine.geometry.board import BoardSize
from engine.geometry.shapes import Point
from engine.model.setting_out import Measure
from engine.setting_out.edge_line import EdgeLine
from engine.setting_out.measures import Placed
from engine.setting_out.phase import PhaseCell

Heights = Sequence[float]

# A piece this near to the edge's gap line lies along it, mm.
TOUCH = 0.01
# A board farther outside the floor than this cannot come in by a small move, mm.
FAR = 25.0


class Reach(NamedTuple):
    """A range of phases: its middle, and how far it reaches to either side, as parts of a cell."""

    along: float
    across: float
    half_along: float
    half_across: float


class Judged(NamedTuple):
    """The most and the least that a piece measures; ``is_there``: it lies at the edge whatever the phase.

    ``most`` is worked out only for one that is there, infinite else.
    """

    most: float
    least: float
    is_there: bool


class Move(NamedTuple):
    """How a range of phases moves any point in an edge's frame.

    By (``x``, ``y``) for its middle, from there by up to ``along`` along the edge
    and by up to ``rise`` in its height over the edge; all mm.
    """

    x: float
    y: float
    along: float
    rise: float


@dataclass(frozen=True, slots=True)
class MovingEdge:
    """An edge of the floor, and how the two phases move a board along and across it (mm a whole cell)."""

    line: EdgeLine
    place: Point
    row: Point

    def move(self, reach: Reach) -> Move:
        """How a range of phases moves a board past this edge."""
        (place_x, place_y), (row_x, row_y) = self.place, self.row
        u, v, a, b = reach
        least, most = self.line.slopes
        slope = (least + most) / 2
        along = a * abs(place_x) + b * abs(row_x)
        rise = a * abs(place_y - slope * place_x) + b * abs(row_y - slope * row_x)
        return Move(
            u * place_x + v * row_x, u * place_y + v * row_y, along, rise + (most - least) / 2 * along
        )


def moving_edge(line: EdgeLine, cell: PhaseCell) -> MovingEdge:
    """The edge as the pattern of a cell moves past it."""
    x, y = line.frame.x, line.frame.y
    place, row = (line.frame.to_board((x + way[0], y + way[1])) for way in (cell.place, cell.row))
    return MovingEdge(line, place, row)


class Beside(NamedTuple):
    """The edge that goes on at an end of another; ``is_inner``: round an inner corner of the floor."""

    edge: int
    is_inner: bool


class Cut(NamedTuple):
    """The heights of a board over an edge beside, how far they rise, and whether its corner turns inwards."""

    heights: Heights
    rise: float
    is_inner: bool


@dataclass(frozen=True, slots=True)
class SearchedEdge:
    """An edge of the search: its weight if it is one that matters, and what goes on at its ends."""

    moving: MovingEdge
    weight: float | None
    before: Beside | None
    after: Beside | None


@dataclass(frozen=True, slots=True)
class BoardAtEdge:
    """A board that may lie along an edge at some phase.

    ``number`` is the board's; ``edge`` counts among ``edges``, all those of the search; ``corners`` are
    those of the board in the frame of each edge before it is moved.
    """

    number: int
    size: BoardSize
    edge: int
    edges: Sequence[SearchedEdge]
    corners: Sequence[Sequence[Point]]

    @property
    def sag(self) -> float:
        """By how much what straight edges tell of this board may be wrong, in mm across the edge."""
        return self.edges[self.edge].moving.line.most_sag

    def judge(self, moves: Sequence[Move], measure: Measure, slack: float = 0.0) -> Judged | None:
        """Judge the piece over a range of phases; None when it is nowhere along the edge.

        ``moves`` are those of all edges. ``slack`` widens what the edges leave, for a
        bound that holds in spite of their bend (mm).
        """
        rise = moves[self.edge].rise
        heights, stations = self._over(self.edge, moves)
        if max(heights) + rise <= 0 or min(heights) - rise > TOUCH:
            return None
        cuts = self._cuts(stations, moves)
        if cuts is None:
            return None
        inside = heights
        if cuts:
            low, high = self._ends
            along = moves[self.edge].along
            widest = _beside(heights, stations, low - along, high + along)
            if not widest or max(widest) + rise <= 0 or min(widest) - rise > TOUCH:
                return None
            inside = _beside(heights, stations, low + along, high - along)
        is_there = bool(inside) and max(inside) > rise and min(inside) < -rise
        weight = self.edges[self.edge].weight or 1.0
        most = self._left([h + rise + slack for h in heights], cuts, 1, slack, measure) if is_there else inf
        least = self._left([h - rise - slack for h in heights], cuts, -1, slack, measure)
        return Judged(most / weight, least / weight, is_there)

    def stand(self, moves: Sequence[Move], measure: Measure) -> tuple[float, float] | None:
        """How far the board stands into the floor at one phase (mm; below 0 it ends short), and its size.

        None when it is nowhere near.
        """
        heights, stations = self._over(self.edge, moves)
        if max(heights) < -FAR or min(heights) > TOUCH:
            return None
        cuts = self._cuts(stations, moves)
        if cuts is None:
            return None
        inside = _beside(heights, stations, *self._ends) if cuts else heights
        if not inside or min(inside) > TOUCH:
            return None
        weight = self.edges[self.edge].weight or 1.0
        return max(inside), self._left(heights, cuts, 0, 0.0, measure) / weight

    @property
    def _ends(self) -> tuple[float, float]:
        stations = self.edges[self.edge].moving.line.stations
        return stations[0], stations[-1]

    def _over(self, edge: int, moves: Sequence[Move]) -> tuple[list[float], list[float]]:
        """The heights of the board's corners over an edge, and their stations along it."""
        x, y, _, _ = moves[edge]
        offset, corners = self.edges[edge].moving.line.offset, self.corners[edge]
        stations = [s + x for s, _ in corners]
        return [t + y - offset(s + x) for s, t in corners], stations

    def _cuts(self, stations: Sequence[float], moves: Sequence[Move]) -> list[Cut] | None:
        """The edges beside that the board comes to; None when it lies wholly beyond this one."""
        edge, along = self.edges[self.edge], moves[self.edge].along
        first, last = min(stations) - along, max(stations) + along
        start, end = edge.moving.line.stations[0], edge.moving.line.stations[-1]
        if first > end or last < start:
            return None
        ends = ((edge.before, first < start), (edge.after, last > end))
        return [
            Cut(self._over(beside.edge, moves)[0], moves[beside.edge].rise, beside.is_inner)
            for beside, is_past in ends
            if is_past and beside is not None
        ]

    def _left(self, heights: Heights, cuts: Sequence[Cut], way: int, slack: float, measure: Measure) -> float:
        """What all edges leave of the board, at the most (``way`` 1), at the least (−1) or just now (0)."""
        others = [([h + way * (cut.rise + slack) for h in cut.heights], cut.is_inner) for cut in cuts]
        return size_left(heights, others, self.size, measure)


def boards_at_edges(boards: Mapping[int, Placed], edges: Sequence[SearchedEdge]) -> tuple[BoardAtEdge, ...]:
    """Every board at every edge that matters, before any range rules it out."""
    rings = {number: board.frame.ring_to_room(board.size.ring) for number, board in boards.items()}
    corners = {
        number: [edge.moving.line.frame.ring_to_board(ring) for edge in edges]
        for number, ring in rings.items()
    }
    return tuple(
        BoardAtEdge(number, board.size, which, edges, corners[number])
        for which, edge in enumerate(edges)
        if edge.weight is not None
        for number, board in boards.items()
    )


def _beside(heights: Heights, stations: Sequence[float], low: float, high: float) -> list[float]:
    """The board's heights over an edge between two stations, those of its parts' corners."""
    rows = [[height, station - low] for height, station in zip(heights, stations, strict=True)]
    if min(stations) < low:
        rows = _clipped(rows, 1)
    if max(stations) > high:
        rows = _clipped([[height, high - low - along] for height, along in rows], 1)
    return [height for height, _ in rows]


def size_left(
    heights: Heights, others: Sequence[tuple[Heights, bool]], size: BoardSize, measure: Measure
) -> float:
    """The size of what an edge leaves of a board together with those beside it.

    At an outer corner it lies above both edges, round an inner one above either,
    unless the corner parts the board: then what lies above the edge alone is a
    piece of its own.
    ``heights`` are those of the board's four corners over each edge.
    """
    outer = [over for over, is_inner in others if not is_inner]
    inner = [over for over, is_inner in others if is_inner and _meet(heights, over)]
    sets = [[heights, *outer]]
    signs = [1.0]
    for over in inner:
        sets += [[over, *outer], [heights, over, *outer]]
        signs += [1.0, -1.0]
    if measure == "area":
        return sum(sign * _area_above(cuts, size) for sign, cuts in zip(signs, sets, strict=True))
    right, left = (
        size.length
        * sum(
            sign * _share_above([(cut[start], cut[end]) for cut in cuts])
            for sign, cuts in zip(signs, sets, strict=True)
        )
        for start, end in ((0, 1), (3, 2))
    )
    return max(right, left) if measure == "long_point" else min(right, left)


def _meet(heights: Heights, other: Heights) -> bool:
    """Is there a part of the board above both edges?"""
    rows = _clipped([[one, two] for one, two in zip(heights, other, strict=True)], 0)
    return any(two >= 0 for _, two in rows)


def _share_above(ends: Sequence[tuple[float, float]]) -> float:
    """The part of an edge that lies above all cuts, by the heights of its two ends over each."""
    low, high = 0.0, 1.0
    for start, end in ends:
        if start < 0 and end < 0:
            return 0.0
        if start < 0:
            low = max(low, start / (start - end))
        elif end < 0:
            high = min(high, start / (start - end))
    return max(0.0, high - low)


def _area_above(cuts: Sequence[Heights], size: BoardSize) -> float:
    cuts = [cut for cut in cuts if min(cut) < 0]
    if not cuts:
        return size.length * size.width
    if any(max(cut) <= 0 for cut in cuts):
        return 0.0
    rows = [[*point, *(cut[place] for cut in cuts)] for place, point in enumerate(size.ring)]
    for which in range(2, 2 + len(cuts)):
        rows = _clipped(rows, which)
    total = 0.0
    for one, other in zip(rows, rows[1:] + rows[:1], strict=True):
        total += one[0] * other[1] - other[0] * one[1]
    return total / 2


def _clipped(rows: list[list[float]], which: int) -> list[list[float]]:
    """A polygon's corners, what lies below 0 in one number taken off (Sutherland & Hodgman 1974)."""
    kept: list[list[float]] = []
    for place, row in enumerate(rows):
        before = rows[place - 1]
        if (row[which] < 0) != (before[which] < 0):
            share = before[which] / (before[which] - row[which])
            kept.append([a + share * (b - a) for a, b in zip(before, row, strict=True)])
        if row[which] >= 0:
            kept.append(row)
    return kept

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
from engine.setting_out.barred import Strip
from engine.setting_out.board_over import Over, board_over
from engine.setting_out.edge_line import EdgeLine
from engine.setting_out.measures import Placed
from engine.setting_out.phase import PhaseCell
from engine.setting_out.piece_left import Heights, clipped, size_left

# A piece this near to the edge's gap line lies along it, mm.
TOUCH = 0.01
# A board farther outside the floor than this cannot come in by a small move, mm.
FAR = 25.0
# How often the range of lifts is halved to find one near a corner.
HALVINGS = 6


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
        by_place, by_row = self.rises((least + most) / 2)
        along = a * abs(place_x) + b * abs(row_x)
        rise = a * abs(by_place) + b * abs(by_row) + (most - least) / 2 * along
        return Move(u * place_x + v * row_x, u * place_y + v * row_y, along, rise)

    def rises(self, slope: float) -> tuple[float, float]:
        """By how much a board rises over the edge where that has a slope, a whole cell along and across."""
        return self.place[1] - slope * self.place[0], self.row[1] - slope * self.row[0]


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
    """How a board lies over an edge beside, how far it rises, and whether the corner there turns inwards."""

    over: Over
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

    def judge(self, moves: Sequence[Move], measure: Measure, *, is_sure: bool = False) -> Judged | None:
        """Judge the piece over a range of phases; None when it is nowhere along the edge.

        ``moves`` are those of all edges. ``is_sure`` asks for a bound that holds although an edge
        bends within the board.
        """
        rise = moves[self.edge].rise
        over = self._over(self.edge, moves)
        heights, stations = over.heights, over.stations
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
        cuts.insert(0, Cut(over, rise, False))
        most = self._left(cuts, 1, measure, is_sure) if is_there else inf
        return Judged(most / weight, self._left(cuts, -1, measure, False) / weight, is_there)

    def stand(self, moves: Sequence[Move], measure: Measure) -> tuple[float, float] | None:
        """How far the board stands into the floor at one phase (mm; below 0 it ends short), and its size.

        None when it is nowhere near.
        """
        over = self._over(self.edge, moves)
        heights, stations = over.heights, over.stations
        if max(heights) < -FAR or min(heights) > TOUCH:
            return None
        cuts = self._cuts(stations, moves)
        if cuts is None:
            return None
        inside = _beside(heights, stations, *self._ends) if cuts else heights
        if not inside or min(inside) > TOUCH:
            return None
        weight = self.edges[self.edge].weight or 1.0
        cuts.insert(0, Cut(over, 0.0, False))
        return max(inside), self._left(cuts, 0, measure, False) / weight

    def barred(self, moves: Sequence[Move], measure: Measure, wanted: float) -> Strip | None:
        """The moves within a range of phases after which its piece is there and smaller than wanted.

        ``moves`` are those of all edges. None when there are none, or when it cannot be told.
        """
        edge, move = self.edges[self.edge], moves[self.edge]
        over = self._over(self.edge, moves)
        cuts = self._cuts(over.stations, moves)
        if cuts is None:
            return None
        line, first, last = edge.moving.line, min(over.stations), max(over.stations)
        least, most = line.slopes_between(first - move.along, last + move.along)
        doubt, inside = (most - least) / 2 * move.along, over.heights
        if cuts:
            low, high = self._ends
            inside = _beside(over.heights, over.stations, low + move.along, high - move.along)
            if not inside:
                return None
            doubt += line.strays(first, last, first, last)
        low, high, wanted = -max(inside), -min(inside), wanted * (edge.weight or 1.0)
        if cuts:
            high = self._lift_beside(
                over, cuts, (max(low, -move.rise), min(high, move.rise)), measure, wanted
            )
        else:
            high = min(high, over.lift_to(self.size, measure, wanted))
        low, high = low + doubt, high - doubt
        return Strip(*edge.moving.rises((least + most) / 2), low, high) if low < high else None

    def _lift_beside(
        self, over: Over, cuts: Sequence[Cut], between: tuple[float, float], measure: Measure, wanted: float
    ) -> float:
        """A lift up to which surely no more than wanted is left near a corner, −∞ if there is none."""
        others = [(cut.over.surely(cut.rise), cut.is_inner) for cut in cuts]

        def is_less(lift: float) -> bool:
            return size_left(over.surely(lift), others, self.size, measure) <= wanted

        low, high = between
        if low > high or not is_less(low):
            return -inf
        if is_less(high):
            return high
        for _ in range(HALVINGS):
            middle = (low + high) / 2
            low, high = (middle, high) if is_less(middle) else (low, middle)
        return low

    @property
    def _ends(self) -> tuple[float, float]:
        stations = self.edges[self.edge].moving.line.stations
        return stations[0], stations[-1]

    def _over(self, edge: int, moves: Sequence[Move]) -> Over:
        """How the board lies over an edge."""
        x, y, _, _ = moves[edge]
        return board_over(self.edges[edge].moving.line, self.corners[edge], x, y)

    def _cuts(self, stations: Sequence[float], moves: Sequence[Move]) -> list[Cut] | None:
        """The edges beside that the board comes to; None when it lies wholly beyond this one."""
        edge, along = self.edges[self.edge], moves[self.edge].along
        first, last = min(stations) - along, max(stations) + along
        start, end = edge.moving.line.stations[0], edge.moving.line.stations[-1]
        if first > end or last < start:
            return None
        ends = ((edge.before, first < start), (edge.after, last > end))
        return [
            Cut(self._over(beside.edge, moves), moves[beside.edge].rise, beside.is_inner)
            for beside, is_past in ends
            if is_past and beside is not None
        ]

    def _left(self, cuts: Sequence[Cut], way: int, measure: Measure, is_sure: bool) -> float:
        """What all edges leave of the board, at the most (``way`` 1), at the least (−1) or just now (0)."""
        own, *others = (
            cut.over.surely(way * cut.rise) if is_sure else cut.over.straightened(way * cut.rise, measure)
            for cut in cuts
        )
        inner = (cut.is_inner for cut in cuts[1:])
        return size_left(own, list(zip(others, inner, strict=True)), self.size, measure)


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
        rows = clipped(rows, 1)
    if max(stations) > high:
        rows = clipped([[height, high - low - along] for height, along in rows], 1)
    return [height for height, _ in rows]

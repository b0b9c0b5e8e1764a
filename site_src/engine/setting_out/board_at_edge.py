"""One board at one edge of the floor: how large its piece can be at the most, over a whole range of phases.

A board moves with the pattern, its corners rise and fall over the edge, and what
the edge leaves of it lies between what it leaves at the highest and at the
lowest. That bounds the piece for every phase of a range at once.
"""

from collections.abc import Iterator, Sequence
from math import inf
from typing import NamedTuple

from msgspec import Struct

from engine.geometry.board import BoardSize
from engine.model.setting_out import Measure
from engine.setting_out.barred import Strip
from engine.setting_out.bars import bars
from engine.setting_out.between_stations import heights_between, heights_inside
from engine.setting_out.board_over import Over
from engine.setting_out.climb import SHORT
from engine.setting_out.lie import CornersAt, Lie, lie, over_edge
from engine.setting_out.moving_edge import Move
from engine.setting_out.piece_along import size_along
from engine.setting_out.searched_edge import TOUCH, Cut, SearchedEdge

# A board farther outside the floor than this cannot come in by a small move, mm.
FAR = 25.0


class Stand(NamedTuple):
    """How far a board stands into the floor at one phase (mm; below 0 it ends short), and its piece's size.

    ``is_known`` unless more of the board may lie in the floor round more corners; ``is_all`` if no more
    can be taken off it than what was looked at.
    """

    top: float
    size: float
    is_known: bool
    is_all: bool

    def is_off(self, reach: float) -> bool:
        """Does the board end so far short that no move of some mm makes it a piece?"""
        return self.top <= -SHORT - reach


class Judged(NamedTuple):
    """The most and the least that a piece measures; ``is_there``: it lies at the edge whatever the phase.

    ``most`` is worked out only for one that is there, infinite else. ``lie`` tells how the board lies
    in the middle of the range.
    """

    most: float
    least: float
    is_there: bool
    lie: Lie


class BoardAtEdge(Struct, frozen=True):
    """A board that may lie along an edge at some phase.

    ``number`` is the board's; ``edge`` counts among ``edges``, all those of the search; ``corners`` are
    those of the board in the frames of this edge and of those near it.
    """

    number: int
    size: BoardSize
    edge: int
    edges: Sequence[SearchedEdge]
    corners: CornersAt

    @property
    def weight(self) -> float:
        """What its edge weighs."""
        return self.edges[self.edge].weight or 1.0

    def judge(self, moves: Sequence[Move], measure: Measure, *, is_sure: bool = False) -> Judged | None:
        """Judge the piece over a range of phases; None when it is nowhere along the edge.

        ``moves`` are those of all edges. ``is_sure`` asks for a bound that holds although an edge
        bends within the board.
        """
        found = self._along(moves)
        if found is None:
            return None
        near, rise = found.near, moves[self.edge].rise
        # A thing, an inner corner or another edge may part a piece: nothing is known of the least left.
        may_go = near.things or max(found.over.heights) <= rise or not found.tells_all(self.corners, moves)
        is_there = self._is_there(found, moves[self.edge])
        most = size_along(found, moves, 1, self.size, measure, is_sure=is_sure) if is_there else inf
        least = 0.0 if may_go else size_along(found, moves, -1, self.size, measure)
        return Judged(most / self.weight, least / self.weight, is_there, found)

    def comes_near(self, moves: Sequence[Move]) -> bool:
        """Is the board anywhere along the edge, somewhere in a range of phases?"""
        return self._along(moves) is not None

    def _along(self, moves: Sequence[Move]) -> Lie | None:
        """How the board lies along the edge and what else it comes to; None when it is nowhere along it."""
        move = moves[self.edge]
        if self._is_off(move, move.rise, move.rise + TOUCH):
            return None
        over = over_edge(self.edges, self.corners, self.edge, moves)
        if max(over.heights) + move.rise <= 0 or min(over.heights) - move.rise > TOUCH:
            return None
        found = lie(self.edges, self.corners, self.edge, over, moves)
        if found is not None and found.near.is_past:
            low, high = found.own.ends
            widest = heights_between(over.heights, over.stations, low - move.along, high + move.along)
            if not widest or max(widest) + move.rise <= 0 or min(widest) - move.rise > TOUCH:
                return None
        return found

    def stand(self, moves: Sequence[Move], measure: Measure) -> Stand | None:
        """How the board stands at one phase; None when it is nowhere near."""
        if self._is_off(moves[self.edge], FAR, TOUCH):
            return None
        over = over_edge(self.edges, self.corners, self.edge, moves)
        heights, stations = over.heights, over.stations
        if max(heights) < -FAR or min(heights) > TOUCH:
            return None
        start, end = self.edges[self.edge].ends
        top = min(end - over.first, over.last - start)
        found = lie(self.edges, self.corners, self.edge, over, moves)
        if found is None:
            return Stand(top, 0.0, True, True) if top > -FAR else None
        near = found.near
        inside = heights_between(heights, stations, start, end) if near.is_past else heights
        outer = [cut for cut in near.cuts if not cut.corner.is_inner]
        tops = [cut.top(over) for cut in outer]
        is_beyond = any(each <= 0 and cut.beyond is None for each, cut in zip(tops, outer, strict=True))
        if is_beyond and _depth(over, outer) <= 0:
            # It lies beyond a corner, and may miss it by a hair.
            return Stand(min(top, *tops), 0.0, True, True) if min(top, *tops) > -FAR else None
        if outer:
            # It may lie inside the floor up to where the edge begins, cut by the edge beside alone.
            top = min(top, _top_at_corners(over, outer, min(tops), (start, end)))
            if top <= -FAR:
                return None
        elif not inside or min(inside) > TOUCH:
            return None
        else:
            top = min(top, over.top(inside, start, end))
        size = size_along(found, moves, 0, self.size, measure) / self.weight
        return Stand(top, size, near.is_known, found.tells_all(self.corners, moves))

    def barred(
        self,
        judged: Judged,
        moves: Sequence[Move],
        half: tuple[float, float],
        measure: Measure,
        wanted: float,
    ) -> Iterator[Strip]:
        """The moves within a range of phases after which its piece is there and smaller than wanted.

        It has been ``judged`` over the range. ``moves`` are those of all edges, ``half`` how far the range
        reaches to either side.
        """
        return bars(judged.lie, judged.is_there, moves, half, self.size, measure, wanted * self.weight)

    def _is_there(self, found: Lie, move: Move) -> bool:
        """Does the board lie at the edge wherever a range moves it?"""
        if not found.near.is_known:
            return False
        low, high = found.own.ends
        inside = found.over.heights
        if found.near.is_past:
            inside = heights_between(inside, found.over.stations, low + move.along, high - move.along)
        return bool(inside) and max(inside) > move.rise and min(inside) < -move.rise

    def _is_off(self, move: Move, below: float, above: float) -> bool:
        """Is the board all of so many mm below every point of its edge, or above, by the edge's own frame?"""
        lowest, highest = self.edges[self.edge].moving.line.levels
        here = self.corners[self.edge]
        return here.highest + move.y < lowest - below or here.lowest + move.y > highest + above


def _top_at_corners(over: Over, outer: Sequence[Cut], top: float, ends: tuple[float, float]) -> float:
    """How far what lies above the edges beside stands into the floor along this one."""
    if top > 0:
        lowest = min(heights_inside(over, outer, *ends), default=FAR)
        # What lies all above the edge comes down to it by a corner, or by a side to where it begins.
        top = min(top, TOUCH - lowest) if lowest <= TOUCH else TOUCH - _lowest_corner(over, outer, *ends)
    return top if top > 0 else max(top, _depth(over, outer))


def _lowest_corner(over: Over, outer: Sequence[Cut], start: float, end: float) -> float:
    """How high the lowest of its corners in the floor lies over an edge, between its ends; ∞ without."""
    beside = zip(*(cut.over.heights for cut in outer), strict=True)
    corners = zip(over.heights, over.stations, beside, strict=True)
    return min((each for each, at, others in corners if start <= at <= end and min(others) >= 0), default=inf)


def _depth(over: Over, outer: Sequence[Cut]) -> float:
    """How deep a corner lies in the board: straight lines for bent edges may miss it by a tenth of a mm."""
    return max(cut.depth(over) for cut in outer)

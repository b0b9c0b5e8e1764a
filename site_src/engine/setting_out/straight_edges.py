"""A phase as far as straight edges tell: quick enough to be asked thousands of times, and to climb by."""

from collections.abc import Collection, Iterable, Iterator, Sequence
from math import hypot, inf
from typing import NamedTuple

from msgspec import Struct

from engine.model.setting_out import Measure
from engine.setting_out.board_at_edge import BoardAtEdge, Judged
from engine.setting_out.climb import SHORT, Slope, climb
from engine.setting_out.moving_edge import Move, Reach
from engine.setting_out.phase import PhaseCell, Span
from engine.setting_out.searched_edge import SearchedEdge

Phase = tuple[float, float]

# Boards are looked for anew after so many mm of a climb; its steps are no shorter than that at last, mm.
NEAR, FINEST = 20.0, 0.002
# Nine in ten climbs take fewer than 15 steps; one that creeps along a board that comes in is ended.
MOST_STEPS = 40
# A climb goes on with smaller steps once a step gains less than this part of its length, by the measure.
FLAT = 0.1
# How far to look to learn how the pieces change, mm.
PROBE = 0.05
# A climb takes no board for one that gains or loses more than so many mm of length a mm; areas cannot
# change by more than a board's length a mm.
STEEPEST = 10.0
# Both the piece looked at and the smallest one may change, along and across.
FARTHEST = 3.0


class Stood(NamedTuple):
    """A board at an edge: how far it stands into the floor, below 0 where it ends short, and its piece."""

    number: int
    edge: str
    height: Slope
    size: Slope


class StraightEdges(Struct, frozen=True):
    """The edges of the floor, the boards that may come to them, and the measure of their pieces."""

    edges: Sequence[SearchedEdge]
    boards: Sequence[BoardAtEdge]
    cell: PhaseCell
    measure: Measure

    def moves(self, reach: Reach) -> list[Move]:
        """How a range of phases moves boards past each edge."""
        return [edge.moving.move(reach) for edge in self.edges]

    def reaching(self, reach: Reach) -> "StraightEdges":
        """The same with those boards only that come to an edge somewhere in a range, or near to it."""
        moves = self._moves_near(reach)
        return self._only(board for board in self.boards if board.comes_near(moves))

    def deciding(self, reach: Reach) -> "StraightEdges":
        """The same with those boards only that can have the smallest piece in a range or near to it."""
        judged = list(self._judged(reach))
        most = min((found.most for _, found in judged if found.is_there), default=inf)
        return self._only(board for board, found in judged if found.least < most)

    def _judged(self, reach: Reach) -> Iterator[tuple[BoardAtEdge, Judged]]:
        moves = self._moves_near(reach)
        for board in self.boards:
            found = board.judge(moves, self.measure)
            if found is not None:
                yield board, found

    def _moves_near(self, reach: Reach) -> list[Move]:
        """How a range of phases and what lies near to it moves boards past each edge."""
        along, across = self.steps(NEAR, NEAR)
        u, v, a, b = reach
        return self.moves(Reach(u, v, a + along, b + across))

    def _only(self, boards: Iterable[BoardAtEdge]) -> "StraightEdges":
        return StraightEdges(self.edges, tuple(boards), self.cell, self.measure)

    def steps(self, along: float, across: float) -> tuple[float, float]:
        """Moves along and across in mm as parts of a cell."""
        return along / hypot(*self.cell.place), across / hypot(*self.cell.row)

    def smallest(self, phase: Phase, boards: Sequence[BoardAtEdge]) -> float:
        """The smallest piece of some boards; 0 where a board all but reaches in, −∞ without a board."""
        moves = self.moves(Reach(*phase, 0.0, 0.0))
        stood = (board.stand(moves, self.measure) for board in boards)
        near = (
            stand.size if stand.top > 0 else 0.0
            for stand in filter(None, stood)
            if stand.top > -SHORT and stand.is_known
        )
        return min(near, default=-inf)

    def is_better(self, phase: Phase, boards: Sequence[BoardAtEdge], worth: float) -> bool:
        """Is the smallest piece of some boards larger than so much?"""
        moves, found = self.moves(Reach(*phase, 0.0, 0.0)), False
        for board in boards:
            stand = board.stand(moves, self.measure)
            if stand is not None and stand.top > -SHORT and stand.is_known:
                found = True
                if stand.top <= 0 < worth or stand.size <= worth:
                    return False
        return found

    def slopes(self, phase: Phase, reach: float) -> tuple[list[Slope], list[Slope]]:
        """The sizes of the pieces and how far boards end short, with what both gain a mm along and across.

        Of those alone that may decide within ``reach`` mm.
        """
        sizes: list[Slope] = []
        short: list[Slope] = []
        for stood in self.stands(phase, reach):
            if stood.height[0] > 0:
                sizes.append(stood.size)
            else:
                short.append(stood.height)
        return sizes, short

    def stands(
        self, phase: Phase, reach: float, least: float = inf, numbers: Collection[int] = ()
    ) -> Iterator[Stood]:
        """How boards stand at a phase that may decide within ``reach`` mm, by what they gain a mm.

        ``least`` is how large the smallest piece is, if that is known better than by straight edges;
        boards of some numbers are looked at whatever their size.
        """
        here, *probes = (
            self.moves(Reach(*probe, 0.0, 0.0))
            for probe in (phase, *(self.moved(phase, way) for way in ((PROBE, 0.0), (0.0, PROBE))))
        )
        stood = [(board, board.stand(here, self.measure)) for board in self.boards]
        known = [(board, stand) for board, stand in stood if stand is not None]
        least = min([least, *(stand.size for _, stand in known if stand.top > 0 and stand.is_known)])
        for board, stand in known:
            steepest = board.size.length if self.measure == "area" else STEEPEST
            is_large = not stand.is_known or stand.size > least + FARTHEST * reach * steepest
            if stand.top <= -SHORT - FARTHEST * reach or (
                stand.top > 0 and is_large and board.number not in numbers
            ):
                continue
            one, other = (board.stand(move, self.measure) for move in probes)
            if one is not None and other is not None:
                height = slope(stand.top, one.top, other.top)
                size = slope(stand.size, one.size, other.size)
                yield Stood(board.number, self.edges[board.edge].moving.line.name, height, size)

    def moved(self, phase: Phase, way: tuple[float, float]) -> Phase:
        """A phase moved by some mm along and across."""
        along, across = self.steps(*way)
        return phase[0] + along, phase[1] + across

    def limits(self, phase: Phase, span: Span) -> tuple[float, float]:
        """How far a phase may be moved across within its span, in mm."""
        row = hypot(*self.cell.row)
        return (span[0] - phase[1]) * row, (span[1] - phase[1]) * row

    def climbed(self, start: Phase, span: Span) -> tuple[float, Phase]:
        """The best phase uphill from another one, within a span of the phase across.

        Boards are known from phase 0 to 1 along and a little beyond: there a climb goes on a cell back.
        """
        start = start[0] % 1.0, start[1]
        near = self.deciding(Reach(*start, 0.0, 0.0))
        phase, best, reach = start, self.smallest(start, near.boards), NEAR / 2
        for _ in range(MOST_STEPS):
            if reach <= FINEST:
                break
            there = self.moved(phase, climb(*near.slopes(phase, reach), reach, self.limits(phase, span)))
            if phase != start and not self.is_near(start, there):
                start = phase = phase[0] % 1.0, phase[1]
                near = self.deciding(Reach(*phase, 0.0, 0.0))
                continue
            value = self.smallest(there, near.boards)
            goes_on = value > best + reach * FLAT
            if value > best:
                best, phase = value, there
            if not goes_on:
                reach /= 4
        return best, phase

    def is_same(self, one: Phase, other: Phase, within: float) -> bool:
        """Do two phases differ by less than some mm both ways, whole cells aside?"""
        steps = self.steps(within, within)
        return all(abs((a - b + 0.5) % 1 - 0.5) < step for a, b, step in zip(one, other, steps, strict=True))

    def is_near(self, start: Phase, there: Phase) -> bool:
        """Has a climb not left the place around which boards were looked for?"""
        along, across = self.steps(NEAR, NEAR)
        return abs(there[0] - start[0]) <= along and abs(there[1] - start[1]) <= across


def slope(here: float, along: float, across: float) -> Slope:
    """A value with what it gains, from its values a probe away."""
    return here, (along - here) / PROBE, (across - here) / PROBE

"""A phase as far as straight edges tell: quick enough to be asked thousands of times, and to climb by."""

from collections.abc import Collection, Iterable, Iterator, Sequence
from math import hypot, inf
from typing import NamedTuple

from msgspec import Struct
from msgspec.structs import replace

from engine.model.setting_out import Measure
from engine.setting_out.board_at_edge import BoardAtEdge, Judged
from engine.setting_out.climb import climb, shorter
from engine.setting_out.measures import a_millimetre
from engine.setting_out.moving_edge import Move, Reach
from engine.setting_out.phase import Phase, PhaseCell, Span
from engine.setting_out.rating import Rated
from engine.setting_out.searched_edge import SearchedEdge
from engine.setting_out.sought import Sought
from engine.setting_out.stands import Stands
from engine.setting_out.stood import Way

# Boards are looked for anew after so many mm of a climb; its steps are no shorter than that at last, mm.
NEAR, FINEST = 20.0, 0.002
# Nine in ten climbs take fewer than 15 steps; one that creeps along a board that comes in is ended.
MOST_STEPS = 40
# A climb goes on with smaller steps once a step gains less than this part of its length.
FLAT = 0.01


class Held(NamedTuple):
    """Is a phase better than what it was held against, and how many boards were clipped to tell?

    ``worse``: the board that tells that it is not.
    """

    is_better: bool
    clipped: int = 0
    worse: BoardAtEdge | None = None


class StraightEdges(Struct, frozen=True):
    """The edges of the floor, the boards that may come to them, and the measure of their pieces.

    ``sought`` is asked, by clipping, of boards of which straight edges do not tell all.
    """

    edges: Sequence[SearchedEdge]
    boards: Sequence[BoardAtEdge]
    cell: PhaseCell
    measure: Measure
    sought: Sought | None = None

    def moves(self, reach: Reach) -> list[Move]:
        """How a range of phases moves boards past each edge."""
        return [edge.moving.move(reach) for edge in self.edges]

    def reaching(self, reach: Reach) -> "StraightEdges":
        """The same with those boards only that come to an edge somewhere in a range, or near to it."""
        moves = self.moves_near(reach)
        return self._only(board for board in self.boards if board.comes_near(moves))

    def deciding(self, reach: Reach) -> "StraightEdges":
        """The same with those boards only that can have the smallest piece in a range or near to it."""
        judged = list(self._judged(reach))
        most = min((found.most for _, found in judged if found.is_there), default=inf)
        return self._only(board for board, found in judged if found.least < most)

    def _judged(self, reach: Reach) -> Iterator[tuple[BoardAtEdge, Judged]]:
        moves = self.moves_near(reach)
        for board in self.boards:
            found = board.judge(moves, self.measure)
            if found is not None:
                yield board, found

    def moves_near(self, reach: Reach) -> list[Move]:
        """How a range of phases and what lies near to it moves boards past each edge."""
        along, across = self.steps(NEAR, NEAR)
        u, v, a, b = reach
        return self.moves(Reach(u, v, a + along, b + across))

    def _only(self, boards: Iterable[BoardAtEdge]) -> "StraightEdges":
        return replace(self, boards=tuple(boards))

    def steps(self, along: float, across: float) -> tuple[float, float]:
        """Moves along and across in mm as parts of a cell."""
        return along / hypot(*self.cell.place), across / hypot(*self.cell.row)

    def at(self, phase: Phase) -> Stands:
        """How its boards stand at a phase."""

        def clip(way: Way, unsure: Collection[int]) -> Rated | None:
            return self._clipped(self.moved(phase, way), unsure)

        return Stands(
            self.boards,
            self.measure,
            lambda way: self.moves(Reach(*self.moved(phase, way), 0.0, 0.0)),
            clip if self.sought is not None else None,
            {edge.moving.line.name: edge.weight for edge in self.edges if edge.weight is not None},
        )

    def _clipped(self, phase: Phase, unsure: Collection[int]) -> Rated | None:
        """The boards that straight edges leave unsure at a phase, clipped; None without any."""
        if self.sought is None:
            return None
        numbers = self.sought.at_rounds(phase).union(unsure)
        return self.sought.only(numbers).rated(phase) if numbers else None

    def smallest(self, phase: Phase, boards: Sequence[BoardAtEdge]) -> float:
        """The smallest piece of some boards; 0 where a board all but reaches in, −∞ without a board."""
        smallest, unsure, _ = self._told(phase, boards, -inf)
        clipped = self._clipped(phase, unsure)
        smallest = min(smallest, clipped.value if clipped else inf)
        return smallest if smallest < inf else -inf

    def is_better(self, phase: Phase, boards: Sequence[BoardAtEdge], worth: float) -> bool:
        """Is the smallest piece of some boards larger than so much?"""
        return self.held_against(phase, boards, worth).is_better

    def held_against(self, phase: Phase, boards: Sequence[BoardAtEdge], worth: float) -> Held:
        """The same, and how many boards had to be clipped to tell."""
        smallest, unsure, last = self._told(phase, boards, worth)
        if smallest <= worth:
            return Held(False, worse=last)
        clipped = self._clipped(phase, unsure)
        if clipped is not None:
            smallest = min(smallest, clipped.value)
        return Held(worth < smallest < inf, len(unsure))

    def _told(
        self, phase: Phase, boards: Sequence[BoardAtEdge], worth: float
    ) -> tuple[float, set[int], BoardAtEdge | None]:
        """The smallest piece that straight edges tell, or one no larger than so much, and unsure boards.

        And the last board looked at.
        """
        moves, smallest, board = self.moves(Reach(*phase, 0.0, 0.0)), inf, None
        unsure: set[int] = set()
        for board in boards:
            stand = board.stand(moves, self.measure)
            if stand is None or stand.is_off(0.0):
                continue
            if self.sought is not None and not stand.is_all:
                unsure.add(board.number)
            elif stand.is_known:
                smallest = min(smallest, stand.size)
                if smallest <= worth:
                    break
        return smallest, unsure, board

    def moved(self, phase: Phase, way: Way) -> Phase:
        """A phase moved by some mm along and across."""
        along, across = self.steps(*way)
        return phase[0] + along, phase[1] + across

    def limits(self, phase: Phase, span: Span) -> tuple[float, float]:
        """How far a phase may be moved across within its span, in mm."""
        row = hypot(*self.cell.row)
        return (span[0] - phase[1]) * row, (span[1] - phase[1]) * row

    def climbed(self, start: Phase, span: Span, wanted: float = -inf) -> tuple[float, Phase]:
        """The best phase uphill from another one, within a span of the phase across.

        Boards are known from phase 0 to 1 along and a little beyond: there a climb goes on a cell back.
        It is given up on the way where no phase near by will be worth what is ``wanted``.
        """
        start = start[0] % 1.0, start[1]
        near = self.deciding(Reach(*start, 0.0, 0.0))
        phase, here, reach = start, near.at(start), NEAR / 2
        mm = a_millimetre(self.measure, max((board.size.width for board in self.boards), default=1.0))
        for _ in range(MOST_STEPS):
            if reach <= FINEST:
                break
            way, worth = climb(*here.slopes(reach), reach, self.limits(phase, span))
            flat = reach * FLAT * mm
            if worth < wanted - flat and max(map(abs, way)) < reach:
                break
            there = self.moved(phase, way)
            if phase != start and not self.is_near(start, there):
                start = phase = phase[0] % 1.0, phase[1]
                near = self.deciding(Reach(*phase, 0.0, 0.0))
                here = near.at(phase)
                continue
            found = near.at(there) if there != phase else here
            gain = found.smallest - here.smallest
            if gain <= flat:
                reach = shorter(reach, way, FINEST)
            if gain > 0:
                phase, here = there, found
        return here.smallest, phase

    def is_same(self, one: Phase, other: Phase, within: float) -> bool:
        """Do two phases differ by less than some mm both ways, whole cells aside?"""
        steps = self.steps(within, within)
        return all(abs((a - b + 0.5) % 1 - 0.5) < step for a, b, step in zip(one, other, steps, strict=True))

    def is_near(self, start: Phase, there: Phase) -> bool:
        """Has a climb not left the place around which boards were looked for?"""
        along, across = self.steps(NEAR, NEAR)
        return abs(there[0] - start[0]) <= along and abs(there[1] - start[1]) <= across

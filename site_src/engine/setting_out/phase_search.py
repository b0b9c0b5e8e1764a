"""The best phase of all: branch and bound over the two phases of a pattern (METHODS: any room).

A range of phases is bounded by the boards that lie at an edge whatever the phase
within it: none of their pieces can be larger than at its best. Ranges that cannot
beat what is already found are left; the others are halved, mostly the one that promises most.
"""

from collections import Counter
from collections.abc import Callable, Iterator, Sequence
from itertools import count
from math import inf
from typing import NamedTuple

from msgspec import Struct
from msgspec.structs import replace

from engine.setting_out.barred import box, free_parts, middle
from engine.setting_out.board_at_edge import BoardAtEdge, Judged
from engine.setting_out.moving_edge import Reach
from engine.setting_out.phase import Phase, Span
from engine.setting_out.sought import Top
from engine.setting_out.straight_edges import StraightEdges
from engine.setting_out.waiting import Waiting
from engine.slices import Slices

# Ranges are left alone once no board at an edge rises or falls by more than this in them, mm.
FINE = 0.02
# What lies nearer than this to a top either way has been looked at when that was mended, mm.
MENDED_TO = 0.7


class Effort(NamedTuple):
    """When a search ends that is not proved to be done.

    Counts, not a time, so that every machine finds the same: so many ranges looked at, or so many
    pieces bounded in them, without a better phase. After so many climbs to none better it is climbed
    no more.
    """

    ranges: int
    pieces: int
    climbs: int


WHOLE = Effort(700, 3000, 8)
# Where the axis may turn there are several to be searched; in 54 such rooms none bettered its phase after 56
# more ranges.
PART = Effort(120, 1100, 5)
# Enough to tell whether another axis is better.
SKETCH = Effort(90, 1100, 4)
# Enough to tell whether there is a short side at all; one of 325 rooms found its first after 87 ranges.
SHORT_SIDE = Effort(150, 900, 4)

# After so many ranges without a better phase every other one is that which waits longest.
STUCK = 30
# A climb takes as long as looking at all boards so often.
CLIMB = 2
# After so many ranges that were halved, or a climb, a search lets other questions in.
SLICE = 16
# To clip a board of which straight edges do not tell all takes as long as bounding so many pieces.
CLIP = 6

Truth = Callable[[float, Phase], Top]
"""Asked for a top, what it is worth as far as straight edges tell and where: what it is worth, and where."""


class Found(Struct, frozen=True):
    """The best phase, what it is worth, and what no phase can beat.

    ``tops`` are all that were held against the truth, best first.
    """

    tops: tuple[Top, ...]
    bound: float


class _Range(Struct, frozen=True):
    """``sure`` is the bound that holds in spite of the bend of the edges; ``starts`` promise to be better.

    ``boards`` are those that may have its smallest piece, ``barring`` those that may bar phases of it.
    """

    reach: Reach
    bound: float
    sure: float
    boards: Sequence[BoardAtEdge]
    barring: Sequence[tuple[BoardAtEdge, Judged]]
    starts: Sequence[Phase]


def search(
    edges: StraightEdges,
    spans: Sequence[Span],
    enough: float,
    truth: Truth,
    beaten: float = -inf,
    effort: Effort = WHOLE,
) -> Slices[Found]:
    """Search some spans of the phase across the rows, and all of the phase along them.

    What is found may be worse than the best by ``enough``, by the search's measure. Phases that
    do not promise to be better than ``beaten`` are left.
    """
    return _Search(edges, spans, enough, truth, beaten, effort).run()


class _Search:
    def __init__(
        self,
        edges: StraightEdges,
        spans: Sequence[Span],
        enough: float,
        truth: Truth,
        beaten: float,
        effort: Effort,
    ) -> None:
        self._edges, self._spans, self._enough, self._truth = edges, spans, enough, truth
        self._worse, self._turns = Counter[int](), count(1)
        self._climbed: list[Phase] = []
        self._false: list[Phase] = []
        self._tops: list[Top] = []
        self._value, self._left, self._effort = beaten, -inf, effort
        self._ranges = self._pieces = self._climbs = 0

    def run(self) -> Slices[Found]:
        waiting: Waiting[_Range] = Waiting()

        def add(ranges: Iterator[_Range]) -> None:
            for found in ranges:
                waiting.add(found.bound, found)

        wholes = [Reach(0.5, (low + high) / 2, 0.5, (high - low) / 2) for low, high in self._spans]
        add(self._bounded(wholes, _Range(wholes[0], inf, inf, self._edges.boards, (), ())))
        halved, climbed = 0, 0
        while waiting and not self._is_weary:
            halved += 1
            if halved % SLICE == 0 or len(self._climbed) > climbed:
                climbed = len(self._climbed)
                yield
            parent = waiting.take(oldest=self._turns_to_oldest())
            if self._is_hopeless(parent.bound):
                self._left = max(self._left, parent.sure)
            else:
                add(self._bounded(self._halves(parent.reach), parent))
        self._left = max([self._left, *(left.sure for left in waiting.parts)])
        tops = sorted(self._tops, key=lambda top: (-top[0].value, top[1]))
        return Found(tuple(tops), self._left)

    def _turns_to_oldest(self) -> bool:
        """Is it the turn of the range that waits longest?

        What no bound tells of promises much however fine it is, and would be looked into alone.
        """
        return self._ranges >= STUCK and next(self._turns) % 2 == 1

    @property
    def _is_weary(self) -> bool:
        return self._ranges >= self._effort.ranges or self._pieces >= self._effort.pieces

    def _is_hopeless(self, bound: float) -> bool:
        return bound <= self._value + self._enough

    def _bounded(self, reaches: Sequence[Reach], parent: _Range) -> Iterator[_Range]:
        """The ranges with their bounds, without those that are done with."""
        for reach in reaches:
            self._ranges += 1
            found = self._without_barred(self._range(reach, parent))
            is_fine = self._is_fine(found.reach)
            if not is_fine and not self._is_hopeless(found.bound) and not self._is_mended(found.reach):
                self._try(found)
            if is_fine or self._is_hopeless(found.bound):
                self._left = max(self._left, found.sure)
            else:
                yield found

    def _range(self, reach: Reach, parent: _Range) -> _Range:
        """A range with its bound and the boards that may still decide in it."""
        measure, moves = self._edges.measure, self._edges.moves(reach)
        bound, judged = parent.bound, []
        for board in parent.boards:
            found = board.judge(moves, measure)
            if found is None:
                continue
            judged.append((found, board))
            self._pieces += found.is_there
            if found.most < bound:
                bound = found.most
                if self._is_hopeless(bound):
                    break
        judged.sort(key=lambda each: each[0].most)
        sure = parent.sure
        if judged and judged[0][0].is_there:
            again = judged[0][1].judge(moves, measure, is_sure=True)
            sure = min(sure, again.most if again is not None else inf)
        boards = [board for found, board in judged if found.least < bound]
        wanted = self._value + self._enough
        barring = [(board, found) for found, board in judged if found.least < wanted]
        return _Range(reach, bound, sure, boards, barring, ((reach.along, reach.across),))

    def _without_barred(self, whole: _Range) -> _Range:
        """What boards leave of a range that bar phases not better than the best so far by enough."""
        wanted, reach = self._value + self._enough, whole.reach
        if self._value < 0 or self._is_hopeless(whole.bound):
            return whole
        moves = self._edges.moves(reach)
        measure, half = self._edges.measure, (reach.half_along, reach.half_across)
        found = (
            strip
            for board, judged in whole.barring
            for strip in board.barred(judged, moves, half, measure, wanted)
        )
        strips = sorted(found, key=lambda strip: strip.low - strip.high)
        parts = free_parts(reach.half_along, reach.half_across, strips)
        if not parts:
            return replace(whole, bound=min(whole.bound, wanted), sure=min(whole.sure, wanted))
        (left, low), (right, high) = box(parts)
        starts = [(reach.along + u, reach.across + v) for u, v in map(middle, parts)]
        u, v = reach.along + (left + right) / 2, reach.across + (low + high) / 2
        reach = Reach(u, v, (right - left) / 2, (high - low) / 2)
        return replace(whole, reach=reach, starts=starts)

    def _is_fine(self, reach: Reach) -> bool:
        """Is a range too fine to be halved?"""
        return max(move.rise for move in self._edges.moves(reach)) < FINE

    def _is_mended(self, reach: Reach) -> bool:
        """Does a range lie wholly round a top that has been held against the truth?"""
        along, across = self._edges.steps(MENDED_TO, MENDED_TO)
        return any(
            abs(reach.along - u) + reach.half_along < along
            and abs(reach.across - v) + reach.half_across < across
            for u, v in self._climbed
        )

    def _try(self, found: _Range) -> None:
        """Climb from a range wherever it looks better than the best so far."""
        for start in found.starts:
            if self._climbs >= self._effort.climbs:
                break
            # A board that told of other phases that they are no better soon tells it of this one.
            boards = sorted(found.boards, key=lambda board: -self._worse[board.number])
            held = self._edges.held_against(start, boards, self._value)
            self._pieces += CLIP * held.clipped
            if held.worse is not None:
                self._worse[held.worse.number] += 1
            if held.is_better:
                self._climb(start)

    def _climb(self, start: Phase) -> None:
        """Climb from a phase; where that leads to a top that proved worse, the phase itself may be better."""
        span = next(span for span in self._spans if span[0] <= start[1] <= span[1])
        promised, top = self._edges.climbed(start, span)
        is_false = any(self._edges.is_same(top, other, MENDED_TO) for other in self._false)
        is_new = not any(self._edges.is_same(top, other, MENDED_TO) for other in self._climbed)
        self._climbed.append(top)
        self._climbs += 1
        self._pieces += CLIMB * len(self._edges.boards)
        if is_false:
            self._hold(-inf, start)
        elif is_new or not self._is_hopeless(promised):
            self._hold(promised, top)

    def _hold(self, promised: float, phase: Phase) -> None:
        """Hold a phase against the truth; one that promised nothing is not mended."""
        self._tops.append(self._truth(promised, phase))
        value = self._tops[-1][0].value
        if value > self._value + self._enough:
            self._ranges = self._pieces = self._climbs = 0
        self._value = max(self._value, value)
        if value < promised - self._enough:
            self._false.append(phase)

    def _halves(self, reach: Reach) -> tuple[Reach, Reach]:
        """Halve the phase that makes the boards rise and fall more."""
        along = max(move.rise for move in self._edges.moves(reach._replace(half_across=0.0)))
        across = max(move.rise for move in self._edges.moves(reach._replace(half_along=0.0)))
        u, v, a, b = reach
        if along >= across:
            return Reach(u - a / 2, v, a / 2, b), Reach(u + a / 2, v, a / 2, b)
        return Reach(u, v - b / 2, a, b / 2), Reach(u, v + b / 2, a, b / 2)

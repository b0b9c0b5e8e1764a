"""The search for a board less among the boards of one hand: programmes to be solved, one after the other."""

from collections.abc import Sequence

from msgspec import Struct

from engine.cutting.board_bounds import least_boards
from engine.cutting.board_filling import as_found
from engine.cutting.board_programme import Programme, board_for, boards_of, programmes, whole_boards
from engine.cutting.board_sets import BoardSets
from engine.cutting.filled_board import Board
from engine.errors import Finding, Refused
from engine.planning.hand_boards import HandBoards

# How often a programme is solved anew because a set could not be cut after all.
MOST_ROUNDS = 12
# A column is taken where its value is above: solvers give 1 to a millionth.
TAKEN = 0.5


class Solved(Struct, frozen=True, kw_only=True):
    """What a solver found: the columns' values in order, none without a solution, and its lower bound."""

    values: tuple[float, ...]
    bound: float | None


class Found(Struct, frozen=True):
    """Boards for some pieces, and how many these are at least."""

    boards: tuple[Board, ...]
    least: int


class HandSearch:
    """The parts of a hand one after the other; ``begun`` are its boards from which pieces are cut already.

    ``programme`` is the one to be solved next, None at the end. It is of ``part``, as found so far.
    """

    def __init__(self, hand: HandBoards, begun: Sequence[Board], sets: BoardSets) -> None:
        self.hand, self.begun, self.sets = hand, begun, sets
        places = {each.shape.name: i for i, board in enumerate(sets.members) for each in board.pieces}
        members = [tuple(sorted({places[each.shape.name] for each in board.pieces})) for board in hand.shared]
        # In an order in which they can be put on the board again, where there is one.
        self._planned = [
            (one, board_for(one, sets, hand.nesting) or board)
            for one, board in zip(members, hand.shared, strict=True)
        ]
        self._waiting = [self._as_planned(each) for each in programmes(sets, members)]
        self._done: list[Found] = []
        self._round = 0
        self.programme: Programme | None = None
        self.part = Found((), 0)
        self._next_part()

    @property
    def settled(self) -> int:
        """Boards of the parts that are done with."""
        return sum(len(each.boards) for each in self._done)

    @property
    def found(self) -> Found:
        """All boards of the hand, as far as it has come; as planned where there are no fewer."""
        parts = [*self._done, *([self.part] if self.programme else []), *(part for _, part in self._waiting)]
        least = max(self.hand.least, sum(each.least for each in parts))
        names = [tuple(p.shape.name for p in board.pieces) for each in parts for board in each.boards]
        cut = {each.shape.name for board in self.begun for each in board.pieces}
        rest = [shape for shape in self.hand.shapes if shape.name not in cut]
        boards = as_found(rest, self.hand.nesting, self.begun, names)
        kept = boards if len(boards) < len(self.hand.shared) else self.hand.shared
        return Found(tuple(kept), min(least, len(kept)))

    def go_on(self, solved: Solved) -> None:
        """Take what was found for the programme. Raises Refused when it does not hold every piece."""
        assert self.programme
        least, best = self.part.least, self.part.boards
        # What the first round proves holds whichever sets turn out not to be cut from one board.
        if self._round == 0 and self.sets.are_all and solved.bound is not None:
            least = max(least, min(whole_boards(solved.bound), len(best)))
        chosen = _taken(self.programme, solved)
        boards, misfit = boards_of(self.programme, chosen, self.sets, self.hand.nesting)
        best = tuple(boards) if chosen and len(boards) < len(best) else best
        self.part, self._round = Found(best, least), self._round + 1
        if misfit is None or len(best) == least or self._round == MOST_ROUNDS:
            self._done.append(self.part)
            self._next_part()
        else:
            self.programme = self.programme.without(misfit)

    def _next_part(self) -> None:
        """The next part that might take fewer boards."""
        self.programme, self._round = None, 0
        while self._waiting and self.programme is None:
            programme, self.part = self._waiting.pop(0)
            if len(self.part.boards) > self.part.least:
                self.programme = programme
            else:
                self._done.append(self.part)

    def _as_planned(self, programme: Programme) -> tuple[Programme, Found]:
        """The boards that the plan has for these pieces."""
        own = set(programme.rows)
        boards = tuple(board for members, board in self._planned if own.issuperset(members))
        shapes = [each.shape for board in boards for each in board.pieces]
        return programme, Found(boards, least_boards(shapes, self.hand.nesting))


def _taken(programme: Programme, solved: Solved) -> list[int]:
    """The columns taken; none without a solution. Raises Refused when a piece is on none of them."""
    taken = [number for number, value in enumerate(solved.values) if value > TAKEN]
    if solved.values and not (len(solved.values) == len(programme.columns) and programme.covers(taken)):
        raise Refused(
            Finding(
                path="",
                code="no solution",
                sentence="What the search found leaves out a piece, so nothing was changed. Start it again, "
                "and if that does not help, export the job.",
            )
        )
    return taken

"""The fewest boards as an integer programme, which another's solver is given as text.

A column is a set of pieces that one board might give, 1 where it is taken; a row says that a piece is on a
board. As only the largest sets are columns, a piece may be on two: it is cut from either. So the fewest
columns are the fewest boards, or fewer where a set cannot be cut after all: then it is taken out and the
programme solved again. What the first one proves holds whatever the sets turn out to be.
The text is the LP format that CPLEX brought in and most solvers read.
"""

from collections.abc import Iterator, Sequence
from math import ceil

from msgspec import Struct

from engine.cutting.board_sets import BoardSets, Members
from engine.cutting.filled_board import Board, alone, with_piece
from engine.cutting.offcut_shapes import Nesting, PieceShape

# A solver's number that lies above a whole one by less is no board more (HiGHS: feasible to 1e-6).
SURE = 1e-4
# Columns named in one line of the text: readers take 255 letters at least.
IN_A_LINE = 20
# Orders tried to put the pieces of one set on a board.
MOST_ORDERS = 2000


class Programme(Struct, frozen=True, kw_only=True):
    """Pieces that have to do with each other: ``rows`` and ``columns`` name members of ``BoardSets``."""

    rows: tuple[int, ...]
    columns: tuple[Members, ...]

    @property
    def text(self) -> str:
        """The programme to be solved: minimise the columns taken."""
        holding: dict[int, list[str]] = {row: [] for row in self.rows}
        for number, column in enumerate(self.columns):
            for row in column:
                holding[row].append(f"x{number}")
        names = [f"x{number}" for number in range(len(self.columns))]
        rows = (f" p{row}: {_in_lines(holding[row], ' + ')} >= 1" for row in self.rows)
        return "\n".join(
            ["Minimize", f" boards: {_in_lines(names, ' + ')}", "Subject To", *rows]
            + ["Binary", f" {_in_lines(names, ' ')}", "End", ""]
        )

    def covers(self, chosen: Sequence[int]) -> bool:
        """Is every piece in one of the columns with these numbers, and are there such columns?"""
        if any(number not in range(len(self.columns)) for number in chosen):
            return False
        return {row for number in chosen for row in self.columns[number]} == set(self.rows)

    def without(self, misfit: Members) -> "Programme":
        """Without the sets that hold this one; its parts are put in their place."""
        out = set(misfit)
        kept = [column for column in self.columns if not out.issubset(column)]
        broken = (column for column in self.columns if out.issubset(column))
        smaller = {tuple(i for i in column if i != each) for column in broken for each in misfit}
        new = sorted(one for one in smaller if one and not any(set(one).issubset(other) for other in kept))
        return Programme(rows=self.rows, columns=(*kept, *new))


def programmes(sets: BoardSets, planned: Sequence[Members]) -> list[Programme]:
    """One for the pieces that have to do with each other, directly or through others.

    The sets ``planned`` go in too, so that each is in one programme and none needs more boards than they.
    """
    columns = tuple(sorted({*sets.largest, *(one for one in planned if not _is_in(one, sets))}))
    group = list(range(len(sets.members)))
    for column in columns:
        low = min(_root(i, group) for i in column)
        for i in column:
            group[_root(i, group)] = low
    own: dict[int, list[Members]] = {}
    for column in columns:
        own.setdefault(_root(column[0], group), []).append(column)
    return [
        Programme(rows=tuple(sorted({i for column in each for i in column})), columns=tuple(each))
        for _, each in sorted(own.items())
    ]


def _is_in(planned: Members, sets: BoardSets) -> bool:
    return any(set(planned).issubset(column) for column in sets.largest if planned[0] in column)


def _root(i: int, group: list[int]) -> int:
    while group[i] != i:
        i = group[i]
    return i


def whole_boards(number: float) -> int:
    """A solver's number of boards, found or at least, in whole ones."""
    return ceil(number - SURE)


def boards_of(
    programme: Programme, chosen: Sequence[int], sets: BoardSets, nesting: Nesting
) -> tuple[list[Board], Members | None]:
    """Boards for all pieces from the columns taken, and a set that could not be cut from one, if there is.

    Its pieces then have a board each.
    """
    boards: list[Board] = []
    given: set[int] = set()
    misfit: Members | None = None
    for number in chosen:
        left = tuple(i for i in programme.columns[number] if i not in given)
        given.update(left)
        board = board_for(left, sets, nesting) if left else None
        if board:
            boards.append(board)
        elif left:
            misfit = left
            boards += [sets.members[i] for i in left]
    return boards, misfit


def board_for(members: Members, sets: BoardSets, nesting: Nesting) -> Board | None:
    """A board that gives all of a set, its pieces in the order in which they are put on it; else None."""
    tries = iter(range(MOST_ORDERS))
    shapes = [sets.members[i].pieces[0].shape for i in members]
    if members[0] < sets.begun:
        return _filled(sets.members[members[0]], shapes[1:], nesting, tries)
    return next(filter(None, _begun_with_each(shapes, nesting, tries)), None)


def _begun_with_each(
    shapes: Sequence[PieceShape], nesting: Nesting, tries: Iterator[int]
) -> Iterator[Board | None]:
    for i, shape in enumerate(shapes):
        yield _filled(alone(shape, nesting), [*shapes[:i], *shapes[i + 1 :]], nesting, tries)


def _filled(board: Board, left: Sequence[PieceShape], nesting: Nesting, tries: Iterator[int]) -> Board | None:
    """In whatever order fits; each piece is put where ``with_piece`` puts it, so it can be done again."""
    if not left:
        return board
    for i, shape in enumerate(left):
        if next(tries, None) is None:
            return None
        with_it = with_piece(board, shape, nesting)
        if with_it and (found := _filled(with_it, [*left[:i], *left[i + 1 :]], nesting, tries)):
            return found
    return None


def _in_lines(names: Sequence[str], between: str) -> str:
    lines = (between.join(names[i : i + IN_A_LINE]) for i in range(0, len(names), IN_A_LINE))
    return f"{between}\n  ".join(lines)

"""A longer search for a board less: a few boards are emptied at once and filled anew (Shaw 1998).

A few boards that can exchange pieces are taken together. Their pieces are put on one board less
by branch and bound, as far as a thousand tries and some go; where that cannot be had they are put on as
many boards in another way, so that the next few start elsewhere. One slice of the search is so
many tries, whatever the machine: the same boards and seed always give the same result.
"""

from collections.abc import Sequence
from collections.abc import Set as AbstractSet

from engine.cutting.chance import Chance
from engine.cutting.filled_board import AREA_NOISE, Board, alone, by_size, with_piece
from engine.cutting.offcut_shapes import Nesting, PieceShape

# Tries of one slice (under half a second on a phone), of one filling with a board less, and in another way.
SLICE, LESS, OTHER = 8000, 1500, 300
# Boards taken together at least, and up to so many more by chance: with fewer than these the last board of a
# hand with many pieces that slide was not found.
FEW, MORE = 8, 16
# One in so many fillings that leave the boards more even is taken all the same.
SELDOM = 8


class _Tries:
    """Counts the tries to put a piece on a board."""

    def __init__(self, most: int) -> None:
        self.left = most

    def use(self) -> bool:
        """Is there one left?"""
        self.left -= 1
        return self.left >= 0


def searched(
    boards: Sequence[Board], nesting: Nesting, bound: int, stay: AbstractSet[str], seed: int
) -> tuple[Board, ...]:
    """One slice of the search: as many boards or fewer, on which whoever is to ``stay`` stays."""
    chance, tries = Chance(seed), _Tries(SLICE)
    fixed = [board for board in boards if not _is_free(board, stay)]
    free = [board for board in boards if _is_free(board, stay)]
    while len(fixed) + len(free) > bound and len(free) > 1 and tries.left > 0:
        few = _related(free, nesting, chance)
        pieces = [placed.shape for board in few for placed in board.pieces]
        # Largest first finds most; where it finds nothing, another order may.
        order = sorted(pieces, key=by_size) if chance.below(2) else chance.mixed(pieces)
        filled = _filled(order, len(few) - 1, nesting, LESS, tries)
        if filled is None:
            filled = _filled(chance.mixed(pieces), len(few), nesting, OTHER, tries)
            if filled is None or (_evenness(filled) > _evenness(few) and chance.below(SELDOM)):
                continue
        free = [board for board in free if board not in few] + filled
    return (*fixed, *free)


def _is_free(board: Board, stay: AbstractSet[str]) -> bool:
    return stay.isdisjoint(placed.shape.name for placed in board.pieces)


def _evenness(boards: Sequence[Board]) -> float:
    """The less, the more is left on single boards: so one of them empties."""
    return -round(sum(board.left * board.left for board in boards))


def _related(boards: Sequence[Board], nesting: Nesting, chance: Chance) -> list[Board]:
    """A board with much left, and some on which pieces of those taken already could lie."""
    by_left = sorted(boards, key=lambda board: (-board.left, board.pieces[0].shape.name))
    few = [by_left[min(chance.below(len(by_left)), chance.below(len(by_left)))]]
    wanted = min(FEW + chance.below(MORE), len(boards))
    for _ in range(4 * wanted):
        if len(few) == wanted:
            break
        other = chance.one_of(boards)
        piece = chance.one_of(chance.one_of(few).pieces).shape
        if other not in few and any(_may_share(piece, placed.shape, nesting) for placed in other.pieces):
            few.append(other)
    return few


def _may_share(one: PieceShape, other: PieceShape, nesting: Nesting) -> bool:
    if nesting.are_too_long((one, other)):
        return False
    return not (one.is_fixed and other.is_fixed) or nesting.are_apart(one, other)


def _filled(
    pieces: Sequence[PieceShape], most: int, nesting: Nesting, own: int, tries: _Tries
) -> list[Board] | None:
    """The pieces, in this order, on so many boards at most; None when they are not found to fit."""
    whole = nesting.size.length * nesting.size.width
    if most < 1 or sum(piece.area for piece in pieces) > most * whole + AREA_NOISE:
        return None
    return _placed(pieces, [], most, nesting, _Tries(min(own, tries.left)), tries)


def _placed(
    pieces: Sequence[PieceShape],
    boards: list[Board],
    most: int,
    nesting: Nesting,
    own: _Tries,
    tries: _Tries,
) -> list[Board] | None:
    """Depth first: the next piece on each board in turn, then on a new one."""
    if not pieces:
        return boards
    first, rest = pieces[0], pieces[1:]
    for i, board in enumerate(boards):
        if not own.use():
            return None
        tries.use()
        with_it = with_piece(board, first, nesting)
        if with_it:
            found = _placed(rest, [*boards[:i], with_it, *boards[i + 1 :]], most, nesting, own, tries)
            if found is not None:
                return found
    if len(boards) < most and own.use():
        tries.use()
        return _placed(rest, [*boards, alone(first, nesting)], most, nesting, own, tries)
    return None

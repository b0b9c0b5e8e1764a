"""Boards emptied one after the other, by moving their pieces to the others.

A piece goes where it fits, if need be in exchange for one that fits elsewhere.
"""

from collections.abc import Sequence
from collections.abc import Set as AbstractSet

from engine.cutting.filled_board import AREA_NOISE, Board, board_of, by_size, with_piece
from engine.cutting.offcut_shapes import Nesting, PieceShape

# Boards looked at for exchanges before the search is given up: a fraction of a second.
MOST_TRIES = 100_000


def empty_some(boards: list[Board], nesting: Nesting, bound: int, stay: AbstractSet[str]) -> None:
    """Empty one board after the other, the one with least on it first; who is to ``stay`` stays."""
    tries = _Tries()
    while len(boards) > bound and not tries.are_spent:
        movable = [i for i, board in enumerate(boards) if stay.isdisjoint(p.shape.name for p in board.pieces)]
        order = sorted(movable, key=lambda i: (-boards[i].left, i))
        without = next(filter(None, (_emptied(boards, i, nesting, tries, stay) for i in order)), None)
        if without is None:
            return
        boards[:] = without


class _Tries:
    """Counts the boards looked at, so that a hard floor does not keep anybody waiting."""

    def __init__(self) -> None:
        self.left = MOST_TRIES

    @property
    def are_spent(self) -> bool:
        return self.left <= 0


def _emptied(
    boards: Sequence[Board], index: int, nesting: Nesting, tries: _Tries, stay: AbstractSet[str]
) -> list[Board] | None:
    """The other boards with this one's pieces on them; None when that cannot be had."""
    others = [board for i, board in enumerate(boards) if i != index]
    for each in sorted(boards[index].pieces, key=lambda placed: by_size(placed.shape)):
        if not _moved_in(each.shape, others, nesting, tries, stay):
            return None
    return others


def _moved_in(
    shape: PieceShape, boards: list[Board], nesting: Nesting, tries: _Tries, stay: AbstractSet[str]
) -> bool:
    """Put a piece on some board, if need be in exchange for one that goes elsewhere."""
    return put_in(shape, boards, nesting) or _exchanged(shape, boards, nesting, tries, stay)


def put_in(shape: PieceShape, boards: list[Board], nesting: Nesting, but: int = -1) -> bool:
    """Put a piece on the board that has least left, of those it fits; False when it fits none."""
    large = [
        (board.left, i)
        for i, board in enumerate(boards)
        if shape.area <= board.left + AREA_NOISE and i != but
    ]
    for _, index in sorted(large):
        with_it = with_piece(boards[index], shape, nesting)
        if with_it:
            boards[index] = with_it
            return True
    return False


def _exchanged(
    shape: PieceShape, boards: list[Board], nesting: Nesting, tries: _Tries, stay: AbstractSet[str]
) -> bool:
    for index, board in enumerate(boards):
        for out in (each for each in board.pieces if each.shape.name not in stay):
            if tries.are_spent:
                return False
            tries.left -= len(boards)
            rest = board_of(tuple(each for each in board.pieces if each is not out), nesting)
            with_it = with_piece(rest, shape, nesting) if rest.pieces else None
            if with_it and put_in(out.shape, boards, nesting, but=index):
                boards[index] = with_it
                return True
    return False

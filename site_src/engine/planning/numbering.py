"""Piece numbers that a person can find on the floor and that stay when the room is read again.

A piece is row-place and hand, ``7-12L``: rows are counted to the right of the
row axis, places along it, both from 1 near the room's edge. The lattice cell
that carries number 1 is kept in the job once it is chosen.
"""

from collections.abc import Iterable

from engine.model.job import CountFrom
from engine.patterns.pattern import LaidBoard

# Free numbers below the first board, so that a corner read anew needs no negative number.
SPARE = 1


def first_numbers(boards: Iterable[LaidBoard]) -> CountFrom:
    """The lattice row and place that get number 1, given the boards that reach the floor."""
    cells = [(board.row, board.place) for board in boards]
    return CountFrom(
        row=min((row for row, _ in cells), default=0) - SPARE,
        place=min((place for _, place in cells), default=0) - SPARE,
    )


def board_number(board: LaidBoard, count_from: CountFrom) -> tuple[int, int]:
    """Row and place as a person counts them."""
    return board.row - count_from.row + 1, board.place - count_from.place + 1


def board_id(board: LaidBoard, count_from: CountFrom) -> str:
    """The name of the whole board at a place of the pattern."""
    row, place = board_number(board, count_from)
    return f"{row}-{place}{board.hand}"

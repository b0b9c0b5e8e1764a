"""A longer search for boards that can be saved, slice by slice, so that others are heard in between."""

from collections.abc import Iterator, Sequence

from msgspec import Struct

from engine.cutting.board_filling import as_found
from engine.cutting.board_search import searched
from engine.cutting.filled_board import Board
from engine.planning.boards import BoardSupply
from engine.planning.hand_boards import HandBoards

# Slices after which the search is given up.
MOST_SLICES = 200

Sets = tuple[tuple[str, ...], ...]


class BetterBoards(Struct, frozen=True, kw_only=True):
    """What was found so far: ``saved`` boards fewer than planned; ``spare`` more might be saved at most.

    ``together`` are the pieces that share a board.
    """

    together: Sets
    saved: int
    spare: int


def spare_boards(supply: BoardSupply) -> int:
    """How many boards might be saved at most: those above the proven least number."""
    return sum(len(hand.shared) - hand.least for hand in supply.hands.values())


def better_boards(supply: BoardSupply, together: Sequence[Sequence[str]], number: int) -> BetterBoards:
    """One slice of the search, counted from 0, from what the slices before found."""
    found = [_searched(hand, together, number) for hand in supply.hands.values()]
    count = sum(len(boards) for boards in found)
    return BetterBoards(
        together=tuple(_sets(found)),
        saved=sum(len(hand.shared) for hand in supply.hands.values()) - count,
        spare=count - sum(hand.least for hand in supply.hands.values()),
    )


def _searched(hand: HandBoards, together: Sequence[Sequence[str]], number: int) -> tuple[Board, ...]:
    names = {shape.name for shape in hand.shapes}
    own = [one for one in together if names.issuperset(one)]
    boards = hand.shared
    if own:
        rest = [shape for shape in hand.shapes if shape.name not in hand.stay]
        before = as_found(rest, hand.nesting, hand.begun, own)
        boards = tuple(before) if len(before) <= len(boards) else boards
    return searched(boards, hand.nesting, hand.least, hand.stay, number)


def _sets(found: Sequence[Sequence[Board]]) -> Iterator[tuple[str, ...]]:
    """The pieces of each board that has several, in the order in which they were put on it."""
    for boards in found:
        for board in (each for each in boards if len(each.pieces) > 1):
            yield tuple(each.shape.name for each in board.pieces)

"""How many boards some pieces take at least, by prices: of the same sets, boards to begin the filling with.

Every piece gets a price such that the pieces of no board cost more than one board: then no fewer boards hold
them all than their prices come to, rounded up. Prices come from a linear programme and are made whole
numbers; the dearest set that might share a board is looked for exactly, so the proof has no rounding in it:
whatever the prices are, divided by that set's they are such (Farley 1990, from memory).
"""

from collections.abc import Sequence

from msgspec import Struct

from engine.cutting.cover_programme import CoverProgramme
from engine.cutting.dearest_sets import DearestSets
from engine.cutting.filled_board import Board, by_size
from engine.cutting.offcut_shapes import Nesting, PieceShape

# A board's price, so fine that rounding prices loses nothing.
BOARD = 1 << 24
# What the programme's noise, and that it wants a little more than each piece once, come to at most.
NOISE = 1e-4
# Pieces of a hand beyond which the programme is not begun, and rounds of it: the steps grow with the square.
MOST_PIECES, MOST_ROUNDS = 300, 80


class Priced(Struct, frozen=True):
    """A proven number of boards, and the names of the sets that the programme takes.

    The sets of which most is taken come first, and in each those that keep an end.
    """

    least: int
    sets: tuple[tuple[str, ...], ...]


def priced(shapes: Sequence[PieceShape], nesting: Nesting, boards: Sequence[Board], least: int) -> Priced:
    """The best proof found, ``least`` if no better one is; ``boards`` are some that hold every piece."""
    if len(shapes) > MOST_PIECES:
        return Priced(least, ())
    number = {shape.name: i for i, shape in enumerate(shapes)}
    programme, dearest = CoverProgramme(len(shapes)), DearestSets(shapes, nesting)
    programme.add(tuple(sorted(number[p.shape.name] for p in board.pieces)) for board in boards)
    for _ in range(MOST_ROUNDS):
        programme.solve()
        # The programme's boards only become fewer: they cannot prove any more.
        if programme.boards <= least + NOISE:
            break
        prices = [max(0, int(price * BOARD)) for price in programme.prices]
        found = dearest.above(BOARD, prices)
        if found is None:
            break
        least = max(least, -(-sum(prices) // found.price))
        if least >= len(boards) or not programme.add(found.sets):
            break
    sets = [[shapes[i] for i in members] for members in programme.taken_sets()]
    return Priced(least, tuple(tuple(s.name for s in sorted(one, key=_fixed_first)) for one in sets))


def _fixed_first(shape: PieceShape) -> tuple[bool, float, str]:
    return not shape.is_fixed, *by_size(shape)

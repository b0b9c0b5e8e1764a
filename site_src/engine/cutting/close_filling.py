"""Boards filled as closely as can be, one after the other, with pieces that keep no end.

Best fit looks at one piece at a time and is far off where many like pieces share
a board. Here each board takes the longest piece left and of all others those
that leave least of it (minimum bin slack; Gupta & Ho 1999, from memory). Pieces
count by their whole length; that mitred ends nest is left to the exchanges after.
"""

from collections.abc import Sequence

from engine.cutting.offcut_shapes import FIT, PieceShape

# Sets looked at for one board.
MOST_SETS = 3000
# Places in a row of lengths, and the room that these leave.
Chosen = tuple[tuple[int, ...], float]


def closely_filled(
    shapes: Sequence[PieceShape], room: float, spacing: float
) -> list[tuple[tuple[PieceShape, float], ...]]:
    """Every piece on a board once, each with its way along that board; ``room`` is a board's length."""
    left = sorted(shapes, key=lambda shape: (-_length(shape), shape.name))
    boards: list[tuple[tuple[PieceShape, float], ...]] = []
    while left:
        chosen = _closest([_length(shape) + spacing for shape in left], room + spacing)
        boards.append(_in_a_row([left[i] for i in chosen], spacing))
        left = [shape for i, shape in enumerate(left) if i not in chosen]
    return boards


def _length(shape: PieceShape) -> float:
    return shape.x[1] - shape.x[0]


def _in_a_row(pieces: Sequence[PieceShape], spacing: float) -> tuple[tuple[PieceShape, float], ...]:
    """One after the other from the start end; ends that lean the same way begin where the first does."""
    begin = pieces[0].x[0] + pieces[0].slide[0]
    placed: list[tuple[PieceShape, float]] = []
    for piece in pieces:
        placed.append((piece, begin - piece.x[0]))
        begin += _length(piece) + spacing
    return tuple(placed)


def _closest(lengths: Sequence[float], room: float) -> set[int]:
    """Places of the first length, which is the greatest, and of others that together leave least room."""
    best: Chosen = ((0,), room - lengths[0])
    stack, looked_at = [best], 0
    while stack and best[1] > FIT and looked_at < MOST_SETS:
        more, looked_at = stack.pop(), looked_at + 1
        if more[1] < best[1] - FIT:
            best = more
        stack += reversed(_with_one_more(more, lengths))
    return set(best[0])


def _with_one_more(chosen: Chosen, lengths: Sequence[float]) -> list[Chosen]:
    """The set with one length more, each length once."""
    places, free = chosen
    sets: list[Chosen] = []
    last = 0.0
    for i in range(places[-1] + 1, len(lengths)):
        if lengths[i] <= free + FIT and lengths[i] != last:
            sets.append(((*places, i), free - lengths[i]))
            last = lengths[i]
    return sets

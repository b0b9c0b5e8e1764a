"""Pieces under a long straight cut are laid long: their board must hold what is laid, not only what stays."""

from collections.abc import Iterable, Sequence

from engine.geometry.shapes import Ring
from engine.planning.long_boards import CrossedBoard, by_board
from engine.planning.long_cut import LongCutPlan
from engine.planning.pieces import Piece


def laid_long(cuts: Iterable[LongCutPlan | None], pieces: Sequence[Piece]) -> dict[str, Ring]:
    """Piece id → what is laid of its board, in the board's frame, for each piece under a long cut."""
    places = by_board(pieces)
    return {
        piece.id: _laid(crossed, piece)
        for cut in cuts
        if cut is not None
        for crossed in cut.boards
        for piece in places.get(crossed.id, ())
        if any(each.barrier.name == cut.wall.name for each in piece.sawn.cuts)
    }


def _laid(crossed: CrossedBoard, piece: Piece) -> Ring:
    """The length to lay from the end that stays, the whole width of the board.

    No less than the piece: along a wall that bows away far the one straight line runs inside its pieces.
    """
    size = piece.board.size
    along = [size.along(point) for point in piece.sawn.outline[0]]
    begin, end = 0.0, size.length
    if crossed.end == "start":
        end = min(end, max(crossed.rough, *along))
    elif crossed.end == "far":
        begin = max(begin, min(size.length - crossed.rough, *along))
    return ((begin, 0.0), (end, 0.0), (end + size.lean, size.width), (begin + size.lean, size.width))

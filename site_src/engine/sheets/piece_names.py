"""How the name or number of a piece is set along its board."""

from engine.planning.pieces import Piece
from engine.sheets.pdf_text import POINTS, width_of

# Of a board's width on paper, a name takes so much, and is never larger nor smaller than this, in points.
PART, LARGEST, SMALLEST = 0.7, 8.0, 4.0


def room_for_names(width: float, scale: float) -> float:
    """The largest font size in points for a name along a board ``width`` mm wide, at a scale."""
    return min(LARGEST, PART * width / scale * POINTS)


def name_size(name: str, piece: Piece, scale: float) -> float:
    """The font size for a piece's name: smaller where the piece is short."""
    size = room_for_names(piece.board.width, scale)
    length = max(piece.sawn.left, piece.sawn.right) / scale
    while size > SMALLEST and width_of(name, size) > length:
        size -= 0.5
    return round(size, 1)


def name_turn(piece: Piece) -> float:
    """Along the board, never head down; degrees."""
    return (piece.board.frame.angle + 90) % 180 - 90

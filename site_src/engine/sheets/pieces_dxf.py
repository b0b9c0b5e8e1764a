"""Every piece to cut as a CAD drawing at full size, inside its whole board."""

from collections.abc import Iterator, Sequence

from engine.planning.pieces import Piece
from engine.sheets.dxf import Group, dxf_file, polyline, text
from engine.sheets.pieces_layout import laid_out, moved, name_spot

LAYERS = ("BOARDS", "PIECES", "PIECE_NAMES")


def pieces_dxf(pieces: Sequence[Piece]) -> str:
    """The pieces in their boards' own frames, start end at the left, right long edge below."""
    return dxf_file(LAYERS, _entities(pieces))


def _entities(pieces: Sequence[Piece]) -> Iterator[Group]:
    for piece, by in laid_out(pieces):
        yield from polyline("BOARDS", moved(piece.board.size.ring, by), closed=True)
        for ring in piece.sawn.outline:
            yield from polyline("PIECES", moved(ring, by), closed=True)
        yield from text("PIECE_NAMES", name_spot(piece, by), piece.id)

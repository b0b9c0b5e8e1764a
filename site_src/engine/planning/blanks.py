"""A piece as it lies on what it is cut from, for its card: a whole board or an offcut."""

from msgspec.structs import replace

from engine.cutting.cuts import Cut
from engine.cutting.sawn_piece import SawnPiece
from engine.geometry.frame import Frame
from engine.geometry.shapes import Point, Ring
from engine.planning.boards import Source
from engine.planning.pieces import Piece


def on_its_blank(piece: Piece, source: Source) -> tuple[Piece, Ring]:
    """The piece and the outline of its blank, in one frame.

    A piece that keeps an end lies where it lies on its own board. One that keeps
    neither is measured from where its blank begins. In the room nothing moves:
    the board's frame goes back by as much as the piece goes on.
    """
    if piece.sawn.kept_end != "neither":
        return piece, source.blank
    begin = min(piece.board.size.along(point) for point in source.blank)
    return _moved(piece, source.way - begin), _along(source.blank, -begin)


def _moved(piece: Piece, way: float) -> Piece:
    frame = piece.board.frame
    x, y = frame.to_room((-way, 0.0))
    board = replace(piece.board, frame=Frame(x, y, frame.angle))
    return replace(piece, board=board, sawn=_moved_cuts(piece.sawn, way))


def _moved_cuts(sawn: SawnPiece, way: float) -> SawnPiece:
    cuts: tuple[Cut, ...] = tuple(replace(cut, points=_along(cut.points, way)) for cut in sawn.cuts)
    return replace(sawn, outline=tuple(_along(ring, way) for ring in sawn.outline), cuts=cuts)


def _along(points: tuple[Point, ...], way: float) -> tuple[Point, ...]:
    return tuple((x + way, y) for x, y in points)

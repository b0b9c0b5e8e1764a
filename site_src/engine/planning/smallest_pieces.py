"""The smallest piece along each wall of a floor as it is planned."""

from collections.abc import Sequence

from engine.planning.floor_edges import floor_edges
from engine.planning.floor_plan import RoomPlan
from engine.planning.pieces import Piece
from engine.setting_out.measures import Sizes, sizes_of
from engine.setting_out.rating import NamedEdge


def smallest_along_walls(room: RoomPlan, pieces: Sequence[Piece]) -> dict[str, Sizes]:
    """Wall → the smallest of the ideal pieces along it by each measure; without pieces it is missing."""
    walls = floor_edges(room, max((piece.board.length for piece in pieces), default=0.0)).walls()
    sizes = {piece.id: sizes_of(piece.ideal, piece.board) for piece in pieces}
    found = {wall.name: [sizes[piece.id] for piece in pieces if _lies_along(piece, wall)] for wall in walls}
    return {name: _least(along) for name, along in found.items() if along}


def _lies_along(piece: Piece, wall: NamedEdge) -> bool:
    return wall.may_touch(piece.board.ring) and wall.touches(piece.ideal)


def _least(sizes: Sequence[Sizes]) -> Sizes:
    least, *others = sizes
    for other in others:
        least = least.least(other)
    return least

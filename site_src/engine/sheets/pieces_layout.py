"""Where the pieces lie beside each other on a drawing of all that is cut: board by board, in rows."""

from collections.abc import Iterator, Sequence
from math import ceil, sqrt

from engine.geometry.shapes import Point, Polygon, Ring
from engine.planning.pieces import Piece

# Between two boards, and room for the name below each, mm.
BETWEEN = 60.0


def laid_out(pieces: Sequence[Piece]) -> Iterator[tuple[Piece, Point]]:
    """Each piece with the place of its board's start end, right long edge; rows from the top, 0 down."""
    if not pieces:
        return
    size = pieces[0].board.size
    width, height = size.length + abs(size.lean) + BETWEEN, size.width + BETWEEN
    columns = ceil(sqrt(len(pieces) * height / width))
    for index, piece in enumerate(pieces):
        row, column = divmod(index, columns)
        yield piece, (column * width, -(row + 1) * height)


def moved(ring: Ring, by: Point) -> Ring:
    """A ring of the board's frame where its board lies."""
    return tuple((x + by[0], y + by[1]) for x, y in ring)


def moved_polygon(polygon: Polygon, by: Point) -> Polygon:
    """A polygon of the board's frame where its board lies."""
    return tuple(moved(ring, by) for ring in polygon)


def name_spot(piece: Piece, by: Point) -> Point:
    """Where the piece's name stands: below the middle of its board."""
    return by[0] + piece.board.length / 2, by[1] - BETWEEN / 2

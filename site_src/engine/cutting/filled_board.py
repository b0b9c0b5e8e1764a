"""A board with some pieces on it, and whether one more fits."""

from collections.abc import Iterator, Sequence

from msgspec import Struct

from engine.cutting.offcut_shapes import FIT, Nesting, PieceShape
from engine.cutting.parting import Placed, part

# Areas are compared rounded, mm²: noise in the last digit must not choose, on desk or phone.
AREA_DECIMALS = 1
AREA_NOISE = 0.1
# What a board has left that gives nothing more, mm².
USED_UP = -1.0


class Board(Struct, frozen=True):
    """Some pieces on one board; ``left`` is the area they leave, mm²."""

    pieces: tuple[Placed, ...]
    left: float


def by_size(shape: PieceShape) -> tuple[float, str]:
    """The largest piece first."""
    return -round(shape.area, AREA_DECIMALS), shape.name


def board_of(pieces: tuple[Placed, ...], nesting: Nesting) -> Board:
    """A board with these pieces where they lie."""
    whole = nesting.size.length * nesting.size.width
    return Board(pieces, round(whole - sum(each.shape.area for each in pieces), AREA_DECIMALS))


def with_piece(board: Board, shape: PieceShape, nesting: Nesting) -> Board | None:
    """The board with one piece more; None where it does not fit or could not be cut out."""
    if shape.area > board.left + AREA_NOISE or nesting.are_too_long(
        [*(p.shape for p in board.pieces), shape]
    ):
        return None
    if shape.is_fixed and not all(
        nesting.are_apart(each.shape, shape) for each in board.pieces if each.shape.is_fixed
    ):
        return None
    for way in _free_ways(board, shape, nesting):
        more = (*board.pieces, Placed(shape, way))
        if len(more) == 2 or part(more, nesting.spacing):
            return board_of(more, nesting)
    return None


def _free_ways(board: Board, shape: PieceShape, nesting: Nesting) -> Iterator[float]:
    """Where along the board a piece may lie, tight against another piece or an end.

    Off an end by the spacing first: a saw does not take less than its kerf off a board.
    """
    least, most = shape.slide
    stretches: list[tuple[float, float]] = []
    for each in board.pieces:
        stretch = nesting.forbidden(each.shape, shape)
        if stretch is not None:
            stretches.append((each.way + stretch[0], each.way + stretch[1]))
    off = {least + nesting.spacing, most - nesting.spacing}
    tight = sorted(off | {way for stretch in stretches for way in stretch}) + [least, most]
    for way in (way for way in tight if least - FIT <= way <= most + FIT):
        if not any(low + FIT < way < high - FIT for low, high in stretches):
            yield way


def alone(shape: PieceShape, nesting: Nesting) -> Board:
    """A new board for one piece."""
    least, most = shape.slide
    return board_of((Placed(shape, least + min(nesting.spacing, (most - least) / 2)),), nesting)


def begun_board(shapes: Sequence[PieceShape], nesting: Nesting) -> Board:
    """The board that these pieces were cut from; where they are not seen to fit it, it gives no more."""
    board = board_of((), nesting)
    for shape in shapes:
        with_it = with_piece(board, shape, nesting)
        board = with_it or Board((*board.pieces, Placed(shape, max(shape.slide[0], 0.0))), USED_UP)
    return board

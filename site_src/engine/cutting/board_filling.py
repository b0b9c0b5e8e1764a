"""Which pieces share a board, so that few boards are taken.

A piece that keeps the start and one that keeps the far end share a board where
their true shapes fit: first the longest start piece takes the longest far piece
that goes with it, then augmenting paths make as many pairs as can be. All other
pieces follow by size, each into the board that it fills best. Then boards are
emptied by moving their pieces, if need be in exchange for one that fits
elsewhere, until the lower bound is met or nothing moves (METHODS: offcuts).
"""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass

from engine.cutting.board_bounds import least_boards
from engine.cutting.close_filling import closely_filled
from engine.cutting.offcut_matching import most_pairs
from engine.cutting.offcut_shapes import FIT, Nesting, PieceShape
from engine.cutting.parting import Placed, part

# Boards looked at for exchanges before the search is given up: a fraction of a second.
MOST_TRIES = 100_000
# Areas are compared rounded, mm²: noise in the last digit must not choose, on desk or phone.
AREA_DECIMALS = 1
AREA_NOISE = 0.1


@dataclass(frozen=True, slots=True)
class Board:
    """Some pieces on one board; ``left`` is the area they leave, mm²."""

    pieces: tuple[Placed, ...]
    left: float


def fill_boards(shapes: Sequence[PieceShape], nesting: Nesting) -> tuple[tuple[Board, ...], int]:
    """Boards of one hand that hold every piece once, and the proven number of boards they take at least."""
    bound = least_boards(shapes, nesting)
    boards = _by_best_fit(shapes, nesting)
    # A row counts by square ends, which a leaning board has not.
    if len(boards) > bound and not nesting.size.lean:
        closely = _closely(shapes, nesting)
        boards = closely if len(closely) < len(boards) else boards
    _empty_some(boards, nesting, bound)
    return tuple(boards), bound


def _by_best_fit(shapes: Sequence[PieceShape], nesting: Nesting) -> list[Board]:
    """Pairs of a start and a far piece, then every other piece into the board that it fills best."""
    boards = list(_paired(shapes, nesting))
    placed = {each.shape.name for board in boards for each in board.pieces}
    for shape in sorted((s for s in shapes if s.name not in placed), key=_by_size):
        _put_best(shape, boards, nesting)
    return boards


def _closely(shapes: Sequence[PieceShape], nesting: Nesting) -> list[Board]:
    """The same, but those that keep no end have boards of their own, each filled as closely as can be."""
    ends = [shape for shape in shapes if shape.is_fixed]
    others = [shape for shape in shapes if not shape.is_fixed]
    rows = closely_filled(others, nesting.size.length, nesting.spacing)
    filled = [tuple(Placed(shape, way) for shape, way in row) for row in rows]
    return [*_by_best_fit(ends, nesting), *(_board(pieces, nesting) for pieces in filled)]


def _by_size(shape: PieceShape) -> tuple[float, str]:
    return -round(shape.area, AREA_DECIMALS), shape.name


def _paired(shapes: Sequence[PieceShape], nesting: Nesting) -> Iterator[Board]:
    """Start and far pieces, in as many pairs as can be."""
    starts = sorted((s for s in shapes if s.starts and not s.fars), key=_by_size)
    fars = sorted((s for s in shapes if s.fars and not s.starts), key=_by_size)
    fits = [[j for j, far in enumerate(fars) if nesting.are_apart(start, far)] for start in starts]
    begin: dict[int, int] = {}
    for i, seconds in enumerate(fits):
        free = next((j for j in seconds if j not in begin.values()), None)
        if free is not None:
            begin[i] = free
    for i, j in sorted(most_pairs(fits, begin).items()):
        yield _board((Placed(starts[i], 0.0), Placed(fars[j], 0.0)), nesting)


def _put_best(shape: PieceShape, boards: list[Board], nesting: Nesting) -> None:
    """Into the board that has least left, or on a new one."""
    if not _put_in(shape, boards, nesting):
        boards.append(_board((Placed(shape, shape.slide[0]),), nesting))


def _board(pieces: tuple[Placed, ...], nesting: Nesting) -> Board:
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
            return _board(more, nesting)
    return None


def _free_ways(board: Board, shape: PieceShape, nesting: Nesting) -> Iterator[float]:
    """Where along the board a piece may lie, tight against an end or another piece."""
    least, most = shape.slide
    stretches: list[tuple[float, float]] = []
    for each in board.pieces:
        stretch = nesting.forbidden(each.shape, shape)
        if stretch is not None:
            stretches.append((each.way + stretch[0], each.way + stretch[1]))
    tight = {least, most, *(way for stretch in stretches for way in stretch)}
    for way in sorted(way for way in tight if least - FIT <= way <= most + FIT):
        if not any(low + FIT < way < high - FIT for low, high in stretches):
            yield way


def _empty_some(boards: list[Board], nesting: Nesting, bound: int) -> None:
    """Empty one board after the other, the one with least on it first."""
    tries = _Tries()
    while len(boards) > bound and not tries.are_spent:
        order = sorted(range(len(boards)), key=lambda i: (-boards[i].left, i))
        without = next(filter(None, (_emptied(boards, i, nesting, tries) for i in order)), None)
        if without is None:
            return
        boards[:] = without


class _Tries:
    """Counts the boards looked at, so that a hard floor does not keep anybody waiting."""

    def __init__(self) -> None:
        self.left = MOST_TRIES

    @property
    def are_spent(self) -> bool:
        return self.left <= 0


def _emptied(boards: Sequence[Board], index: int, nesting: Nesting, tries: _Tries) -> list[Board] | None:
    """The other boards with this one's pieces on them; None when that cannot be had."""
    others = [board for i, board in enumerate(boards) if i != index]
    for each in sorted(boards[index].pieces, key=lambda placed: _by_size(placed.shape)):
        if not _moved_in(each.shape, others, nesting, tries):
            return None
    return others


def _moved_in(shape: PieceShape, boards: list[Board], nesting: Nesting, tries: _Tries) -> bool:
    """Put a piece on some board, if need be in exchange for one that goes elsewhere."""
    return _put_in(shape, boards, nesting) or _exchanged(shape, boards, nesting, tries)


def _put_in(shape: PieceShape, boards: list[Board], nesting: Nesting, but: int = -1) -> bool:
    """Put a piece on the board that has least left, of those it fits; False when it fits none."""
    large = [
        (board.left, i)
        for i, board in enumerate(boards)
        if shape.area <= board.left + AREA_NOISE and i != but
    ]
    for _, index in sorted(large):
        with_it = with_piece(boards[index], shape, nesting)
        if with_it:
            boards[index] = with_it
            return True
    return False


def _exchanged(shape: PieceShape, boards: list[Board], nesting: Nesting, tries: _Tries) -> bool:
    for index, board in enumerate(boards):
        for out in board.pieces:
            if tries.are_spent:
                return False
            tries.left -= len(boards)
            rest = _board(tuple(each for each in board.pieces if each is not out), nesting)
            with_it = with_piece(rest, shape, nesting) if rest.pieces else None
            if with_it and _put_in(out.shape, boards, nesting, but=index):
                boards[index] = with_it
                return True
    return False

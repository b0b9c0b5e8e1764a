"""Which pieces share a board, so that few boards are taken.

A piece that keeps the start and one that keeps the far end share a board where
their true shapes fit: first the longest start piece takes the longest far piece
that goes with it, then augmenting paths make as many pairs as can be. All other
pieces follow by size, each into the board that it fills best. Then boards are
emptied by moving their pieces, if need be in exchange for one that fits
elsewhere, until the lower bound is met or nothing moves (METHODS: offcuts).
"""

from collections.abc import Iterator, Sequence
from collections.abc import Set as AbstractSet
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
# What a board has left that gives nothing more, mm².
USED_UP = -1.0


@dataclass(frozen=True, slots=True)
class Board:
    """Some pieces on one board; ``left`` is the area they leave, mm²."""

    pieces: tuple[Placed, ...]
    left: float


def fill_boards(
    shapes: Sequence[PieceShape], nesting: Nesting, begun: Sequence[Board] = ()
) -> tuple[tuple[Board, ...], int]:
    """Boards of one hand that hold every piece once, and the proven number of boards they take at least.

    ``begun`` are boards from which pieces are cut already: those stay there, others may follow.
    """
    stay = {each.shape.name for board in begun for each in board.pieces}
    rest = [shape for shape in shapes if shape.name not in stay]
    bound = least_boards(shapes, nesting)
    boards = _by_best_fit(rest, nesting, begun)
    # A row counts by square ends, which a leaning board has not.
    if len(boards) > bound and not nesting.size.lean:
        closely = _closely(rest, nesting, begun)
        boards = closely if len(closely) < len(boards) else boards
    _empty_some(boards, nesting, bound, stay)
    return tuple(boards), bound


def begun_board(shapes: Sequence[PieceShape], nesting: Nesting) -> Board:
    """The board that these pieces were cut from; where they are not seen to fit it, it gives no more."""
    board = _board((), nesting)
    for shape in shapes:
        with_it = with_piece(board, shape, nesting)
        board = with_it or Board((*board.pieces, Placed(shape, max(shape.slide[0], 0.0))), USED_UP)
    return board


def _by_best_fit(shapes: Sequence[PieceShape], nesting: Nesting, begun: Sequence[Board]) -> list[Board]:
    """Pairs of a start and a far piece, then every other piece into the board that it fills best."""
    boards = list(_paired(shapes, nesting, begun))
    placed = {each.shape.name for board in boards for each in board.pieces}
    for shape in sorted((s for s in shapes if s.name not in placed), key=_by_size):
        _put_best(shape, boards, nesting)
    return boards


def _closely(shapes: Sequence[PieceShape], nesting: Nesting, begun: Sequence[Board]) -> list[Board]:
    """The same, but those that keep no end have boards of their own, each filled as closely as can be."""
    ends = [shape for shape in shapes if shape.is_fixed]
    others = [shape for shape in shapes if not shape.is_fixed]
    rows = closely_filled(others, nesting.size.length, nesting.spacing)
    filled = [tuple(Placed(shape, way) for shape, way in row) for row in rows]
    return [*_by_best_fit(ends, nesting, begun), *(_board(pieces, nesting) for pieces in filled)]


def _by_size(shape: PieceShape) -> tuple[float, str]:
    return -round(shape.area, AREA_DECIMALS), shape.name


def _paired(shapes: Sequence[PieceShape], nesting: Nesting, begun: Sequence[Board]) -> Iterator[Board]:
    """Start and far pieces in as many pairs as can be, and every begun board, with one piece more or not."""
    starts = [_alone(s, nesting) for s in sorted(shapes, key=_by_size) if s.starts and not s.fars]
    fars = [_alone(s, nesting) for s in sorted(shapes, key=_by_size) if s.fars and not s.starts]
    no_far = [board for board in begun if not any(each.shape.fars for each in board.pieces)]
    no_start = [b for b in begun if b not in no_far and not any(each.shape.starts for each in b.pieces)]
    firsts, seconds = [*no_far, *starts], [*fars, *no_start]
    together = {
        (i, j): both
        for i, first in enumerate(firsts)
        for j, second in enumerate(seconds)
        if (i >= len(no_far) or j < len(fars)) and (both := _joined(first, second, nesting))
    }
    fits = [[j for j in range(len(seconds)) if (i, j) in together] for i in range(len(firsts))]
    pairs = most_pairs(fits, _greedy(fits))
    yield from (together[pair] for pair in sorted(pairs.items()))
    taken = {id(firsts[i]) for i in pairs} | {id(seconds[j]) for j in pairs.values()}
    yield from (board for board in begun if id(board) not in taken)


def _greedy(fits: Sequence[Sequence[int]]) -> dict[int, int]:
    """Each first takes the first of the seconds that is still free."""
    begin: dict[int, int] = {}
    taken: set[int] = set()
    for i, seconds in enumerate(fits):
        free = next((j for j in seconds if j not in taken), None)
        if free is not None:
            begin[i] = free
            taken.add(free)
    return begin


def _joined(first: Board, second: Board, nesting: Nesting) -> Board | None:
    """Two boards as one, of which one has a single piece that can go to the other."""
    if len(first.pieces) == len(second.pieces) == 1:
        one, other = first.pieces[0], second.pieces[0]
        if one.shape.is_fixed and other.shape.is_fixed:
            fits = nesting.are_apart(one.shape, other.shape)
            return _board((one, other), nesting) if fits else None
    board, single = (first, second) if len(second.pieces) == 1 else (second, first)
    return with_piece(board, single.pieces[0].shape, nesting)


def _alone(shape: PieceShape, nesting: Nesting) -> Board:
    least, most = shape.slide
    return _board((Placed(shape, least + min(nesting.spacing, (most - least) / 2)),), nesting)


def _put_best(shape: PieceShape, boards: list[Board], nesting: Nesting) -> None:
    """Into the board that has least left, or on a new one."""
    if not _put_in(shape, boards, nesting):
        boards.append(_alone(shape, nesting))


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


def _empty_some(boards: list[Board], nesting: Nesting, bound: int, stay: AbstractSet[str]) -> None:
    """Empty one board after the other, the one with least on it first; who is to ``stay`` stays."""
    tries = _Tries()
    while len(boards) > bound and not tries.are_spent:
        movable = [i for i, board in enumerate(boards) if stay.isdisjoint(p.shape.name for p in board.pieces)]
        order = sorted(movable, key=lambda i: (-boards[i].left, i))
        without = next(filter(None, (_emptied(boards, i, nesting, tries, stay) for i in order)), None)
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


def _emptied(
    boards: Sequence[Board], index: int, nesting: Nesting, tries: _Tries, stay: AbstractSet[str]
) -> list[Board] | None:
    """The other boards with this one's pieces on them; None when that cannot be had."""
    others = [board for i, board in enumerate(boards) if i != index]
    for each in sorted(boards[index].pieces, key=lambda placed: _by_size(placed.shape)):
        if not _moved_in(each.shape, others, nesting, tries, stay):
            return None
    return others


def _moved_in(
    shape: PieceShape, boards: list[Board], nesting: Nesting, tries: _Tries, stay: AbstractSet[str]
) -> bool:
    """Put a piece on some board, if need be in exchange for one that goes elsewhere."""
    return _put_in(shape, boards, nesting) or _exchanged(shape, boards, nesting, tries, stay)


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


def _exchanged(
    shape: PieceShape, boards: list[Board], nesting: Nesting, tries: _Tries, stay: AbstractSet[str]
) -> bool:
    for index, board in enumerate(boards):
        for out in (each for each in board.pieces if each.shape.name not in stay):
            if tries.are_spent:
                return False
            tries.left -= len(boards)
            rest = _board(tuple(each for each in board.pieces if each is not out), nesting)
            with_it = with_piece(rest, shape, nesting) if rest.pieces else None
            if with_it and _put_in(out.shape, boards, nesting, but=index):
                boards[index] = with_it
                return True
    return False

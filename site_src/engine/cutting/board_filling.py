"""Which pieces share a board, so that few boards are taken.

A piece that keeps the start and one that keeps the far end share a board where
their true shapes fit: first the longest start piece takes the longest far piece
that goes with it, then augmenting paths make as many pairs as can be. All other
pieces follow by size, each into the board that it fills best. Then boards are
emptied by moving their pieces, if need be in exchange for one that fits
elsewhere, until the lower bound is met or nothing moves (METHODS: offcuts). Where
that leaves a board in doubt, prices prove a sharper bound, and the sets that the
programme behind them takes are filled in first and emptied alike.
"""

from collections.abc import Iterator, Sequence

from engine.cutting.board_bounds import least_boards
from engine.cutting.board_emptying import empty_some, put_in
from engine.cutting.chance import Chance
from engine.cutting.close_filling import closely_filled
from engine.cutting.filled_board import Board, alone, board_of, by_size, with_piece
from engine.cutting.offcut_matching import most_pairs
from engine.cutting.offcut_shapes import Nesting, PieceShape
from engine.cutting.parting import Placed
from engine.cutting.price_bound import priced

# Orders of the programme's sets that are tried: some hundredths of a second each on a phone.
MOST_ORDERS = 10


def fill_boards(
    shapes: Sequence[PieceShape],
    nesting: Nesting,
    begun: Sequence[Board] = (),
    together: Sequence[Sequence[str]] = (),
) -> tuple[tuple[Board, ...], int]:
    """Boards of one hand that hold every piece once, and the proven number of boards they take at least.

    ``begun`` are boards from which pieces are cut already: those stay there, others may follow.
    ``together`` are the names of pieces that were found to share a board: they do where they still fit it
    and no more boards are taken so. What is begun as it would be without is left to lie so: then
    marks of what was cut as planned move nothing.
    """
    if begun:
        planned, least = fill_boards(shapes, nesting, (), together)
        if _are_begun(planned, begun):
            return planned, least
    stay = {each.shape.name for board in begun for each in board.pieces}
    rest = [shape for shape in shapes if shape.name not in stay]
    bound = least_boards(shapes, nesting)
    found = as_found(rest, nesting, begun, together) if together else []
    if found and len(found) == bound:
        return tuple(found), bound
    boards = _by_best_fit(rest, nesting, begun)
    # A row counts by square ends, which a leaning board has not.
    if len(boards) > bound and not nesting.size.lean:
        closely = _closely(rest, nesting, begun)
        boards = closely if len(closely) < len(boards) else boards
    empty_some(boards, nesting, bound, stay)
    if found and len(found) <= len(boards):
        boards = found
    if len(boards) > bound:
        proof = priced(shapes, nesting, boards, bound)
        bound = proof.least
        for order in _orders(proof.sets):
            if len(boards) <= bound:
                break
            others = as_found(rest, nesting, begun, order)
            empty_some(others, nesting, bound, stay)
            boards = others if len(others) < len(boards) else boards
    # What is said to have come from one board did, though its pieces are not seen to fit it.
    return tuple(boards), min(bound, len(boards))


def _orders(sets: Sequence[Sequence[str]]) -> Iterator[list[Sequence[str]]]:
    """Orders in which the sets are filled in: as they stand, then more and more mixed."""
    chance = Chance(len(sets))
    for mixed in range(MOST_ORDERS):
        spread = 1 + len(sets) * mixed // MOST_ORDERS
        moved = [(place + chance.below(spread), place) for place in range(len(sets))]
        yield [sets[place] for _, place in sorted(moved)]


def _are_begun(planned: Sequence[Board], begun: Sequence[Board]) -> bool:
    """Have the begun boards, each on another of the planned ones, no piece but of those?"""
    host = {each.shape.name: i for i, board in enumerate(planned) for each in board.pieces}
    hosts = [{host[each.shape.name] for each in board.pieces} for board in begun]
    return all(len(one) == 1 for one in hosts) and len(set.union(*hosts)) == len(begun)


def as_found(
    shapes: Sequence[PieceShape], nesting: Nesting, begun: Sequence[Board], together: Sequence[Sequence[str]]
) -> list[Board]:
    """Boards that hold the pieces of a set each, in the order in which it names them, as far as they fit."""
    boards = list(begun)
    left = {shape.name: shape for shape in shapes}
    for names in together:
        host = next((i for i, b in enumerate(begun) if any(p.shape.name in names for p in b.pieces)), None)
        for name in names:
            if name not in left:
                continue
            if host is None:
                host = len(boards)
                boards.append(alone(left.pop(name), nesting))
            elif with_it := with_piece(boards[host], left[name], nesting):
                boards[host] = with_it
                del left[name]
    for shape in sorted(left.values(), key=by_size):
        _put_best(shape, boards, nesting)
    return boards


def _by_best_fit(shapes: Sequence[PieceShape], nesting: Nesting, begun: Sequence[Board]) -> list[Board]:
    """Pairs of a start and a far piece, then every other piece into the board that it fills best."""
    boards = list(_paired(shapes, nesting, begun))
    placed = {each.shape.name for board in boards for each in board.pieces}
    for shape in sorted((s for s in shapes if s.name not in placed), key=by_size):
        _put_best(shape, boards, nesting)
    return boards


def _closely(shapes: Sequence[PieceShape], nesting: Nesting, begun: Sequence[Board]) -> list[Board]:
    """The same, but those that keep no end have boards of their own, each filled as closely as can be."""
    ends = [shape for shape in shapes if shape.is_fixed]
    others = [shape for shape in shapes if not shape.is_fixed]
    rows = closely_filled(others, nesting.size.length, nesting.spacing)
    filled = [tuple(Placed(shape, way) for shape, way in row) for row in rows]
    return [*_by_best_fit(ends, nesting, begun), *(board_of(pieces, nesting) for pieces in filled)]


def _paired(shapes: Sequence[PieceShape], nesting: Nesting, begun: Sequence[Board]) -> Iterator[Board]:
    """Start and far pieces in as many pairs as can be, and every begun board, with one piece more or not."""
    starts = [alone(s, nesting) for s in sorted(shapes, key=by_size) if s.starts and not s.fars]
    fars = [alone(s, nesting) for s in sorted(shapes, key=by_size) if s.fars and not s.starts]
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
            return board_of((one, other), nesting) if fits else None
    board, single = (first, second) if len(second.pieces) == 1 else (second, first)
    return with_piece(board, single.pieces[0].shape, nesting)


def _put_best(shape: PieceShape, boards: list[Board], nesting: Nesting) -> None:
    """Into the board that has least left, or on a new one."""
    if not put_in(shape, boards, nesting):
        boards.append(alone(shape, nesting))

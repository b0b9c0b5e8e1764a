"""Boards whose pieces turned out otherwise: measured at the wall, or spoiled at the saw.

Boards are cut one after the other, so a change may move nothing that is cut
already. A piece that no longer fits its offcut gets a board of its own; when a
piece is spoiled, another board gives all that its blank had still to give.
"""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from re import fullmatch

from msgspec import Struct
from msgspec.structs import replace

from engine.cutting.offcut_shapes import piece_shape
from engine.cutting.parting import Placed, part, taken_blanks
from engine.geometry.board import BoardSize
from engine.geometry.hull import convex_hull
from engine.geometry.shapes import Ring
from engine.model.job import Cutting, PieceProgress
from engine.patterns.pattern import Hand
from engine.planning.pieces import Piece

# A board of which less is left has been used up, mm².
ALL_USED = 1.0


class Group(Struct, frozen=True, kw_only=True):
    """The pieces of one board, and those that were spoiled on it."""

    hand: Hand
    size: BoardSize
    pieces: tuple[Placed, ...]
    spoiled: tuple[str, ...] = ()

    @property
    def names(self) -> tuple[str, ...]:
        """The pieces' ids."""
        return tuple(placed.shape.name for placed in self.pieces)

    @property
    def leaves_some(self) -> bool:
        """Can anything be left of it that is of use?"""
        used = sum(placed.shape.area for placed in self.pieces)
        return not self.spoiled and used < self.size.length * self.size.width - ALL_USED


class BoardChanges(Struct, frozen=True, kw_only=True):
    """What has become of the boards since the floor was planned, by piece id.

    ``measured`` are pieces as they are cut now, ``spoiled`` how often one was,
    ``begun`` the boards from which pieces are cut already; those in ``again`` are cut once more.
    """

    measured: dict[str, Piece]
    spoiled: dict[str, int]
    begun: dict[str, str]
    again: frozenset[str]


def board_changes(
    pieces: Mapping[str, Piece], progress: Mapping[str, PieceProgress], spare: Mapping[str, str]
) -> BoardChanges:
    """What the job keeps of each piece; ``pieces`` are those measured at the wall, as they are cut.

    ``spare`` as in ``FloorTaken``: of pieces cut before a floor was taken, the place where each is of use.
    """
    spoiled = {name: done.spoiled for name, done in progress.items() if done.spoiled}
    again = _cut_again(progress, spare)
    return BoardChanges(measured=dict(pieces), spoiled=spoiled, begun=_begun(progress, again), again=again)


def boards_begun(progress: Mapping[str, PieceProgress], spare: Mapping[str, str]) -> dict[str, str]:
    """The boards from which pieces are cut already, by piece id."""
    return _begun(progress, _cut_again(progress, spare))


def _begun(progress: Mapping[str, PieceProgress], again: Collection[str]) -> dict[str, str]:
    return {
        name: done.board
        for name, done in progress.items()
        if (done.cut or done.fitted or name in again) and _is_board(done.board)
    }


def _cut_again(progress: Mapping[str, PieceProgress], spare: Mapping[str, str]) -> frozenset[str]:
    """The pieces that were cut, are long enough for their place as it is now, and are to be cut once more.

    The job knows from which board they came; one that was spoiled since is gone.
    """
    marks = {name: progress.get(name) for name, place in spare.items() if place == name}
    return frozenset(
        name
        for name, done in marks.items()
        if done is not None and not (done.cut or done.fitted) and _is_board(done.board)
    )


def _is_board(name: str) -> bool:
    return fullmatch(r"[LR][1-9]\d{0,4}", name) is not None


def spacing(cutting: Cutting) -> float:
    """How near two pieces of one board may come: the blade, and what either keeps until it was tried."""
    return cutting.kerf + 2 * cutting.trim


def as_measured(
    groups: Iterable[Group], measured: Mapping[str, Piece], laid: Mapping[str, Ring], cutting: Cutting
) -> tuple[list[Group], list[Group]]:
    """The boards with the ``measured`` pieces as they are now, and one more for each that no longer fits.

    ``laid`` as in ``board_supply``: what is taken for a piece before a later cut is still taken.
    """
    kept: list[Group] = []
    more: list[Group] = []
    for group in groups:
        if not measured.keys().isdisjoint(group.names):
            group, *others = _with_measured(group, measured, laid, cutting)
            more += others
        kept.append(group)
    return kept, more


def _with_measured(
    group: Group, measured: Mapping[str, Piece], laid: Mapping[str, Ring], cutting: Cutting
) -> Iterator[Group]:
    """The board, and one for each piece that has to leave it."""
    placed = [
        _measured(each, measured[each.shape.name], laid.get(each.shape.name, ()), cutting)
        if each.shape.name in measured
        else each
        for each in group.pieces
    ]
    gone: list[Placed] = []
    while len(placed) > 1 and part(placed, spacing(cutting)) is None:
        gone.append(next((each for each in placed if each not in group.pieces), placed[-1]))
        placed.remove(gone[-1])
    yield replace(group, pieces=tuple(placed))
    yield from (replace(group, pieces=(each,)) for each in gone)


def _measured(placed: Placed, piece: Piece, laid: Ring, cutting: Cutting) -> Placed:
    taken = convex_hull((*laid, *piece.sawn.outline[0]))
    shape = piece_shape(piece.id, (taken,), piece.board.size, cutting.trim)
    return Placed(shape, min(max(placed.way, shape.slide[0]), shape.slide[1]))


def with_spoiled(
    groups: Sequence[Group],
    spoiled: Mapping[str, int],
    begun: Mapping[str, str],
    order: Mapping[str, int],
    cutting: Cutting,
) -> list[Group]:
    """The boards in their order, and after them another for every spoiled one.

    A piece that is cut from a board already, ``begun``, stays there: the spoiled board is another.
    """
    boards = list(groups)
    for name in sorted((name for name in spoiled if name in order), key=lambda each: order[each]):
        for _ in range(spoiled[name]):
            index = next(i for i, board in enumerate(boards) if name in board.names)
            if name in begun:
                boards.append(replace(boards[index], pieces=(), spoiled=(name,)))
            else:
                boards[index], another = _spoiled(boards[index], name, begun, order, cutting)
                boards.append(another)
    return boards


def _spoiled(
    group: Group, name: str, begun: Mapping[str, str], order: Mapping[str, int], cutting: Cutting
) -> tuple[Group, Group]:
    """What stays of a board on which a piece was spoiled, and the board that takes over."""
    lost = set(_still_to_come(group, name, order, cutting)) - begun.keys()
    stays = tuple(placed for placed in group.pieces if placed.shape.name not in lost)
    goes = tuple(placed for placed in group.pieces if placed.shape.name in lost)
    return replace(group, pieces=stays, spoiled=(*group.spoiled, name)), replace(
        group, pieces=goes, spoiled=()
    )


def _still_to_come(group: Group, name: str, order: Mapping[str, int], cutting: Cutting) -> Iterator[str]:
    """The piece and all others that were still to be cut from the same blank."""
    names = sorted(group.names, key=lambda each: order[each])
    blank = part(group.pieces, spacing(cutting)) if group.pieces else None
    if blank is None:
        yield from names[names.index(name) :]
        return
    taken = taken_blanks(blank, group.size.ring, names, cutting.kerf, cutting.trim)
    yield from taken[name].gives

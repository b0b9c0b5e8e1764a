"""Which pieces one board might give together: every set that cannot be ruled out.

Ruled out is what is proved not to fit, whatever the order of sawing: two pieces that do not share a board,
pieces that are longer in all than the board on a line along it or larger than it, pieces that keep an end and
cannot be parted where they lie, and others that find no room beside them (``room_along``). A part of a set
that one board gives can be had from one board too, so that the largest sets stand for all.
"""

from collections.abc import Iterator, Sequence
from collections.abc import Set as AbstractSet

from msgspec import Struct

from engine.cutting.filled_board import AREA_NOISE, Board, alone
from engine.cutting.offcut_shapes import FIT, HEIGHTS, Nesting, PieceShape
from engine.cutting.parting import Placed
from engine.cutting.room_along import have_room
from engine.cutting.sharing import can_share
from engine.slices import Slices

# Sets looked at before it is given up to list all: some seconds on a phone.
MOST_SETS = 80_000
# So many sets are one slice: some tenths of a second there.
SLICE = 3000

# The members of a set, by their numbers in order.
Members = tuple[int, ...]


class BoardSets(Struct, frozen=True, kw_only=True):
    """Boards with one piece each, the first ``begun`` with what is cut from them, and who might share one.

    ``largest`` are the sets of ``members`` that are part of no other. Where not ``are_all``, there are more.
    """

    members: tuple[Board, ...]
    begun: int
    largest: tuple[Members, ...]
    are_all: bool


class _Set(Struct, frozen=True):
    """A set as it grows: ``later`` are the bits of the members after its last that might still join it.

    ``fixed`` are pieces that stay where they are, ``loose`` those that slide; ``sums`` are lengths and area.
    """

    members: Members
    later: int
    fixed: tuple[Placed, ...]
    loose: tuple[PieceShape, ...]
    sums: tuple[float, ...]


def board_sets(
    shapes: Sequence[PieceShape], begun: Sequence[Board], nesting: Nesting, most: int = MOST_SETS
) -> Slices[BoardSets]:
    """The sets of all pieces of a hand, slice by slice; from the ``begun`` boards some are cut already."""
    cut = {placed.shape.name for board in begun for placed in board.pieces}
    rest = sorted((s for s in shapes if s.name not in cut), key=lambda s: (not s.is_fixed, s.name))
    members = (*begun, *(alone(shape, nesting) for shape in rest))
    return _Listing(members, len(begun), nesting).slices(most)


class _Listing:
    """The sets, size by size: where there are too many, the small ones are listed."""

    def __init__(self, members: tuple[Board, ...], begun: int, nesting: Nesting) -> None:
        self.members, self.begun, self.nesting = members, begun, nesting
        self.sums = [_sums(board, nesting) for board in members]
        room = nesting.size.length + nesting.spacing + FIT
        self.most = (*(room for _ in HEIGHTS), nesting.size.length * nesting.size.width + AREA_NOISE)
        self.beside = [
            sum(1 << j for j in range(i + 1, len(members)) if self._might_share(i, j))
            for i in range(len(members))
        ]

    def slices(self, most: int) -> Slices[BoardSets]:
        """All that are found, a slice every so many."""
        level = [self._first(i) for i in range(len(self.members))]
        largest: list[Members] = []
        count = len(level)
        while level and count <= most:
            more: list[_Set] = []
            known = {one.members for one in level}
            for one in level:
                before = count // SLICE
                larger = [each for each in self._larger(one) if self._might_be(each, known)]
                more += larger
                count += len(larger)
                if count > most:
                    break
                if count // SLICE > before:
                    yield
            parts = {part for one in more for part in parts_of(one.members)}
            largest += [one.members for one in level if one.members not in parts]
            level = more
        largest += [one.members for one in level]
        return BoardSets(
            members=self.members, begun=self.begun, largest=tuple(sorted(largest)), are_all=count <= most
        )

    def _first(self, i: int) -> _Set:
        stays, slides = self._own(i)
        return _Set((i,), self.beside[i], stays, slides, self.sums[i])

    def _own(self, i: int) -> tuple[tuple[Placed, ...], tuple[PieceShape, ...]]:
        """The pieces of a member that stay where they are, and those that slide."""
        pieces = self.members[i].pieces
        if i >= self.begun and not pieces[0].shape.is_fixed:
            return (), (pieces[0].shape,)
        return pieces, ()

    def _might_share(self, i: int, j: int) -> bool:
        second = self.members[j].pieces[0].shape
        if i >= self.begun:
            return can_share([self.members[i].pieces[0].shape, second], self.nesting)
        has_some_left = self.members[i].left > 0
        return j >= self.begun and has_some_left and have_room(self.members[i].pieces, [second], self.nesting)

    def _larger(self, one: _Set) -> Iterator[_Set]:
        """The set with each member that comes after its last, shares with all and is not too much."""
        for j in _numbers(one.later):
            sums = tuple(a + b for a, b in zip(one.sums, self.sums[j], strict=True))
            if all(total <= most for total, most in zip(sums, self.most, strict=True)):
                stays, slides = self._own(j)
                later = one.later & self.beside[j]
                yield _Set((*one.members, j), later, one.fixed + stays, one.loose + slides, sums)

    def _might_be(self, one: _Set, known: AbstractSet[Members]) -> bool:
        """Might each of its parts be on a board, and do those that slide find room?"""
        if len(one.members) == 2 or not one.loose:
            return True
        parts_are = all(part in known for part in parts_of(one.members))
        return parts_are and have_room(one.fixed, one.loose, self.nesting)


def parts_of(members: Members) -> Iterator[Members]:
    """The set without each of its members."""
    return (members[:i] + members[i + 1 :] for i in range(len(members)))


def _numbers(bits: int) -> Iterator[int]:
    while bits:
        lowest = bits & -bits
        bits ^= lowest
        yield lowest.bit_length() - 1


def _sums(board: Board, nesting: Nesting) -> tuple[float, ...]:
    """What a board's pieces take of each line along it, each with the spacing, and their area."""
    shapes = [placed.shape for placed in board.pieces]
    lines = zip(*(nesting.lengths(shape) for shape in shapes), strict=True)
    return (*map(sum, lines), sum(shape.area for shape in shapes))

"""The dearest pieces that might share a board, when every piece has a price (whole numbers).

Pieces stand in classes of which no two can share: a set takes one of each at most. Depth first through
the classes; what is left of each, at its dearest, bounds what a set can still come to (branch and bound
for the heaviest clique by colours; Kumlander 2004, from memory). Sets of pieces are whole numbers here,
a bit for each piece.
"""

from collections.abc import Sequence

from msgspec import Struct

from engine.cutting.offcut_shapes import HEIGHTS, Nesting, PieceShape
from engine.cutting.sharing import LOOSE, can_share, pairs_that_share

# Sets tried, at all prices together, before the search is given up: a second or two on a phone.
MOST_SETS = 120_000

Members = tuple[int, ...]
Lengths = tuple[float, ...]


class Dearest(Struct, frozen=True):
    """No board's pieces cost more than ``price``; ``sets`` are dearer than what was asked for."""

    price: int
    sets: tuple[Members, ...]


class DearestSets:
    """The sets of one hand; what was found of them is kept from one asking to the next.

    ``slides`` are those that keep no end, ``beside`` with whom each can share, ``lengths`` what each takes of
    a board's ``room`` on the lines along it, with the spacing.
    """

    def __init__(self, shapes: Sequence[PieceShape], nesting: Nesting) -> None:
        self._shapes = shapes
        self._nesting = nesting
        self._has_room: dict[int, bool] = {}
        self.left = MOST_SETS
        self.slides = sum(1 << i for i, shape in enumerate(shapes) if not shape.is_fixed)
        self.lengths = [nesting.lengths(shape) for shape in shapes]
        self.room = (nesting.size.length + nesting.spacing + LOOSE,) * len(HEIGHTS)
        self.beside = [0] * len(shapes)
        for i, j in pairs_that_share(shapes, nesting):
            self.beside[i] |= 1 << j
            self.beside[j] |= 1 << i

    def above(self, limit: int, prices: Sequence[int]) -> Dearest | None:
        """Of the sets dearer than ``limit`` the dearest that each piece begins, and the price of all.

        None where too many would have to be looked at.
        """
        search = _Search(self, prices)
        best, sets = limit, []
        for place in range(len(search.pieces)):
            price, found = search.begun_by(place, limit)
            if self.left < 0:
                return None
            best = max(best, price)
            if found:
                sets.append(_members(found))
        return Dearest(best, tuple(sets))

    def has_room(self, found: int) -> bool:
        """Is there room for those that slide, each by itself, among the others?"""
        if not found & self.slides:
            return True
        if found not in self._has_room:
            pieces = [self._shapes[piece] for piece in _members(found)]
            self._has_room[found] = can_share(pieces, self._nesting)
        return self._has_room[found]


class _Search:
    """The pieces that cost something, class after class, the dearest of each class first."""

    def __init__(self, sets: DearestSets, prices: Sequence[int]) -> None:
        self.sets = sets
        classes = _classes(sets.beside, prices)
        self.pieces = [piece for group in classes for piece in group]
        self.prices = [prices[piece] for piece in self.pieces]
        place = {piece: n for n, piece in enumerate(self.pieces)}
        self.beside = [
            sum(1 << place[other] for other in self.pieces if sets.beside[piece] >> other & 1)
            for piece in self.pieces
        ]
        self.class_of = [number for number, group in enumerate(classes) for _ in group]
        ends = [place[group[-1]] + 1 for group in classes]
        begins = [0, *ends]
        self.masks = [(1 << end) - (1 << begin) for begin, end in zip(begins, ends, strict=False)]
        self.best = (0, 0)

    def begun_by(self, place: int, limit: int) -> tuple[int, int]:
        """The dearest set above ``limit`` with this piece and others of later classes; 0 if there is none."""
        number = self.class_of[place]
        later = sum(self.masks[number + 1 :])
        self.best = (max(limit, self.prices[place]), 0)
        piece = self.pieces[place]
        free = _less(self.sets.room, self.sets.lengths[piece])
        self._go_on(self.beside[place] & later, number + 1, self.prices[place], 1 << piece, free)
        return self.best

    def _go_on(self, others: int, number: int, price: int, found: int, free: Lengths) -> None:
        """The set ``found`` with more of the ``others``, from the class of this number on."""
        more = self._most(others, number)
        for n in range(number, len(self.masks)):
            if price + more[n - number] <= self.best[0] or self.sets.left < 0:
                return
            group = others & self.masks[n]
            while group:
                place = (group & -group).bit_length() - 1
                group &= group - 1
                dearer = price + self.prices[place]
                if dearer + more[n - number + 1] <= self.best[0]:
                    break
                self.sets.left -= 1
                piece = self.pieces[place]
                left, wider = _less(free, self.sets.lengths[piece]), found | 1 << piece
                if min(left) >= 0 and self.sets.has_room(wider):
                    if dearer > self.best[0]:
                        self.best = (dearer, wider)
                    if both := others & self.beside[place]:
                        self._go_on(both, n + 1, dearer, wider, left)

    def _most(self, others: int, number: int) -> list[int]:
        """What the others of each class from this one on, and of all later ones, come to at most."""
        more = [0]
        for mask in reversed(self.masks[number:]):
            group = others & mask
            more.append(more[-1] + (self.prices[(group & -group).bit_length() - 1] if group else 0))
        more.reverse()
        return more


def _classes(beside: Sequence[int], prices: Sequence[int]) -> list[list[int]]:
    """The pieces that cost something, each in the first class in which it can share with none."""
    classes: list[list[int]] = []
    masks: list[int] = []
    for piece in sorted((i for i, price in enumerate(prices) if price > 0), key=lambda i: (-prices[i], i)):
        own = next((n for n, mask in enumerate(masks) if not mask & beside[piece]), len(classes))
        if own == len(classes):
            classes.append([])
            masks.append(0)
        classes[own].append(piece)
        masks[own] |= 1 << piece
    return sorted(classes, key=lambda group: (-len(group), group[0]))


def _less(free: Lengths, lengths: Lengths) -> Lengths:
    return tuple([room - length for room, length in zip(free, lengths, strict=True)])


def _members(found: int) -> Members:
    members = []
    while found:
        members.append((found & -found).bit_length() - 1)
        found &= found - 1
    return tuple(members)

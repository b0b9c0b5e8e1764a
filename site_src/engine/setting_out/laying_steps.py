"""In which order the pieces are laid, from the first board on.

The field is laid first: the whole boards, and those cut pieces that would later
have to go in between two long edges or two ends. All other cut pieces can wait
until the field lies, and are measured at it. The field grows from the first
board in both directions of the pattern's order and keeps no hole in it (it is
convex in that order), so that no board is ever left to go in between two laid ones.
"""

from collections import defaultdict
from collections.abc import Callable, Iterable, Mapping, Sequence
from heapq import heappop, heappush

from msgspec import Struct

from engine.geometry.board import Side
from engine.geometry.shapes import Point
from engine.setting_out.touching import touching_edges


class FieldPart(Struct, frozen=True, kw_only=True):
    """A piece to lay. ``order`` is its place in the pattern's order.

    ``sides`` are what is left of its board's own edges, in room coordinates.
    """

    order: tuple[int, ...]
    is_whole: bool
    sides: tuple[tuple[Side, Point, Point], ...]


class LayingSteps(Struct, frozen=True, kw_only=True):
    """Indices of the parts in the order of laying; the first ``field`` of them are the field.

    ``apart`` are those that touch nothing laid before them: the lines say where they lie.
    """

    order: tuple[int, ...]
    field: int
    apart: tuple[int, ...]


KeyOf = Callable[[int], tuple[bool, bool, tuple[int, ...], int]]
"""What is laid first has the least key."""

Locks = Mapping[int, Mapping[int, Side]]
"""Part → each part it touches → with which of its own sides."""


def laying_steps(parts: Sequence[FieldPart], first: Sequence[int]) -> LayingSteps:
    """The order of laying, beginning with the parts ``first``; all of them whole, in the pattern's order."""
    locks = locks_of(parts)
    waiting = _waiting(parts, locks)
    field, apart = _grown(parts, locks, [index for index in range(len(parts)) if index not in waiting], first)
    after = sorted(waiting, key=lambda index: _key(parts, index))
    laid = set(field)
    for index in after:
        if laid.isdisjoint(locks[index]):
            apart.append(index)
        laid.add(index)
    return LayingSteps(order=(*field, *after), field=len(field), apart=tuple(apart))


def is_free(sides: Iterable[Side]) -> bool:
    """Can a board go in that locks with these sides? Not between two long edges, nor between two ends."""
    used = set(sides)
    return not used >= {"left", "right"} and not used >= {"start", "far"}


def locks_of(parts: Sequence[FieldPart]) -> Locks:
    """Which parts touch, and with which of their sides."""
    owned = [(owner, side) for owner, part in enumerate(parts) for side, _, _ in part.sides]
    found: dict[int, dict[int, Side]] = {index: {} for index in range(len(parts))}
    for one, other in touching_edges([(start, end) for part in parts for _, start, end in part.sides]):
        (first, first_side), (second, second_side) = owned[one], owned[other]
        if first != second:
            found[first][second] = first_side
            found[second][first] = second_side
    return found


def _key(parts: Sequence[FieldPart], index: int) -> tuple[tuple[int, ...], int]:
    return parts[index].order, index


def _waiting(parts: Sequence[FieldPart], locks: Locks) -> set[int]:
    """The cut pieces that can still go in when the field and all waiting ones before them lie.

    From the last to the first: what is laid before a piece then no longer hangs on what is undecided.
    """
    cut = [index for index in range(len(parts)) if not parts[index].is_whole]
    waiting: set[int] = set()
    for index in sorted(cut, key=lambda each: _key(parts, each), reverse=True):
        if is_free(side for other, side in locks[index].items() if other not in waiting):
            waiting.add(index)
    return waiting


def _grown(
    parts: Sequence[FieldPart], locks: Locks, members: Sequence[int], first: Sequence[int]
) -> tuple[list[int], list[int]]:
    """The members in the order of laying, and those that start apart from all laid before."""
    growth = _Growth(parts, locks, members)
    front = parts[first[0]].order[0] if first else 0
    seeds = set(first)

    def key(index: int) -> tuple[bool, bool, tuple[int, ...], int]:
        order = parts[index].order
        behind = order[0] < front
        return index not in seeds, behind, tuple(-part for part in order) if behind else order, index

    apart: list[int] = []
    to_start = sorted(members, key=key)
    for start in to_start:
        if start in growth.laid:
            continue
        if growth.laid:
            apart.append(start)
        growth.spread_from(start, key)
    return list(growth.laid), apart


class _Growth:
    """What is laid so far, and what lies on either side of it in the pattern's order."""

    def __init__(self, parts: Sequence[FieldPart], locks: Locks, members: Iterable[int]) -> None:
        self.laid: dict[int, None] = {}
        self._before: dict[int, list[int]] = defaultdict(list)
        self._after: dict[int, list[int]] = defaultdict(list)
        self._below: set[int] = set()
        self._above: set[int] = set()
        inside = set(members)
        for index in members:
            for other in locks[index]:
                if other in inside:
                    is_before = _key(parts, other) < _key(parts, index)
                    (self._before if is_before else self._after)[index].append(other)

    def spread_from(self, start: int, key: KeyOf) -> None:
        """Lay one part and, in turn, all that hang together with it."""
        heap = [(key(start), start)]
        while heap:
            _, index = heappop(heap)
            if index in self.laid or not self._leaves_no_hole(index):
                continue
            self._lay(index)
            for other in (*self._before[index], *self._after[index]):
                if other not in self.laid:
                    heappush(heap, (key(other), other))

    def _leaves_no_hole(self, index: int) -> bool:
        """Is nothing left out between this part and what is laid?"""
        return all(each in self.laid or each not in self._above for each in self._before[index]) and all(
            each in self.laid or each not in self._below for each in self._after[index]
        )

    def _lay(self, index: int) -> None:
        self.laid[index] = None
        for reached, onwards in ((self._above, self._after), (self._below, self._before)):
            to_visit = list(onwards[index])
            while to_visit:
                each = to_visit.pop()
                if each not in reached:
                    reached.add(each)
                    to_visit += onwards[each]

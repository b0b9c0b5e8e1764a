"""Most pairs among pieces of one sort (Edmonds 1965, by blossoms): who shares a board when two do at most."""

from collections import deque
from collections.abc import Sequence

# No partner, no parent.
NONE = -1


def most_pairs_among(fits: Sequence[Sequence[int]]) -> int:
    """How many pairs there can be at once; ``fits[i]`` are all that go with i, each way round."""
    return sum(other != NONE for other in partners_among(fits)) // 2


def partners_among(fits: Sequence[Sequence[int]]) -> list[int]:
    """With whom each goes when there are as many pairs as there can be; -1 for nobody."""
    partner = [NONE] * len(fits)
    for root in range(len(fits)):  # a first pairing, so that few paths have to be sought
        if partner[root] == NONE:
            free = next((other for other in fits[root] if partner[other] == NONE), NONE)
            if free != NONE:
                partner[root], partner[free] = free, root
    for root in range(len(fits)):
        if partner[root] == NONE:
            _Search(fits, partner).augment(root)
    return partner


class _Search:
    """One search for a path from a free one to another free one, on which every second step is a pair.

    ``parent`` leads back along the tree, ``base`` is the first of the blossom that one lies in.
    """

    def __init__(self, fits: Sequence[Sequence[int]], partner: list[int]) -> None:
        self.fits = fits
        self.partner = partner
        self.parent = [NONE] * len(fits)
        self.base = list(range(len(fits)))
        self.outer: set[int] = set()
        self.queue: deque[int] = deque()

    def augment(self, root: int) -> None:
        """Pair along the path found from ``root``; nothing changes where there is none."""
        end = self._end_of_path(root)
        while end != NONE:
            before = self.parent[end]
            following = self.partner[before]
            self.partner[end], self.partner[before] = before, end
            end = following

    def _end_of_path(self, root: int) -> int:
        self.outer.add(root)
        self.queue.append(root)
        while self.queue:
            at = self.queue.popleft()
            for to in self.fits[at]:
                if self.base[at] == self.base[to] or self.partner[at] == to:
                    continue
                if to == root or (self.partner[to] != NONE and self.parent[self.partner[to]] != NONE):
                    self._shrink(at, to)
                elif self.parent[to] == NONE:
                    self.parent[to] = at
                    if self.partner[to] == NONE:
                        return to
                    self._go_on(self.partner[to])
        return NONE

    def _go_on(self, at: int) -> None:
        if at not in self.outer:
            self.outer.add(at)
            self.queue.append(at)

    def _shrink(self, one: int, other: int) -> None:
        """The ring that closes between two becomes one blossom, at the place where their ways part."""
        top = self._common_base(one, other)
        blossom: set[int] = set()
        self._mark(one, top, other, blossom)
        self._mark(other, top, one, blossom)
        for at in range(len(self.base)):
            if self.base[at] in blossom:
                self.base[at] = top
                self._go_on(at)

    def _common_base(self, one: int, other: int) -> int:
        passed: set[int] = set()
        while True:
            one = self.base[one]
            passed.add(one)
            if self.partner[one] == NONE:
                break
            one = self.parent[self.partner[one]]
        while self.base[other] not in passed:
            other = self.parent[self.partner[self.base[other]]]
        return self.base[other]

    def _mark(self, at: int, top: int, child: int, blossom: set[int]) -> None:
        while self.base[at] != top:
            blossom |= {self.base[at], self.base[self.partner[at]]}
            self.parent[at] = child
            child = self.partner[at]
            at = self.parent[child]

"""Prices of pieces by a linear programme: the fewest boards, of sets known so far, that hold every piece.

Parts of boards may be taken; what a piece adds to them is its price (duality). Revised simplex with the
inverse written out (Dantzig; columns are asked for as in Gilmore & Gomory 1961, from memory). A piece is
wanted once and some hundred-thousandths more, each otherwise, so that steps do not go round in circles. Only
whole numbers go in and sums are rounded once (``fsum``): the same on every machine. Nothing is proved here:
whoever uses the prices does.
"""

from collections.abc import Iterable
from math import fsum

from engine.cutting.chance import Chance

Members = tuple[int, ...]
# A set taken in, or (False) a piece that may be held more often than it is wanted.
Entry = tuple[Members, bool]

# Prices and parts below this are noise of divisions.
NOISE = 1e-7
# A piece is wanted so much more, times a whole number below ``SPREAD``.
MORE, SPREAD = 1e-7, 1000
# Entries looked at again one after the other, before all are; and the most steps of one solving.
AT_ONCE, MOST_STEPS = 15, 1000


class CoverProgramme:
    """It begins with every one of ``count`` pieces on a board of its own."""

    def __init__(self, count: int) -> None:
        chance = Chance(count)
        self.prices = [1.0] * count
        self._entries: dict[Entry, None] = {((i,), one): None for i in range(count) for one in (True, False)}
        self._inverse = [[float(i == j) for j in range(count)] for i in range(count)]
        self._taken = [1.0 + MORE * chance.below(SPREAD) for _ in range(count)]
        self._rows: list[Entry] = [((i,), True) for i in range(count)]

    @property
    def boards(self) -> float:
        """How many boards are taken, their parts added up."""
        return fsum(part for part, row in zip(self._taken, self._rows, strict=True) if row[1])

    def taken_sets(self) -> list[Members]:
        """The sets that are taken, those of which most is taken first."""
        rows = zip(self._taken, self._rows, strict=True)
        taken = [(-round(part, 6), members) for part, (members, is_set) in rows if is_set and part > NOISE]
        return [members for _, members in sorted(taken)]

    def add(self, sets: Iterable[Members]) -> bool:
        """Sets to choose from; False where all of them are known."""
        before = len(self._entries)
        self._entries.update({(members, True): None for members in sets})
        return len(self._entries) > before

    def solve(self) -> None:
        """Take in whatever lowers the boards, until nothing does."""
        steps = 0
        while steps < MOST_STEPS and (better := self._better(self._entries)):
            better = better[:AT_ONCE]
            while better:
                self._take_in(better[0])
                better = self._better(better[1:])
                steps += 1

    def _better(self, entries: Iterable[Entry]) -> list[Entry]:
        """Those that lower the boards, the steepest first."""
        found = [(round(-self._worth(entry), 9), entry) for entry in entries]
        return [entry for worth, entry in sorted(found) if worth < -NOISE]

    def _worth(self, entry: Entry) -> float:
        """By how much a board's pieces cost more than it, or a piece less than nothing."""
        members, is_set = entry
        prices = fsum([self.prices[i] for i in members])
        return prices - 1.0 if is_set else -prices

    def _take_in(self, entry: Entry) -> None:
        """Exchange the entry for that row's which is used up first."""
        members, is_set = entry
        sign = 1.0 if is_set else -1.0
        uses = [sign * fsum([row[i] for i in members]) for row in self._inverse]
        last = self._used_up(uses)
        if last is None:
            return
        pivot, worth = uses[last], self._worth(entry)
        own = [at / pivot for at in self._inverse[last]]
        part = self._taken[last] / pivot
        for i, use in enumerate(uses):
            if abs(use) > NOISE * NOISE and i != last:
                self._inverse[i] = [at - use * of for at, of in zip(self._inverse[i], own, strict=True)]
                self._taken[i] = max(0.0, self._taken[i] - use * part)
        self._inverse[last], self._taken[last], self._rows[last] = own, part, entry
        self.prices = [price - worth * of for price, of in zip(self.prices, own, strict=True)]

    def _used_up(self, uses: list[float]) -> int | None:
        """Of the rows that the entry takes from, that with least left for it; noise alone may leave none."""
        rows = ((self._taken[i] / use, i) for i, use in enumerate(uses) if use > NOISE)
        return min(rows, default=(0.0, None))[1]

"""Numbers that look drawn by chance and are the same every time: whole-number arithmetic from a seed."""

from collections.abc import Sequence
from typing import TypeVar

Item = TypeVar("Item")

# Multiplier, increment and modulus of the usual generator with 64 bits (Knuth, TAOCP 2, from memory).
_TIMES, _PLUS, _MASK = 6364136223846793005, 1442695040888963407, (1 << 64) - 1
# The upper bits are the ones that look drawn.
_SHIFT = 33


class Chance:
    """A row of numbers from a seed."""

    def __init__(self, seed: int) -> None:
        self._state = seed & _MASK
        self.below(2)  # the first number would tell the seed

    def below(self, end: int) -> int:
        """A whole number from 0 to below ``end``."""
        self._state = (self._state * _TIMES + _PLUS) & _MASK
        return (self._state >> _SHIFT) % end

    def one_of(self, items: Sequence[Item]) -> Item:
        """One of some."""
        return items[self.below(len(items))]

    def mixed(self, items: Sequence[Item]) -> list[Item]:
        """All of them in another order (Fisher & Yates)."""
        order = list(items)
        for last in range(len(order) - 1, 0, -1):
            other = self.below(last + 1)
            order[last], order[other] = order[other], order[last]
        return order

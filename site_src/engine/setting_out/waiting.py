"""What a branch and bound has yet to look into, and what of it comes next."""

from collections.abc import Iterable
from heapq import heappop, heappush
from itertools import count
from typing import Generic, TypeVar

Part = TypeVar("Part")


class Waiting(Generic[Part]):
    """Parts of a search with the most that each promises."""

    def __init__(self) -> None:
        self._parts: dict[int, Part] = {}
        self._promising: list[tuple[float, int]] = []
        self._numbers = count()

    def add(self, promised: float, part: Part) -> None:
        """Let a part wait."""
        number = next(self._numbers)
        self._parts[number] = part
        heappush(self._promising, (-promised, number))

    def take(self, *, oldest: bool = False) -> Part:
        """Take out the part that promises most or that waits longest. Raises IndexError without any."""
        if oldest and self._parts:
            return self._parts.pop(next(iter(self._parts)))
        while True:
            _, number = heappop(self._promising)
            if number in self._parts:
                return self._parts.pop(number)

    def __len__(self) -> int:
        return len(self._parts)

    @property
    def parts(self) -> Iterable[Part]:
        """Those that wait, the oldest first."""
        return self._parts.values()

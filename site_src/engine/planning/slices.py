"""Long work done slice by slice, so that a short question need not wait for all of it."""

from collections.abc import Callable, Iterator
from typing import Generic, TypeVar

import msgspec

Result = TypeVar("Result")


class UnderWay(Generic[Result]):
    """The one work of its kind that is under way: None while there is more to do, then its result."""

    def __init__(self) -> None:
        self._key = b""
        self._slices: Iterator[Result | None] = iter(())

    def go_on(
        self, inputs: tuple[object, ...], begin: Callable[[], Iterator[Result | None]]
    ) -> Result | None:
        """A slice more of the work for these records, or its first one; other work is dropped for it."""
        key = msgspec.json.encode(inputs)
        slices = self._slices if key == self._key else begin()
        # What is done or was refused is not gone on with.
        self._key = b""
        found = next(slices)
        if found is None:
            self._key, self._slices = key, slices
        return found


def to_the_end(slices: Iterator[Result | None]) -> Result:
    """The result of work done without a break."""
    return next(found for found in slices if found is not None)

"""Long work done slice by slice, so that a short question need not wait for all of it."""

from collections.abc import Callable, Generator
from typing import Generic, TypeAlias, TypeVar

import msgspec

Result = TypeVar("Result")

Slices: TypeAlias = Generator[None, None, Result]
"""Work that yields after each slice and returns its result."""


class UnderWay(Generic[Result]):
    """The one work of its kind that is under way: None while there is more to do, then its result."""

    def __init__(self) -> None:
        self._key = b""
        self._slices: Slices[Result] | None = None

    def go_on(self, inputs: tuple[object, ...], begin: Callable[[], Slices[Result]]) -> Result | None:
        """A slice more of the work for these records, or its first one; other work is dropped for it."""
        key = msgspec.json.encode(inputs)
        slices = self._slices if self._slices is not None and key == self._key else begin()
        # What is done or was refused is not gone on with.
        self._key, self._slices = b"", None
        try:
            next(slices)
        except StopIteration as done:
            result: Result = done.value
            return result
        self._key, self._slices = key, slices
        return None


def to_the_end(slices: Slices[Result]) -> Result:
    """The result of work done without a break."""
    while True:
        try:
            next(slices)
        except StopIteration as done:
            result: Result = done.value
            return result

"""Results kept by the value of their inputs, so that a changed gap does not solve the corners again."""

from collections import OrderedDict
from collections.abc import Callable
from typing import Generic, TypeVar

import msgspec

Result = TypeVar("Result")

# One job is open at a time; a few steps back are worth keeping for undo.
KEPT = 4


class Kept(Generic[Result]):
    """The last few results of one step."""

    def __init__(self) -> None:
        self._results: OrderedDict[bytes, Result] = OrderedDict()

    def get(self, inputs: tuple[object, ...], compute: Callable[[], Result]) -> Result:
        """The result for these records: kept, or computed now. What is refused is not kept."""
        key = msgspec.json.encode(inputs)
        if key not in self._results:
            self._results[key] = compute()
        return self.put(inputs, self._results[key])

    def known(self, inputs: tuple[object, ...]) -> Result | None:
        """The result for these records if it is kept."""
        return self._results.get(msgspec.json.encode(inputs))

    def put(self, inputs: tuple[object, ...], result: Result) -> Result:
        """Keep a result for other inputs that are known to lead to it."""
        key = msgspec.json.encode(inputs)
        self._results[key] = result
        self._results.move_to_end(key)
        while len(self._results) > KEPT:
            self._results.popitem(last=False)
        return result

"""How much of a board to take for a piece that is cut to size later, joined to others."""

from typing import Literal

from msgspec import Struct

from engine.geometry.board import BoardSize
from engine.geometry.shapes import Ring
from engine.geometry.tolerances import ON_EDGE


class RoughBlank(Struct, frozen=True):
    """A part of a board, from ``begin`` to ``end`` in mm along it, over its whole width.

    ``measured_from``: the end of the board that stays on it; None where both do, or neither.
    """

    begin: float
    end: float
    measured_from: Literal["start", "far"] | None

    @property
    def length(self) -> float:
        """How long it is, mm."""
        return self.end - self.begin

    def ring(self, size: BoardSize) -> Ring:
        """Its outline in the board's frame."""
        begin, end, lean = self.begin, self.end, size.lean
        return ((begin, 0.0), (end, 0.0), (end + lean, size.width), (begin + lean, size.width))


def rough_blank(kept: Ring, size: BoardSize, allowance: float) -> RoughBlank:
    """The blank for what is ``kept`` in the end (board's frame), longer by the allowance where it is cut."""
    along = [size.along(point) for point in kept]
    has_start, has_far = min(along) < ON_EDGE, max(along) > size.length - ON_EDGE
    begin = 0.0 if has_start else max(0.0, min(along) - allowance)
    end = size.length if has_far else min(size.length, max(along) + allowance)
    if begin == 0.0 and end == size.length:
        return RoughBlank(0.0, size.length, None)
    return RoughBlank(begin, end, "start" if has_start else "far" if has_far else None)

"""What a floor keeps clear of: a wall's line or a fixed thing's edge, with the gap it needs."""

from typing import NamedTuple

from msgspec import Struct

from engine.geometry.shapes import Point


class Leeway(NamedTuple):
    """By how much a gap may be ``less`` and ``more`` than its barrier's own, mm."""

    less: float
    more: float


class Barrier(Struct, frozen=True, kw_only=True):
    """A line to stay away from.

    ``points`` is the line; a fixed thing's ring is closed by repeating its
    first point and is ``solid``. ``radius`` is set for a round thing. The gap
    band is ``gap`` ± ``tolerance``.
    """

    name: str
    path: str
    points: tuple[Point, ...]
    gap: float
    tolerance: float
    solid: bool = False
    centre: Point | None = None
    radius: float | None = None

    @property
    def leeway(self) -> Leeway:
        """How far the gap may be off: a gap can not be less than nothing, so neither can the band."""
        return Leeway(min(self.gap, self.tolerance), self.tolerance)

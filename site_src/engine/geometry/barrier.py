"""What a floor keeps clear of: a wall's line or a fixed thing's edge, with the gap it needs."""

from msgspec import Struct

from engine.geometry.shapes import Point


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

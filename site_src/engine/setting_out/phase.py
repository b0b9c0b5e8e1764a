"""Where the pattern may sit: its two phases, how far they reach, and what holds it to an opening.

Moving a pattern by a whole cell changes nothing, so that every place it can
take is a part of the way to the next place and a part of the way to the next
row (METHODS: where the pattern should sit).
"""

from collections.abc import Iterable, Sequence
from dataclasses import dataclass
from math import cos, floor, hypot, radians, sin

from engine.geometry.shapes import Point

Span = tuple[float, float]
EVERYWHERE: Span = (0.0, 1.0)


@dataclass(frozen=True, slots=True)
class PhaseCell:
    """The ways to the next place and to the next row, in room mm; ``axis`` is the row axis in degrees."""

    place: Point
    row: Point
    axis: float

    def shift(self, along: float, across: float) -> Point:
        """How far a phase moves the pattern, in room mm."""
        return (
            along * self.place[0] + across * self.row[0],
            along * self.place[1] + across * self.row[1],
        )

    def nearest(self, along: float, across: float) -> Point:
        """The shortest way to a phase: whole cells are taken off."""
        u, v = along - floor(along + 0.5), across - floor(across + 0.5)
        near = (self.shift(u + i, v + j) for i in (-1, 0, 1) for j in (-1, 0, 1))
        return min(near, key=lambda way: (round(hypot(*way), 6), way))

    @property
    def row_spacing(self) -> float:
        """The distance from one row axis to the next, in mm."""
        return abs(self.row[0] * self._normal[0] + self.row[1] * self._normal[1])

    @property
    def _normal(self) -> Point:
        return -sin(radians(self.axis)), cos(radians(self.axis))

    def off_axis(self, anchor: Point, point: Point) -> float:
        """How far a point lies to the left of the row axis through the anchor, in mm."""
        normal = self._normal
        return (point[0] - anchor[0]) * normal[0] + (point[1] - anchor[1]) * normal[1]

    def across_for(self, off: float, allowance: float) -> tuple[Span, ...]:
        """The phases across the rows that bring a row axis to within an allowance of ``off`` mm to its left."""
        step = self.row[0] * self._normal[0] + self.row[1] * self._normal[1]
        middle, half = (off / step) % 1.0, abs(allowance / step)
        if half >= 0.5:
            return (EVERYWHERE,)
        low, high = middle - half, middle + half
        if low < 0:
            return (0.0, high), (low + 1, 1.0)
        return ((low, high),) if high <= 1 else ((low, 1.0), (0.0, high - 1))


def common(spans: Iterable[Sequence[Span]]) -> tuple[Span, ...]:
    """What all of some sets of spans share, in order."""
    shared: list[Span] = [EVERYWHERE]
    for others in spans:
        pairs = ((max(a, c), min(b, d)) for a, b in shared for c, d in others)
        shared = sorted({(low, high) for low, high in pairs if low <= high})
    return tuple(shared)

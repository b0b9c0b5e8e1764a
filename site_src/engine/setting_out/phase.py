"""Where the pattern may sit: its two phases, how far they reach, and what holds it to an opening.

Moving a pattern by a whole cell changes nothing, so that every place it can
take is a part of the way to the next place and a part of the way to the next
row (METHODS: where the pattern should sit).
"""

from collections.abc import Iterable, Sequence
from math import floor, hypot

from msgspec import Struct

from engine.geometry.plane import in_steps
from engine.geometry.shapes import Point

Phase = tuple[float, float]
"""Along the rows and across them, as parts of a cell."""

Span = tuple[float, float]
EVERYWHERE: Span = (0.0, 1.0)
# Sine of the angle below which an opening runs along the rows: about 3°.
ALONG_ROWS = 0.05


class PhaseCell(Struct, frozen=True):
    """The ways to the next place, along the row axis, and to the next row, in room mm.

    ``moved_on``: a whole row on, the pattern is the same moved on along the row by this part of a
    place; None where no row is like another, so that only phases from 0 to 1 across are looked at.
    """

    place: Point
    row: Point
    moved_on: float | None = 0.0

    def shift(self, along: float, across: float) -> Point:
        """How far a phase moves the pattern, in room mm."""
        return (
            along * self.place[0] + across * self.row[0],
            along * self.place[1] + across * self.row[1],
        )

    def phase_of(self, way: Point) -> tuple[float, float]:
        """The phase that a move by some mm in the room leads to, whole cells taken off."""
        along, across = in_steps(way, self.place, self.row)
        return (along - floor(across) * (self.moved_on or 0.0)) % 1.0, across % 1.0

    def rows_to(self, way: Point) -> int:
        """How many whole rows a move leads on; 0 where it leads to the same pattern all the same."""
        return floor(in_steps(way, self.place, self.row)[1]) if self.moved_on is None else 0

    def nearest(self, along: float, across: float) -> Point:
        """The shortest way to a phase: whole cells are taken off, or whole places alone."""
        rows = 0 if self.moved_on is None else floor(across + 0.5)
        around = (0,) if self.moved_on is None else (-1, 0, 1)
        near = (self._without(along, across, rows + j, i) for i in (-1, 0, 1) for j in around)
        return min(near, key=lambda way: (round(hypot(*way), 6), way))

    def _without(self, along: float, across: float, rows: int, places: int) -> Point:
        """The way to a phase without some whole rows, and places beside the nearest."""
        along -= rows * (self.moved_on or 0.0)
        return self.shift(along - floor(along + 0.5) + places, across - rows)

    def across_for(self, anchor: Point, start: Point, end: Point, within: float) -> tuple[Span, ...]:
        """The phases across that bring a row axis to within some mm of an opening's middle, along it.

        The row axis of phase 0 runs through the anchor. Raises ValueError when the
        opening runs along the rows, so that no row axis goes through it.
        """
        phase, part = self._to_middle(anchor, start, end)
        return _around(phase, within * part)

    def off_middle(self, anchor: Point, start: Point, end: Point) -> float:
        """How far off an opening's middle, along it, the nearest row axis runs, mm. Raises ValueError too."""
        phase, part = self._to_middle(anchor, start, end)
        return min(phase, 1 - phase) / part

    def _to_middle(self, anchor: Point, start: Point, end: Point) -> tuple[float, float]:
        """The phase across that brings a row axis to an opening's middle, and how much of it a mm is."""
        length, (ux, uy) = hypot(end[0] - start[0], end[1] - start[1]), self.place
        normal = -uy / hypot(ux, uy), ux / hypot(ux, uy)
        crossing = (
            (normal[0] * (end[0] - start[0]) + normal[1] * (end[1] - start[1])) / length if length else 0
        )
        if abs(crossing) < ALONG_ROWS:
            raise ValueError("the opening runs along the rows")
        middle = (start[0] + end[0]) / 2 - anchor[0], (start[1] + end[1]) / 2 - anchor[1]
        off = normal[0] * middle[0] + normal[1] * middle[1]
        step = self.row[0] * normal[0] + self.row[1] * normal[1]
        return (off / step) % 1.0, abs(crossing / step)


def _around(middle: float, half: float) -> tuple[Span, ...]:
    """A span of a circle of length 1, parted where it goes round."""
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

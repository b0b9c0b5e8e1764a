"""Where a ring in the board's frame runs along the board's own edges, and where the saw has been."""

from collections.abc import Sequence

from msgspec import Struct

from engine.geometry.board import BoardSize
from engine.geometry.shapes import Point, Ring


class Run(Struct, frozen=True):
    """A stretch of a ring: along the board's rim, or cut. ``points`` holds both its ends."""

    points: tuple[Point, ...]
    is_cut: bool
    is_closed: bool = False

    @property
    def edges(self) -> tuple[tuple[Point, Point], ...]:
        """Its edges in order."""
        return tuple(zip(self.points, self.points[1:], strict=False))


def runs_of(ring: Ring, size: BoardSize) -> tuple[Run, ...]:
    """A counter-clockwise ring as alternating runs along the rim and cut runs.

    A ring that never touches the rim is one closed cut run; a whole board is
    one closed run along the rim.
    """
    count = len(ring)
    is_cut = [size.edge_side(ring[i], ring[(i + 1) % count]) is None for i in range(count)]
    if all(is_cut) or not any(is_cut):
        return (Run((*ring, ring[0]), is_cut[0], is_closed=True),)
    first = next(i for i in range(count) if is_cut[i] != is_cut[i - 1])
    return tuple(_collect(ring[first:] + ring[:first], is_cut[first:] + is_cut[:first]))


def _collect(ring: Ring, is_cut: Sequence[bool]) -> list[Run]:
    """Edges gathered while they are of one sort; the ring starts where the sort changes."""
    runs: list[Run] = []
    points = [ring[0]]
    for i, cut in enumerate(is_cut):
        points.append(ring[(i + 1) % len(ring)])
        if i + 1 == len(is_cut) or is_cut[i + 1] != cut:
            runs.append(Run(tuple(points), cut))
            points = [points[-1]]
    return runs

"""The rim of the lay area, parted by what each stretch of it keeps clear of."""

from collections.abc import Iterator, Sequence
from itertools import groupby, takewhile
from math import dist

from msgspec import Struct

from engine.geometry.barrier import Barrier
from engine.geometry.plane import distance_to_segment, nearest_on_segment
from engine.geometry.segment_grid import SegmentGrid
from engine.geometry.shapes import Point, Region, Ring

# The rim lies on its gap line to the error of its sampling; half a millimetre is never another gap line.
ON_LINE = 0.5
# What lies nearest to a wall's end lies as far from the wall as from that end, to rounding, mm.
SAME = 1e-6


class Stretch(Struct, frozen=True):
    """A stretch of the rim that keeps its gap to one barrier, the lay area on its left.

    ``before`` and ``after`` are the turns at its two ends in the rim's direction:
    positive where the floor has an outer corner there. ``rounds``: how many edges at
    its two ends go round an inner corner, about the end of the wall.
    """

    barrier: str
    points: tuple[Point, ...]
    before: float
    after: float
    rounds: tuple[int, int] = (0, 0)


def rim(lay_area: Region, barriers: Sequence[Barrier]) -> tuple[tuple[Stretch, ...], ...]:
    """The stretches of each ring of the lay area, in the ring's order."""
    index = _Index(barriers)
    return tuple(tuple(_stretches(ring, index)) for polygon in lay_area for ring in polygon)


def _stretches(ring: Ring, index: "_Index") -> Iterator[Stretch]:
    ring = tuple(index.parted(ring))
    found = [index.owner(start, end) for start, end in zip(ring, ring[1:] + ring[:1], strict=True)]
    owners, is_round = [owner for owner, _ in found], [is_round for _, is_round in found]
    first = next((place for place in range(len(ring)) if owners[place] != owners[place - 1]), 0)
    edges = [(first + step) % len(ring) for step in range(len(ring))]
    for owner, places in groupby(edges, key=owners.__getitem__):
        held = list(places)
        around = [ring[(held[0] - 1) % len(ring)], *(ring[place] for place in held)]
        around += [ring[(held[-1] + step) % len(ring)] for step in (1, 2)]
        before, after = (sum(takewhile(bool, map(is_round.__getitem__, way))) for way in (held, held[::-1]))
        yield Stretch(owner, tuple(around[1:-1]), _turn(*around[:3]), _turn(*around[-3:]), (before, after))


class _Index:
    """Tells which barrier an edge of the rim keeps clear of."""

    def __init__(self, barriers: Sequence[Barrier]) -> None:
        self._barriers = barriers
        self._reach = max((barrier.gap for barrier in barriers), default=0.0) + ON_LINE
        self._ends = sorted({end for barrier in barriers for end in (barrier.points[0], barrier.points[-1])})
        self._grid = SegmentGrid(
            [
                (start, end, number)
                for number, barrier in enumerate(barriers)
                for start, end in zip(barrier.points, barrier.points[1:], strict=False)
            ]
        )

    def parted(self, ring: Ring) -> Iterator[Point]:
        """The ring with a point wherever one wall goes straight on into the next."""
        for start, end in zip(ring, ring[1:] + ring[:1], strict=True):
            feet = ((nearest_on_segment(corner, start, end), corner) for corner in self._ends)
            inner = {
                foot
                for foot, corner in feet
                if dist(foot, corner) <= self._reach and min(dist(foot, start), dist(foot, end)) > ON_LINE
            }
            yield start
            yield from sorted(inner, key=lambda foot: (dist(foot, start), foot))

    def owner(self, start: Point, end: Point) -> tuple[str, bool]:
        """The barrier whose gap an edge of the rim keeps, and whether it goes round the end of a wall."""
        x, y = (start[0] + end[0]) / 2, (start[1] + end[1]) / 2
        box = (x - self._reach, y - self._reach, x + self._reach, y + self._reach)
        over, number = min(
            (distance_to_segment((x, y), a, b) - self._barriers[number].gap, number)
            for a, b, number in self._grid.near(box)
        )
        barrier = self._barriers[number]
        from_end = min(dist((x, y), end) for end in (barrier.points[0], barrier.points[-1]))
        return barrier.name, not barrier.solid and from_end - barrier.gap <= over + SAME


def _turn(before: Point, corner: Point, after: Point) -> float:
    """Positive where a line turns left at a corner."""
    return (corner[0] - before[0]) * (after[1] - corner[1]) - (corner[1] - before[1]) * (after[0] - corner[0])

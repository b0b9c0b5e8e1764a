"""The gap at any point of the floor: which wall or fixed thing binds there, and how far it is."""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from math import ceil, hypot

from msgspec import Struct

from engine.geometry.barrier import Barrier
from engine.geometry.frame import Frame
from engine.geometry.plane import distance_to_segment
from engine.geometry.segment_grid import SegmentGrid
from engine.geometry.shapes import Point

# Gaps are measured at least this often along a cut, mm.
GAP_EVERY = 10.0
# A point this near to a wall is on it, on neither of its sides, mm.
ON_WALL = 1e-6


class Gap(Struct, frozen=True):
    """The distance in mm to the barrier that binds at a point; below 0 beyond a wall."""

    barrier: Barrier
    distance: float

    @property
    def is_inside_band(self) -> bool:
        """Is the distance inside gap ± tolerance, and not below nothing? A micrometre is left to rounding."""
        return self.to_band <= 0.001

    @property
    def to_band(self) -> float:
        """How far the distance lies outside the band, mm; below 0 inside it."""
        less, more = self.barrier.leeway
        return max(self.over - more, -self.over - less)

    @property
    def over(self) -> float:
        """How much more it is than the barrier's own gap, mm."""
        return self.distance - self.barrier.gap


class GapField:
    """All barriers of a room in one search grid."""

    def __init__(self, barriers: Sequence[Barrier]) -> None:
        self.barriers = tuple(barriers)
        segments = [
            (start, end, number)
            for number, barrier in enumerate(self.barriers)
            for start, end in zip(barrier.points, barrier.points[1:], strict=False)
        ]
        self._grid = SegmentGrid(segments)
        points = [point for barrier in self.barriers for point in barrier.points]
        self._widest = hypot(*(max(values) - min(values) for values in zip(*points, strict=True)))
        self._reach = max((barrier.gap + barrier.tolerance for barrier in self.barriers), default=0.0)

    def at(self, point: Point) -> Gap:
        """The binding gap at a point: the barrier with the least distance beyond its own gap.

        A barrier that is nearer than its tolerance allows goes before: beside one with a wider tolerance,
        whose gap is used up further, it would else be passed over.
        """
        if (gap := self.binding(point)) is not None:
            return gap
        # Far from every barrier no gap binds; the nearest is the one meant.
        hit = self._grid.nearest(point, self._widest)
        assert hit is not None
        return Gap(self.barriers[hit.number], hit.distance)

    def binding(self, point: Point) -> Gap | None:
        """The same, but None where every barrier is farther off than its gap and tolerance."""
        x, y = point
        reach = self._reach + 1
        segments = self._grid.near((x - reach, y - reach, x + reach, y + reach))
        if not segments:
            return None
        distances = [(distance_to_segment(point, start, end), start, end, n) for start, end, n in segments]
        gaps = [Gap(self.barriers[n], distance) for distance, _, _, n in distances]
        gap = min(gaps, key=lambda gap: gap.over)
        tightest = min(gaps, key=lambda gap: gap.over + gap.barrier.leeway.less)
        if tightest.over < 0 and not tightest.is_inside_band:
            gap = tightest
        walls = [each[:3] for each in distances if not self.barriers[each[3]].solid]
        return Gap(gap.barrier, -gap.distance) if _is_beyond(point, walls) else gap


def _is_beyond(point: Point, walls: Sequence[tuple[float, Point, Point]]) -> bool:
    """Does a point lie beyond the nearest of some walls, the room on the left of each?

    Where two of them meet in the nearest point, the one is asked that the point lies more square to.
    """
    least = min((distance for distance, _, _ in walls), default=0.0)
    if least < ON_WALL:
        return False
    nearest = (_square_to(point, *ends) for distance, *ends in walls if distance < least + ON_WALL)
    return max(nearest, key=abs) < 0


def _square_to(point: Point, start: Point, end: Point) -> float:
    """How far a point lies to the left of the endless line through a wall's edge, in mm."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    return (dx * (point[1] - start[1]) - dy * (point[0] - start[0])) / (hypot(dx, dy) or 1.0)


class BoardGapField(Struct, frozen=True):
    """A gap field asked in one board's frame."""

    field: GapField
    frame: Frame

    def at(self, point: Point) -> Gap:
        """The binding gap at a point given in the board's frame."""
        return self.field.at(self.frame.to_room(point))

    def binding(self, point: Point) -> Gap | None:
        """The same, but None far from every barrier; much quicker there."""
        return self.field.binding(self.frame.to_room(point))


def edge_samples(points: Sequence[Point]) -> Iterator[Point]:
    """Points along a line, its corners among them, at most ``GAP_EVERY`` apart."""
    for (ax, ay), (bx, by) in pairwise(points):
        steps = max(1, ceil(hypot(bx - ax, by - ay) / GAP_EVERY))
        for step in range(steps):
            part = step / steps
            yield (ax + part * (bx - ax), ay + part * (by - ay))
    yield points[-1]

"""Which edges of pieces lie on each other: the joints of a floor.

The edges of a pattern run in a few directions, and those that can touch lie on
one line. So they are sorted by direction, then by line, then along it, which for
a thousand pieces is much quicker than to ask for each what lies near.
"""

from collections.abc import Callable, Iterator, Sequence
from itertools import pairwise
from math import atan2, cos, dist, hypot, pi, sin

from engine.geometry.shapes import Point

Segment = tuple[Point, Point]

# Edges that touch over less than this do not lock, mm.
LOCKS = 1.0
# How far apart two edges may lie and still be one joint, mm: rounding alone.
TOUCH = 0.05
# Edges whose directions differ by less are parallel: rounding moves the ends of one by far less, radians.
PARALLEL = 1e-4


def touching_edges(edges: Sequence[Segment]) -> Iterator[tuple[int, int]]:
    """Indices of any two edges that lie on each other over more than ``LOCKS``."""
    long = [index for index, edge in enumerate(edges) if dist(*edge) > LOCKS]
    angles = {index: _angle(edges[index]) for index in long}
    for parallel in _groups(long, angles.__getitem__, PARALLEL):
        longest = max(parallel, key=lambda index: dist(*edges[index]))
        ux, uy = cos(angles[longest]), sin(angles[longest])
        beside = {index: ux * edges[index][0][1] - uy * edges[index][0][0] for index in parallel}
        for line in _groups(parallel, beside.__getitem__, TOUCH):
            yield from _overlapping({i: _span(edges[i], (ux, uy)) for i in line})


def _angle(edge: Segment) -> float:
    """Direction in radians, the same for either way along, above −π/2 and up to π/2."""
    dx, dy = edge[1][0] - edge[0][0], edge[1][1] - edge[0][1]
    if abs(dx) < PARALLEL / 2 * hypot(dx, dy):
        return pi / 2
    return atan2(dy, dx) if dx > 0 else atan2(-dy, -dx)


def _groups(indices: Sequence[int], value: Callable[[int], float], apart: float) -> Iterator[tuple[int, ...]]:
    """The indices by value, cut wherever two neighbours are more than so much apart."""
    ordered = sorted(indices, key=value)
    cuts = [k for k, (one, other) in enumerate(pairwise(ordered), 1) if value(other) - value(one) > apart]
    for start, end in pairwise((0, *cuts, len(ordered))):
        yield tuple(ordered[start:end])


def _span(edge: Segment, direction: Point) -> tuple[float, float]:
    """From where to where an edge reaches along its line."""
    low, high = sorted(x * direction[0] + y * direction[1] for x, y in edge)
    return low, high


def _overlapping(spans: dict[int, tuple[float, float]]) -> Iterator[tuple[int, int]]:
    ordered = sorted(spans, key=lambda index: spans[index])
    for place, one in enumerate(ordered):
        for other in ordered[place + 1 :]:
            if spans[other][0] > spans[one][1] - LOCKS:
                break
            if min(spans[one][1], spans[other][1]) - spans[other][0] > LOCKS:
                yield one, other

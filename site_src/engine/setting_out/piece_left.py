"""What straight edges leave of a board, by the heights of its four corners over each of them."""

from collections.abc import Sequence
from math import sqrt
from typing import NamedTuple

from engine.geometry.board import BoardSize
from engine.model.setting_out import Measure

Heights = Sequence[float]


class Side(NamedTuple):
    """How a board's corners lie over an edge beside its own, and whether they meet round an inner corner.

    ``beyond``: heights over the next edge after that, where the board gets there round an inner corner
    behind an outer one, as past the side of a chimney breast.
    """

    heights: Heights
    is_inner: bool
    beyond: Heights | None = None


def size_left(heights: Heights, sides: Sequence[Side], size: BoardSize, measure: Measure) -> float:
    """The size of what an edge leaves of a board together with those beside it.

    At an outer corner it lies above both edges, round an inner one above either,
    unless the corner parts the board: then what lies above the edge alone is a
    piece of its own.
    ``heights`` are those of the board's four corners over its edge.
    """
    if not sides:
        return _left_by_one(heights, size, measure)
    outer = [side.heights for side in sides if not side.is_inner]
    sets = [[heights, *outer]]
    signs = [1.0]
    for side in sides:
        rest = [over for over in outer if over is not side.heights]
        if side.is_inner and _meet([heights, side.heights]):
            sets += [[side.heights, *outer], [heights, side.heights, *outer]]
            signs += [1.0, -1.0]
        elif side.beyond is not None and _meet([heights, side.beyond, *outer]):
            sets += [[heights, side.beyond, *rest], [heights, side.beyond, *outer]]
            signs += [1.0, -1.0]
    if measure == "area":
        return sum(sign * _area_above(cuts, size) for sign, cuts in zip(signs, sets, strict=True))
    right, left = (
        size.length
        * sum(
            sign * _share_above([(cut[start], cut[end]) for cut in cuts])
            for sign, cuts in zip(signs, sets, strict=True)
        )
        for start, end in ((0, 1), (3, 2))
    )
    return max(right, left) if measure == "long_point" else min(right, left)


def lift_to(heights: Heights, size: BoardSize, measure: Measure, wanted: float) -> float:
    """How far a board must be lifted until a straight edge leaves a piece of a size, or all of it."""
    if measure == "area":
        return _lift_to_share(heights, wanted / (size.length * size.width))
    part = min(1.0, wanted / size.length)
    ends = ((heights[0], heights[1]), (heights[3], heights[2]))
    lifts = [part * (max(pair) - min(pair)) - max(pair) for pair in ends]
    return min(lifts) if measure == "long_point" else max(lifts)


def _lift_to_share(heights: Heights, share: float) -> float:
    """The same for a part of its area: first a triangle, then an even band, then all but a triangle."""
    top, second, third, low = sorted(heights, reverse=True)
    if share >= 1:
        return -low
    one, other = top - second, top - third
    if other <= 0:
        return -top
    corner = one / other / 2
    if share <= corner:
        return sqrt(2 * share * one * other) - top
    if share <= 1 - corner:
        return share * other + one / 2 - top
    return -low - sqrt(2 * (1 - share) * one * other)


def _share_over(heights: Heights) -> float:
    """The part of a board's area above one straight edge that parts it: the reverse of ``_lift_to_share``."""
    low, third, second, top = sorted(heights)
    one, other = top - second, top - third
    if top <= 0:
        return 0.0
    if second <= 0:
        return top * top / (2 * one * other)
    if third <= 0:
        return (top - one / 2) / other
    return 1 - low * low / (2 * one * other)


def _left_by_one(heights: Heights, size: BoardSize, measure: Measure) -> float:
    """The size of what a single edge leaves."""
    if measure == "area":
        return _area_above([heights], size)
    start, right, left, end = heights
    shares = _share_above([(start, right)]), _share_above([(end, left)])
    return size.length * (max(shares) if measure == "long_point" else min(shares))


def _meet(cuts: Sequence[Heights]) -> bool:
    """Is there a part of the board above all edges?"""
    rows = [list(row) for row in zip(*cuts, strict=True)]
    for which in range(len(cuts)):
        rows = clipped(rows, which)
    return bool(rows)


def _share_above(ends: Sequence[tuple[float, float]]) -> float:
    """The part of an edge that lies above all cuts, by the heights of its two ends over each."""
    low, high = 0.0, 1.0
    for start, end in ends:
        if start < 0 and end < 0:
            return 0.0
        if start < 0:
            low = max(low, start / (start - end))
        elif end < 0:
            high = min(high, start / (start - end))
    return max(0.0, high - low)


def _area_above(cuts: Sequence[Heights], size: BoardSize) -> float:
    cuts = [cut for cut in cuts if min(cut) < 0]
    if not cuts:
        return size.length * size.width
    if len(cuts) == 1:
        return size.length * size.width * _share_over(cuts[0])
    if any(max(cut) <= 0 for cut in cuts):
        return 0.0
    rows = [[*point, *(cut[place] for cut in cuts)] for place, point in enumerate(size.ring)]
    for which in range(2, 2 + len(cuts)):
        rows = clipped(rows, which)
        if not rows:
            return 0.0
    return area_of(rows)


def area_of(rows: Sequence[Sequence[float]]) -> float:
    """The area of a ring, counter-clockwise, by the first two numbers of its corners."""
    total = 0.0
    for one, other in zip(rows, (*rows[1:], *rows[:1]), strict=True):
        total += one[0] * other[1] - other[0] * one[1]
    return total / 2


def clipped(rows: list[list[float]], which: int) -> list[list[float]]:
    """A polygon's corners, what lies below 0 in one number taken off (Sutherland & Hodgman 1974)."""
    kept: list[list[float]] = []
    if not rows:
        return kept
    before = rows[-1]
    last = before[which]
    for row in rows:
        here = row[which]
        if (here < 0) != (last < 0):
            share = last / (last - here)
            kept.append([a + share * (b - a) for a, b in zip(before, row, strict=True)])
        if here >= 0:
            kept.append(row)
        before, last = row, here
    return kept

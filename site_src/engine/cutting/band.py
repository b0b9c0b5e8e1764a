"""What a straight cut along a curve must leave on the piece and what it must take off.

A point of the board that lies farther inside than the curve's leeway must stay, one that lies farther
outside must fall. Both are bounded by the curve moved to either side, which runs on past the board's rim
as the wall does; of it counts what lies in the board, for the saw meets nothing else. Moved ends that are
taken as they come would lie off the board where the curve meets the rim at a sharp angle, and short of
the rim where it meets it at a blunt one.
"""

from collections.abc import Callable, Iterator, Sequence
from itertools import chain, pairwise
from math import dist, hypot
from typing import NamedTuple

from engine.cutting.corridor import Strip
from engine.cutting.legs import turn_at
from engine.cutting.straight_cut import BAND_MARGIN
from engine.geometry.barrier import Leeway
from engine.geometry.board import BoardSize
from engine.geometry.plane import line_intersection, nearest_on_polyline
from engine.geometry.shapes import Point

LeewayAt = Callable[[Point], Leeway]

# How far past its ends a curve is held to run on, in leeways: enough for a point of 7°.
RUN_ON = 8.0
# What is left of a moved curve in the board counts when it is longer than this, mm.
LEAST = 1e-9


class Ends(NamedTuple):
    """At which of its ends a curve runs on past the board's rim; at others it meets another cut."""

    start: bool
    end: bool


BOTH = Ends(start=True, end=True)


def strip_of(points: Sequence[Point], leeway_at: LeewayAt, size: BoardSize, ends: Ends = BOTH) -> Strip:
    """The band along a curve with the piece on its left: each edge moved by its barrier's leeway.

    A piece that lies wholly within its band keeps the moved edges themselves, on the board or not: nothing
    of it has to stay, and yet it is to be sawn much as it is.
    """
    leeways = _leeways(points, leeway_at)
    line = _run_on(points, max(leeways[0]), max(leeways[-1]), ends)
    leeways = [*[leeways[0]] * ends.start, *leeways, *[leeways[-1]] * ends.end]
    keep = tuple(_in_board(_moved(line, [more for _, more in leeways]), size))
    fall = tuple(_in_board(_moved(line, [-less for less, _ in leeways]), size))
    if not keep:
        keep = strip_along(points, leeway_at).keep
    return Strip(nominal=tuple(points), keep=keep, fall=fall)


def strip_along(points: Sequence[Point], leeway_at: LeewayAt) -> Strip:
    """The same as far as the curve goes, whatever board lies there."""
    leeways = _leeways(points, leeway_at)
    return Strip(
        nominal=tuple(points),
        keep=tuple(chain.from_iterable(_moved(points, [more for _, more in leeways]))),
        fall=tuple(chain.from_iterable(_moved(points, [-less for less, _ in leeways]))),
    )


def kept_corner(before: Sequence[Point], after: Sequence[Point], leeway_at: LeewayAt) -> Point | None:
    """What must stay of the piece where two legs of a curve meet: where both, moved into it, meet.

    Where their leeways differ that lies past the ends of the moved legs. None where the piece turns inwards.
    """
    ends = (before[-2:], after[:2])
    if turn_at(before[-2], *after[:2]) <= 0:
        return None
    one, other = (next(_moved(end, [_leeways(end, leeway_at)[0].more])) for end in ends)
    return line_intersection(*one, *other)


def out_of_reach(points: Sequence[Point], curve: Sequence[Point], off: float) -> tuple[Point, ...]:
    """The points further from a curve from rim to rim than a cut may be off to their side of it.

    No cut may pass them.
    """
    reach = max(0.0, off - BAND_MARGIN)
    line = _run_on(curve, off, off, BOTH)
    return tuple(point for point in points if nearest_on_polyline(point, line).distance > reach)


def usable(leeway: Leeway) -> Leeway:
    """What of a leeway may be used, a margin kept back on either side where there is any."""
    return Leeway(*(max(way - BAND_MARGIN, min(way, 0.0)) for way in leeway))


def _leeways(points: Sequence[Point], leeway_at: LeewayAt) -> list[Leeway]:
    """How far each edge of a curve may be moved to either side."""
    middles = (((ax + bx) / 2, (ay + by) / 2) for (ax, ay), (bx, by) in pairwise(points))
    return [usable(leeway_at(middle)) for middle in middles]


def _run_on(points: Sequence[Point], at_start: float, at_end: float, ends: Ends) -> tuple[Point, ...]:
    """The curve run on straight past its ends, as the wall does; so far goes by how far a cut may be off."""
    first = (_past(points[1], points[0], RUN_ON * at_start),) if ends.start else ()
    last = (_past(points[-2], points[-1], RUN_ON * at_end),) if ends.end else ()
    return (*first, *points, *last)


def _past(start: Point, end: Point, way: float) -> Point:
    """The point a way beyond ``end``, coming from ``start``."""
    share = way / dist(start, end)
    return (end[0] + share * (end[0] - start[0]), end[1] + share * (end[1] - start[1]))


def _moved(points: Sequence[Point], ways: Sequence[float]) -> Iterator[tuple[Point, Point]]:
    """Each edge of a line moved so far to its left; edges of no length are left out."""
    for ((ax, ay), (bx, by)), way in zip(pairwise(points), ways, strict=True):
        length = hypot(bx - ax, by - ay)
        if length > 0:
            nx, ny = -(by - ay) / length * way, (bx - ax) / length * way
            yield (ax + nx, ay + ny), (bx + nx, by + ny)


def _in_board(edges: Iterator[tuple[Point, Point]], size: BoardSize) -> Iterator[Point]:
    """The ends of what lies of each edge in the board (Cyrus and Beck's clipping by a convex shape)."""
    for start, end in edges:
        (ax, ay), (bx, by) = start, end
        first, last = 0.0, 1.0
        for low, high, most in (
            (ay, by, size.width),
            (size.along(start), size.along(end), size.length),
        ):
            if low == high:
                # Along a side it cuts nothing off.
                last = last if LEAST < low < most - LEAST else -1.0
                continue
            shares = sorted(((0.0 - low) / (high - low), (most - low) / (high - low)))
            first, last = max(first, shares[0]), min(last, shares[1])
        if (last - first) * dist(start, end) > LEAST:
            for share in (first, last):
                yield (ax + share * (bx - ax), ay + share * (by - ay))

"""A cut path that runs over itself, made to turn where it first meets itself.

Two legs of a notch are set a little otherwise than the curve ran. Where the round between them is small they
then cross before they end, and what lies beyond the crossing is a loop that nobody can saw.
"""

from collections.abc import Sequence
from math import dist

from engine.cutting.half_plane import crossing
from engine.geometry.shapes import Point

# Two edges shorter than this are of one sampled round, which does not cross itself, mm.
OF_A_ROUND = 1.0
# Edges that come so near to each other meet, mm: a spike that thin is a loop too.
MEETS = 0.01


def without_loops(points: Sequence[Point]) -> tuple[Point, ...]:
    """An open path, or a closed one that stays closed, without its loops."""
    kept = list(points)
    first = 0
    while first < len(kept) - 2:
        found = _last_crossing(kept, first)
        if found is not None:
            other, at = found
            kept[first + 1 : other + 1] = [at]
        first += 1
    return tuple(kept)


def _last_crossing(points: Sequence[Point], first: int) -> tuple[int, Point] | None:
    """The last edge that crosses this one, and where."""
    a, b = points[first : first + 2]
    is_short = dist(a, b) < OF_A_ROUND
    for other in range(len(points) - 2, first + 1, -1):
        c, d = points[other : other + 2]
        if not (is_short and dist(c, d) < OF_A_ROUND):
            at = _crossing(a, b, c, d)
            if at is not None:
                return other, at
    return None


def _crossing(a: Point, b: Point, c: Point, d: Point) -> Point | None:
    """Where two edges cross, or where the end of the one and the beginning of the other touch; else None."""
    b, c = _past(a, b), _past(d, c)
    c_side, d_side = _side(a, b, c), _side(a, b, d)
    if c_side * d_side >= 0 or _side(c, d, a) * _side(c, d, b) >= 0:
        return None
    return crossing(c, d, c_side, d_side)


def _past(start: Point, end: Point) -> Point:
    """A little beyond the end of an edge."""
    length = dist(start, end)
    share = MEETS / length if length > 0 else 0.0
    return (end[0] + share * (end[0] - start[0]), end[1] + share * (end[1] - start[1]))


def _side(a: Point, b: Point, point: Point) -> float:
    """More than 0 to the left of a–b, less to the right."""
    return (b[0] - a[0]) * (point[1] - a[1]) - (b[1] - a[1]) * (point[0] - a[0])

"""How two edges of the floor meet: at an outer corner, or round an inner one.

Where two walls meet bluntly and one wants the greater gap, the rim goes a little
way round the wall's end before it meets the other edge. That is an outer corner
all the same, only that the floor reaches a little beyond the edges gone straight on.
"""

from math import atan, degrees
from typing import NamedTuple

from engine.geometry.plane import polyline_length
from engine.setting_out.edge_line import EdgeLine

# A corner where the floor reaches farther than this beyond one of the edges is taken for an inner one, mm.
MOST_BEYOND = 5.0


class EdgeCorner(NamedTuple):
    """``is_inner``: the floor lies above either edge; else above both.

    But for ``area`` mm² at the most where it reaches ``beyond`` them, by so many mm.
    """

    is_inner: bool
    area: float = 0.0
    beyond: float = 0.0


def edge_corner(one: EdgeLine, other: EdgeLine) -> EdgeCorner:
    """How an edge meets the next one of the same ring."""
    between = (*one.round_after, *other.round_before)
    beyond = max((-line.height(point) for line in (one, other) for point in between), default=0.0)
    if not _turns_left(one, other) or beyond > MOST_BEYOND:
        return EdgeCorner(True)
    if not between:
        return EdgeCorner(False)
    ends = one.points[-1], *between, other.points[0]
    return EdgeCorner(False, polyline_length(ends) * beyond, beyond)


def _turns_left(one: EdgeLine, other: EdgeLine) -> bool:
    """Does the rim turn left from the end of one edge to the start of the next?"""
    headings = (
        line.frame.angle + degrees(atan(slope))
        for line, slope in ((one, one.gradients[-1]), (other, other.gradients[0]))
    )
    before, after = headings
    return 0 < (after - before) % 360 < 180

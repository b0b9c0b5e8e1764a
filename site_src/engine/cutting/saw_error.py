"""A saw that may be off by part of a degree: how far that moves a cut, what of the band is left for it."""

from collections.abc import Sequence
from math import cos, hypot, radians, sin

from engine.cutting.band import LeewayAt, usable
from engine.cutting.straight_cut import SAW_REACH
from engine.geometry.barrier import Leeway
from engine.geometry.board import BoardSize
from engine.geometry.shapes import Point


def off_by(points: Sequence[Point], size: BoardSize, error: float) -> float:
    """How far a saw that is off by ``error`` degrees may move an end of a cut (mm).

    It turns about one point: at worst where the blade enters at one long edge, and the other end is as far
    off as the board is wide along the cut.
    """
    (ax, ay), (bx, by) = points[0], points[-1]
    length = hypot(bx - ax, by - ay)
    is_across = abs(by - ay) > length * cos(radians(SAW_REACH))
    return sin(radians(error)) * (size.width * length / abs(by - ay) if is_across else length)


def less_the_error(leeway_at: LeewayAt, off: float) -> LeewayAt:
    """The leeway without ``off`` mm of it on either side, but at least half of the band that can be used.

    Else a band that is narrower than the saw is exact would leave no straight cut at all. Where the gap may
    be no less than its own, the cut moves into the piece.
    """

    def at(point: Point) -> Leeway:
        leeway = leeway_at(point)
        kept = min(off, sum(usable(leeway)) / 4)
        return Leeway(leeway.less - kept, leeway.more - kept)

    return at

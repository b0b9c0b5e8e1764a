"""What distances read to a wall share: the wall's own band there, and how well its corners are known."""

from bisect import bisect
from collections.abc import Iterator
from math import sqrt

from engine.geometry.plane import nearest_on_polyline
from engine.geometry.shapes import Point
from engine.survey.band import BAND
from engine.survey.network import Adjustment
from engine.survey.report import WallReport


def shared_with_wall(
    point: Point, wall: WallReport, adjustment: Adjustment | None
) -> Iterator[tuple[str, float]]:
    """Name of what may be off → how much longer the distance is when that is off by a standard deviation, mm.

    Between two stations the wall's band is one error for all that is read there; a corner that is off takes
    along both its walls. Corners measured by x and y state no error of their own.
    """
    line = wall.line
    (ax, ay), (bx, by) = line.start, line.end
    foot = nearest_on_polyline(point, line.points).point
    along = ((foot[0] - ax) * (bx - ax) + (foot[1] - ay) * (by - ay)) / line.chord
    station = min(max(along, 0.0), line.chord)
    stretch = bisect(sorted(at for at, _ in line.wall.offsets), station)
    yield f"{line.name}, stretch {stretch}", wall.band.half_width(station) / BAND
    if adjustment is None:
        return
    # The corners run counter-clockwise: this points into the room, and a wall moved so is nearer.
    inwards = ((ay - by) / line.chord, (bx - ax) / line.chord)
    share = station / line.chord
    for corner, part in ((line.from_, 1 - share), (line.to, share)):
        for axis, off in zip("xy", _off_with(adjustment.covariance(corner), inwards), strict=True):
            if off:
                yield f"{corner} {axis}", -part * off


def _off_with(covariance: tuple[float, float, float], way: Point) -> tuple[float, float]:
    """How far a corner lies off in a direction when either of two independent errors is 1.

    The triangle of its covariance in mm²: x takes the first alone.
    """
    xx, xy, yy = covariance
    first = sqrt(max(xx, 0.0))
    both = xy / first if first else 0.0
    second = sqrt(max(yy - both**2, 0.0))
    return way[0] * first + way[1] * both, way[1] * second

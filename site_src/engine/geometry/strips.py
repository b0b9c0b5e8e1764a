"""Everything within a gap of a wall, as polygons to be united.

Ours, because the buffer of the geometry library first simplifies its input by
up to a hundredth of the distance: 0.1 mm at a gap of 10. Here a straight wall
keeps its gap exactly; only round ends and outer bends are sampled, to
``tolerances.ARC``.
"""

from collections.abc import Iterator, Sequence
from itertools import groupby
from math import atan2, cos, dist, hypot, pi

from engine.geometry.plane import arc
from engine.geometry.shapes import Point, Polygon, Ring
from engine.geometry.tolerances import ARC

SMOOTH_TURN = 0.02
"""Turns below this, in radians, may be mitred instead of rounded, if the rest allows it."""

ONE_POLYGON = 1.0
"""A run that turns more than this in all, in radians, is cut up, lest its polygon meet itself."""

LAP = 0.01
"""How far a round reaches into the sides next to it: two that only met would leave a slit on the grid."""


def strip(points: Sequence[Point], half_width: float) -> list[Polygon]:
    """Give polygons whose union is every point within ``half_width`` mm of the polyline.

    A polyline whose last point repeats its first is closed. Sides of long
    smooth walls come as one polygon. A half width of 0 gives nothing.
    """
    line = [point for point, _ in groupby(points)]
    if half_width <= 0 or not line:
        return []
    if len(line) == 1:
        return [(tuple(arc(line[0], half_width, 0.0, 2 * pi, ARC)[:-1]),)]
    return [(ring,) for ring in (*_sides(line, half_width), *_rounds(line, half_width))]


def _sides(line: list[Point], half_width: float) -> Iterator[Ring]:
    """Give the straight and mitred parts: one ring per smooth run of segments."""
    start, turned = 0, 0.0
    for place in range(1, len(line) - 1):
        turn = _turn(*line[place - 1 : place + 2])
        if not _is_smooth(line[place - 1 : place + 2], turn, half_width):
            yield _mitred(line[start : place + 1], half_width)
            start, turned = place, 0.0
            continue
        turned += abs(turn)
        if turned > ONE_POLYGON:
            # The next run starts one segment early: each bend is mitred inside one of the two.
            yield _mitred(line[start : place + 2], half_width)
            start, turned = place, 0.0
    yield _mitred(line[start:], half_width)


def _rounds(line: list[Point], half_width: float) -> Iterator[Ring]:
    """Give the round ends of the line and the outer rounds of its kinks."""
    if line[0] == line[-1]:
        yield from _round((line[-2], line[0], line[1]), half_width)
    else:
        # An end is a bend on which one turns back.
        yield from _round((line[1], line[0], line[1]), half_width)
        yield from _round((line[-2], line[-1], line[-2]), half_width)
    for place in range(1, len(line) - 1):
        bend = line[place - 1 : place + 2]
        if not _is_smooth(bend, _turn(*bend), half_width):
            yield from _round(bend, half_width)


def _round(bend: Sequence[Point], half_width: float) -> Iterator[Ring]:
    """Fill the wedge that opens on the outer side of a kink, and ``LAP`` of the sides next to it."""
    before, corner, after = bend
    turn = _turn(before, corner, after)
    if not turn:
        return
    start = _heading(before, corner) + (-pi / 2 if turn > 0 else pi / 2)
    rim = arc(corner, half_width, start, turn, ARC)
    back, on = _step(corner, before, LAP), _step(corner, after, LAP)
    yield (
        *rim,
        *(_moved(point, on) for point in (rim[-1], corner)),
        *(_moved(point, back) for point in (corner, rim[0])),
    )


def _mitred(run: list[Point], half_width: float) -> Ring:
    """Give the ring around a smooth run: its left side forwards, its right side backwards."""
    shifts = [_shift(run, place, half_width) for place in range(len(run))]
    left = [(x + dx, y + dy) for (x, y), (dx, dy) in zip(run, shifts, strict=True)]
    right = [(x - dx, y - dy) for (x, y), (dx, dy) in zip(run, shifts, strict=True)]
    return (*right, *reversed(left))


def _shift(run: list[Point], place: int, half_width: float) -> Point:
    """Give the way from a point of the run to the left side: square to it, or along the mitre."""
    before = _normal(run[max(place - 1, 0)], run[max(place, 1)])
    after = _normal(run[min(place, len(run) - 2)], run[min(place + 1, len(run) - 1)])
    sum_x, sum_y = before[0] + after[0], before[1] + after[1]
    scale = 2 * half_width / (sum_x * sum_x + sum_y * sum_y)
    return sum_x * scale, sum_y * scale


def _is_smooth(corner: Sequence[Point], turn: float, half_width: float) -> bool:
    """Tell whether a bend may be mitred: the tip stays within ``ARC``, the curve twice as wide."""
    before, point, after = corner
    shortest = min(dist(before, point), dist(point, after))
    return (
        abs(turn) < SMOOTH_TURN
        and half_width * (1 / cos(turn / 2) - 1) <= ARC
        and 2 * half_width * abs(turn) <= shortest
    )


def _turn(before: Point, corner: Point, after: Point) -> float:
    """Give the change of direction at a corner in radians, −π to π, positive to the left."""
    ux, uy = corner[0] - before[0], corner[1] - before[1]
    vx, vy = after[0] - corner[0], after[1] - corner[1]
    return atan2(ux * vy - uy * vx, ux * vx + uy * vy)


def _heading(start: Point, end: Point) -> float:
    return atan2(end[1] - start[1], end[0] - start[0])


def _step(start: Point, towards: Point, length: float) -> Point:
    """Give the way of a length from one point towards another."""
    share = length / dist(start, towards)
    return (towards[0] - start[0]) * share, (towards[1] - start[1]) * share


def _moved(point: Point, way: Point) -> Point:
    return point[0] + way[0], point[1] + way[1]


def _normal(start: Point, end: Point) -> Point:
    """Give the unit vector to the left of a segment."""
    dx, dy = end[0] - start[0], end[1] - start[1]
    length = hypot(dx, dy)
    return -dy / length, dx / length

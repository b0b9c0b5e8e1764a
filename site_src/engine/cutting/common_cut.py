"""One straight cut through several boards that are glued to one: inside the gap band of all of them.

Everything stands in one frame, that of the floor. What each board asks of the cut
is what it asks of its own; the cut must do it for all at once.
"""

from collections.abc import Sequence
from itertools import chain, pairwise
from math import dist, radians, sin

from engine.cutting.band import out_of_reach, strip_along
from engine.cutting.corridor import CutLine, Strip
from engine.cutting.gap_field import Gap, GapField, edge_samples
from engine.cutting.saw_error import less_the_error
from engine.cutting.straight_cut import best_cut
from engine.geometry.barrier import Barrier, Leeway
from engine.geometry.shapes import Point


def edges_along(curve: Sequence[Point], barrier: Barrier, field: GapField) -> tuple[tuple[Point, ...], ...]:
    """The stretches of a cut curve that are made for one barrier; ``curve`` with the floor on its left."""
    stretches: list[list[Point]] = []
    for start, end in pairwise(curve):
        bound = field.at(((start[0] + end[0]) / 2, (start[1] + end[1]) / 2)).barrier
        if (bound.path, bound.name) != (barrier.path, barrier.name):
            continue
        if stretches and stretches[-1][-1] == start:
            stretches[-1].append(end)
        else:
            stretches.append([start, end])
    return tuple(tuple(points) for points in stretches)


def common_cut(
    stretches: Sequence[tuple[Point, ...]],
    stay: Sequence[Point],
    corners: tuple[Sequence[Point], Sequence[Point]],
    leeway: Leeway,
    saw_error: float = 0.0,
) -> CutLine | None:
    """The cut nearest to the nominal curves of all boards; None where no straight line holds every band.

    ``stay`` are points that no cut may pass. ``corners`` are those of the nominal pieces and those of the
    boards beyond them: on this side and on that, as far as they lie out of the band's reach. The saw's error
    (degrees, over the length of the cut) is left of the band.
    """
    ordered = _in_order(stretches)
    nominal = tuple(chain.from_iterable(ordered))
    if nominal[0] == nominal[-1]:  # all the way round a thing
        return None
    off = sin(radians(saw_error)) * dist(nominal[0], nominal[-1])
    strips = [strip_along(points, less_the_error(lambda point: leeway, off)) for points in ordered]
    keeps = out_of_reach(corners[0], nominal, leeway.more)
    falls = out_of_reach(corners[1], nominal, leeway.less)
    strip = Strip(
        nominal=nominal,
        keep=(*chain.from_iterable(each.keep for each in strips), *keeps, *stay),
        fall=(*chain.from_iterable(each.fall for each in strips), *falls),
    )
    return best_cut(strip, saw_step=0.0)


def _in_order(stretches: Sequence[tuple[Point, ...]]) -> list[tuple[Point, ...]]:
    """One stretch after the other as the cut meets them, the floor on its left."""
    x = sum(points[-1][0] - points[0][0] for points in stretches)
    y = sum(points[-1][1] - points[0][1] for points in stretches)
    return sorted(stretches, key=lambda points: points[0][0] * x + points[0][1] * y)


def gaps_along(
    line: CutLine, stretches: Sequence[tuple[Point, ...]], barrier: Barrier, field: GapField
) -> tuple[Gap, ...]:
    """The gap that a cut leaves beside some stretches, where it is this barrier that binds."""
    dx, dy = line.direction
    (x, y), points = line.at, tuple(chain.from_iterable(stretches))
    along = [dx * (u - x) + dy * (v - y) for u, v in points]
    ends = tuple((x + dx * way, y + dy * way) for way in (min(along), max(along)))
    gaps = (field.at(point) for point in edge_samples(ends))
    return tuple(gap for gap in gaps if (gap.barrier.path, gap.barrier.name) == (barrier.path, barrier.name))

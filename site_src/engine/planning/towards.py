"""Which wall lies in a direction: on the floor "towards C–D" says more than "ahead"."""

from collections.abc import Sequence
from itertools import pairwise

from engine.geometry.shapes import Point
from engine.survey.outline import WallLine


def wall_towards(walls: Sequence[WallLine], at: Point, way: Point) -> str | None:
    """The name of the first wall that a line from a point in a direction meets; None where it meets none."""
    met = [
        (away, wall.name)
        for wall in walls
        for start, end in pairwise(wall.points)
        if (away := _away(at, way, start, end)) is not None
    ]
    return min(met)[1] if met else None


def _away(at: Point, way: Point, start: Point, end: Point) -> float | None:
    """How far off the line meets the segment; None where it does not."""
    sx, sy, ex, ey = start[0] - at[0], start[1] - at[1], end[0] - start[0], end[1] - start[1]
    across = way[0] * ey - way[1] * ex
    if not across:
        return None
    away, share = (sx * ey - sy * ex) / across, (sx * way[1] - sy * way[0]) / across
    return away if away > 0 and 0 <= share <= 1 else None

"""Lines of the plan struck again where the laid floor has them: the row axis, and the parallels ahead.

On either side of the row axis one parallel is enough: the first one up to which whole boards are still to be
laid. What is fitted is told by its marks; where none is marked it is the first parallel of the plan.
"""

from collections.abc import Iterator, Mapping
from math import dist, floor

from engine.geometry.drift import Drift
from engine.geometry.frame import cos_sin
from engine.geometry.shapes import Point
from engine.patterns.row_lines import RowLines
from engine.planning.floor_as_it_lies import middle_of
from engine.planning.floor_plan import FloorPlan
from engine.setting_out.strike_lines import WantedLine, placed, point_on

# Where the row axis of a floor that was taken as it lies runs now: the rest is laid by it.
AS_IT_LIES = "row axis as it lies"
# The parallels by the plan, and as they lie; with the side of the row axis, to the left positive.
PARALLELS = {"left parallel": 1, "right parallel": -1}
PARALLELS_AS_THEY_LIE = {f"{name} as it lies": side for name, side in PARALLELS.items()}
# Two points so far to either side of a line's own say how it runs as it lies, mm.
REACH = 1000.0
# As a part of the way between two parallels: a board whose middle lies on one lies beyond it.
ON_LINE = 1e-6


def lines_as_they_lie(plan: FloorPlan, at: Point, rows: RowLines) -> Iterator[WantedLine]:
    """The row axis, and a parallel on each side where boards are still to be laid; none as long as planned.

    ``at`` is where the first boards meet: the parallels count from there.
    """
    if plan.as_it_lies is None:
        return
    drift, own = plan.as_it_lies.drift, plan.job.floor
    axis = WantedLine(name=AS_IT_LIES, through=own.anchor, direction=cos_sin(own.axis))
    yield moved_line(axis, drift)
    along_rows = WantedLine(name="", through=at, direction=cos_sin(rows.direction))
    ahead = _parallels_ahead(plan, along_rows, drift, rows.parallel)
    for name, side in PARALLELS_AS_THEY_LIE.items():
        if side in ahead:
            yield moved_line(parallel(along_rows, name, side * ahead[side] * rows.parallel), drift)


def parallel(line: WantedLine, name: str, left: float) -> WantedLine:
    """The line so many mm to the left of another."""
    (x, y), (ux, uy) = line.through, line.direction
    return WantedLine(name=name, through=(x - left * uy, y + left * ux), direction=line.direction)


def moved_line(line: WantedLine, drift: Drift) -> WantedLine:
    """A line of the plan through the points of the laid floor that were planned on it."""
    start, end = (drift.moved(point_on(line, way)) for way in (-REACH, REACH))
    length = dist(start, end)
    return WantedLine(
        name=line.name,
        through=drift.moved(line.through),
        direction=((end[0] - start[0]) / length, (end[1] - start[1]) / length),
    )


def _parallels_ahead(
    plan: FloorPlan, along_rows: WantedLine, drift: Drift, apart: float
) -> Mapping[int, int]:
    """The number of the first parallel beyond a whole board still to be laid, for each side that has one."""
    fitted = fitted_pieces(plan)
    ahead: dict[int, int] = {}
    for piece in plan.pieces:
        if piece.sawn.kind != "whole" or piece.id in fitted:
            continue
        _, left = placed(along_rows, drift.planned(middle_of(piece.board)))
        side, number = (1 if left > 0 else -1), floor(abs(left) / apart + ON_LINE) + 1
        ahead[side] = min(number, ahead.get(side, number))
    return ahead


def fitted_pieces(plan: FloorPlan) -> frozenset[str]:
    """The pieces that are laid, by their marks."""
    return frozenset(name for name, marks in plan.job.progress.items() if marks.fitted)

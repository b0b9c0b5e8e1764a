"""The places of the stop, for whole floors, against intervals from a linear programme and every choice tried.

At the angle at which a cut is made, a linear programme (HiGHS, through scipy) tells how far its line may be
moved along the board while all that must stay does and all that must fall does, what the survey does not know
of the wall left over. No number of stops below the fewest points that hit all these intervals can do; on one
side of the blade at one setting that is found by trying every choice (of the intervals' ends: enough).
"""

from collections import defaultdict
from math import radians, tan
from typing import Any

import numpy as np
import pytest
from scipy.optimize import linprog

from engine.cutting.corridor import Corridor
from engine.cutting.gap_field import BoardGapField, GapField
from engine.cutting.sawn_piece import plan_cuts
from engine.cutting.stop import SHARE
from engine.cutting.treatment import StraightCuts
from engine.planning.floor_plan import FloorPlan, plan_floor
from engine.planning.pieces import Piece, nominal_pieces
from engine.planning.saw_order import lies_at_fence, stop_for, turn_for, turned_cuts
from engine.planning.tools import mitre_saw
from engine.planning.uncertainty import doubt_at
from engine.wire.job_file import open_job
from tests.engine.cutting.test_fewest import least_by_trying
from tests.engine.small_jobs import small_job

FLOORS: dict[str, dict[str, Any]] = {
    "herringbone": small_job(),
    "narrow band": small_job(cutting__gap_tolerance=1),
    "chevron": small_job(floor__pattern="chevron"),
    "face down": small_job(cutting__face="down"),
}
Interval = tuple[float, float]


def corridors(plan: FloorPlan) -> dict[str, Corridor]:
    """Piece → all the cuts it was chosen from, of pieces with one straight cut."""
    field, found = GapField(plan.room.barriers), {}
    cutting = plan.job.cutting
    by_ideal = {piece.ideal: piece.id for piece in plan.pieces}
    for board, parts in nominal_pieces(plan.room.lay_area, plan.job.floor):
        for part in parts:
            nominal = tuple(board.frame.ring_to_board(ring) for ring in part)
            planned = plan_cuts(nominal, board.size, BoardGapField(field, board.frame), cutting.saw_step)
            lines = [
                line for each in planned.treatments if isinstance(each, StraightCuts) for line in each.lines
            ]
            if len(lines) == 1 and lines[0].corridor is not None:
                found[by_ideal[part]] = lines[0].corridor
    return found


def interval(piece: Piece, corridor: Corridor, plan: FloorPlan) -> Interval:
    """From where to where the stop may stand for the piece's cut, by two linear programmes in one unknown."""
    (cut,) = turned_cuts(piece, mitre_saw(plan.job.cutting))
    lies = lies_at_fence(piece, cut, mitre_saw(plan.job.cutting))
    way = 1.0 if cut.points[-1][1] > cut.points[0][1] else -1.0
    direction = np.array([-tan(radians(cut.angle)), way])
    axes = np.array([corridor.along, (-corridor.along[1], corridor.along[0])])
    normal = np.array([-direction[1], direction[0]]) / np.hypot(*direction)
    # The line of the cut goes through the point of the fence that lies the stop's distance off the corner.
    zero, one = (normal @ np.array(lies.point(stop)) for stop in (0.0, 1.0))
    keep = np.array(corridor.above) @ axes @ normal + normal @ np.array(corridor.origin)
    fall = np.array(corridor.below) @ axes @ normal + normal @ np.array(corridor.origin)
    rows = [[one - zero]] * len(keep) + [[zero - one]] * len(fall)
    bounds = [*(keep - zero), *(zero - fall)]
    ends = [
        linprog([sign], A_ub=rows, b_ub=bounds, bounds=[(None, None)], method="highs").x[0]
        for sign in (1, -1)
    ]
    field, known = BoardGapField(GapField(plan.room.barriers), piece.board.frame), doubt_at(plan.survey)
    doubt = max(known(field, point) for point in corridor.ends)
    # The doubt is square to the wall's chord, the stop along the fence.
    chord_normal = np.array([-corridor.along[1], corridor.along[0]])
    slant = abs((normal @ chord_normal) / (one - zero))
    room = ends[1] - ends[0]
    back = doubt * slant if 2 * doubt * slant < room else (1 - SHARE) / 2 * room
    return ends[0] + back, ends[1] - back


def parted(intervals: list[Interval]) -> list[list[Interval]]:
    """Intervals that touch one another directly or by others, so that every choice can be tried."""
    parts: list[list[Interval]] = []
    for first, last in sorted(intervals):
        if parts and first <= max(end for _, end in parts[-1]):
            parts[-1].append((first, last))
        else:
            parts.append([(first, last)])
    return parts


@pytest.mark.parametrize("name", FLOORS)
def test_no_choice_of_stops_does_with_fewer_at_the_angles_set(name: str) -> None:
    """Also: every stop lies in its own interval, so that no piece is measured at the wall for its sake."""
    plan = plan_floor(open_job(FLOORS[name]).job)
    saw, found = mitre_saw(plan.job.cutting), corridors(plan)
    groups: dict[tuple[float, bool], list[tuple[Interval, float]]] = defaultdict(list)
    for piece in plan.pieces:
        cuts = list(turned_cuts(piece, saw))
        stop = stop_for(piece, cuts[0], saw) if len(cuts) == 1 and piece.id in found else None
        if stop is None:
            continue
        held = interval(piece, found[piece.id], plan)
        assert held[0] - 0.01 <= stop <= held[1] + 0.01, (piece.id, held, stop)
        side = lies_at_fence(piece, cuts[0], saw).is_left
        groups[round(turn_for(cuts[0], saw), 4), side].append((held, stop))
    assert sum(map(len, groups.values())) > 25
    for group in groups.values():
        least = sum(least_by_trying(part) for part in parted([held for held, _ in group]))
        assert len({round(stop, 4) for _, stop in group}) <= least

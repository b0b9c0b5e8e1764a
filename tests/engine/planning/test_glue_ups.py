"""Glue-ups: one cut for all that are joined, inside the band of each, and blanks that reach past it."""

from math import hypot
from typing import Any

import msgspec
import pytest
import shapely

from engine.cutting.gap_field import GapField, edge_samples
from engine.model.job import Job
from engine.planning.floor_plan import FloorPlan, plan_floor
from engine.planning.glue_ups import PAST_CUT, CommonCut, GlueUp
from tests.engine.small_jobs import small_job


def plan_of(**changes: Any) -> FloorPlan:
    return plan_floor(msgspec.convert(small_job(cutting__glue_first=True, **changes), Job))


def straight(plan: FloorPlan) -> list[tuple[GlueUp, CommonCut]]:
    return [(group, cut) for group in plan.glue_ups for cut in group.cuts if cut.ends]


def _sawn(plan: FloorPlan, group: GlueUp, far: float = 5000.0) -> shapely.Geometry:
    """The joined blanks with everything beyond their common cuts taken off, after shapely."""
    pieces = {piece.id: piece for piece in plan.pieces}
    joined = shapely.union_all(
        [
            shapely.Polygon(
                pieces[name].board.frame.ring_to_room(
                    group.blanks[name].ring(pieces[name].board.size)
                    if name in group.blanks
                    else pieces[name].board.size.ring
                )
            ).buffer(0.001)
            for name in group.pieces
        ]
    )
    for cut in group.cuts:
        assert cut.ends
        (ax, ay), (bx, by) = cut.ends
        length = hypot(bx - ax, by - ay)
        dx, dy = (bx - ax) / length * far, (by - ay) / length * far
        beyond = [
            (ax - dx, ay - dy),
            (bx + dx, by + dy),
            (bx + dx + dy, by + dy - dx),
            (ax - dx + dy, ay - dy - dx),
        ]
        joined = joined.difference(shapely.Polygon(beyond))
    return joined


@pytest.mark.parametrize("sliver", [20, 60])
def test_the_common_cut_keeps_the_gap_of_all_its_pieces_inside_the_band(sliver: float) -> None:
    """Measured by shapely from the wall to the cut, wherever it runs along a joined piece."""
    plan = plan_of(cutting__sliver=sliver)
    cuts = straight(plan)
    assert len(cuts) >= 4
    pieces = {piece.id: piece for piece in plan.pieces}
    for _, cut in cuts:
        assert cut.ends
        (barrier,) = [each for each in plan.room.barriers if each.name == cut.along]
        wall = shapely.LineString(barrier.points)
        field = GapField(plan.room.barriers)
        # Beyond their two ends other cuts may have taken the floor away.
        near = shapely.union_all([shapely.Polygon(pieces[name].ideal[0]).buffer(1.0) for name in cut.pieces])
        gaps = [
            wall.distance(shapely.Point(point))
            for point in edge_samples(cut.ends)
            if near.covers(shapely.Point(point)) and field.at(point).barrier.name == cut.along
        ]
        assert gaps
        assert barrier.gap - barrier.tolerance - 0.001 <= min(gaps)
        assert max(gaps) <= barrier.gap + barrier.tolerance + 0.001
        assert cut.gap_least is not None
        assert cut.gap_most is not None
        assert cut.gap_least <= min(gaps) + 0.05
        assert cut.gap_most >= max(gaps) - 0.05


def test_what_is_sawn_of_the_joined_blanks_is_the_pieces_joined() -> None:
    """To within the band: no more is missing or left over than a strip as wide as it along the cuts."""
    plan = plan_of(cutting__sliver=60)
    pieces = {piece.id: piece for piece in plan.pieces}
    seen = 0
    for group in plan.glue_ups:
        if not all(cut.ends for cut in group.cuts):
            continue
        ideal = shapely.union_all(
            [shapely.Polygon(pieces[name].ideal[0]).buffer(0.001) for name in group.pieces]
        )
        band = max(b.tolerance for b in plan.room.barriers if b.name in group.along)
        assert ideal.difference(_sawn(plan, group).buffer(2 * band + 0.01)).area < 1e-6
        assert _sawn(plan, group).difference(ideal.buffer(2 * band + 0.01)).area < 1e-6
        seen += 1
    assert seen > 8


def test_each_blank_reaches_past_the_cut_or_is_a_whole_board() -> None:
    """Beyond the last point that stays, by the allowance; and its board gives as much."""
    plan = plan_of(cutting__sliver=60)
    pieces = {piece.id: piece for piece in plan.pieces}
    for group in plan.glue_ups:
        for name, blank in group.blanks.items():
            size = pieces[name].board.size
            along = [size.along(point) for point in pieces[name].sawn.outline[0]]
            if blank.measured_from == "start":
                assert (blank.begin, True) == (
                    0.0,
                    blank.end >= min(size.length, max(along) + PAST_CUT - 1e-6),
                )
            elif blank.measured_from == "far":
                assert blank.end == size.length
                assert blank.begin <= max(0.0, min(along) - PAST_CUT + 1e-6)
            assert plan.supply.laid[name] == blank.ring(size)


def test_the_marks_lie_on_the_cut_where_they_are_said_to_be() -> None:
    """Each is measured along its board's edge, from the end that stays; the room's place is the same."""
    plan = plan_of(cutting__sliver=60)
    pieces, seen = {piece.id: piece for piece in plan.pieces}, 0
    for group, cut in straight(plan):
        assert cut.ends
        line = shapely.LineString(cut.ends)
        for mark in cut.marks:
            board = pieces[mark.piece].board
            length, width, blank = board.length, board.width, group.blanks[mark.piece]
            if mark.side in ("left", "right"):
                along = {"far": length - mark.distance, "start": mark.distance}.get(
                    mark.measured_from or "", blank.begin + mark.distance
                )
                point = (along, width if mark.side == "left" else 0.0)
            else:
                point = (0.0 if mark.side == "start" else length, mark.distance)
            assert board.frame.to_room(point) == pytest.approx(mark.at, abs=1e-6)
            assert line.distance(shapely.Point(mark.at)) < 1e-3
            seen += 1
    assert seen > 20


def test_where_no_single_line_holds_none_is_given() -> None:
    """Slivers on both sides of a corner of the plinth; each keeps its own cuts."""
    plan = plan_of(cutting__sliver=100)
    bent = [cut for group in plan.glue_ups for cut in group.cuts if cut.along == "plinth" and not cut.ends]
    assert bent
    assert all(cut.marks == () and cut.gap_least is None for cut in bent)


def test_a_chain_that_ends_in_a_ring_is_one_glue_up() -> None:
    """Every small piece is in one glue-up only, and none is alone that has a neighbour."""
    plan = plan_of(cutting__sliver=100)
    names = [name for group in plan.glue_ups for name in group.pieces]
    assert len(set(names)) == len(names)
    assert all(len(group.pieces) > 1 for group in plan.glue_ups)


def test_the_longer_blanks_are_counted_among_the_boards() -> None:
    """Without glue-ups, where the same slivers may be left out of them, no more boards are taken."""
    plan = plan_of(cutting__sliver=60)
    taken = {name: shapely.Polygon(ring).area for name, ring in plan.supply.laid.items()}
    pieces = {piece.id: piece for piece in plan.pieces}
    own = {name: shapely.Polygon(pieces[name].sawn.outline[0]).area for name in taken}
    assert all(taken[name] >= own[name] for name in taken)
    assert len(plan.supply.boards) >= len(plan_of(cutting__sliver=0).supply.boards)

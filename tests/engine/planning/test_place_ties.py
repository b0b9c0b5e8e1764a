"""Of places as good along the edges that matter, the one is taken that leaves least trouble elsewhere."""

import msgspec

from engine.model.job import Job
from engine.model.setting_out import SettingOut
from engine.planning.best_place import best_place, boards_at_every_phase, sought_at
from engine.planning.floor_edges import floor_edges
from engine.planning.floor_plan import plan_floor, plan_room
from engine.planning.place_ties import AS_LARGE, _cost, settled
from engine.setting_out.best_phase import straight_edges
from tests.engine.small_jobs import small_job


def one_straight_wall() -> Job:
    job = small_job(
        room__corners={"A": [0, 0], "B": [1800, 0], "C": [1812, 1420], "D": [-6, 1400]},
        setting_out={"edges": [{"from": "A", "to": "B"}], "measure": "long_point"},
        room__fixed=[],
    )
    job["room"]["walls"][0]["offsets"] = []
    job["floor"]["board"] = {"length": 400, "width": 70}
    return msgspec.convert(job, Job)


def test_a_place_moved_along_a_straight_wall_is_no_worse_there_and_better_elsewhere() -> None:
    """Never more slivers elsewhere than the place begun with, never a smaller piece along the wall."""
    job = one_straight_wall()
    room, wishes = plan_room(job), job.setting_out or SettingOut()
    edges = floor_edges(room, job.floor.board.length)
    sought = sought_at(room, job.floor, wishes, edges)
    phase = sought.cell.phase_of((0.0, 30.0))
    rim = [point for polygon in room.lay_area for point in polygon[0]]
    boards = boards_at_every_phase(job.floor, rim, sought.cell)
    top = sought.rated(phase), phase
    rated, there = settled(sought, straight_edges(sought), top, lambda: boards, 30.0)
    assert rated.value >= top[0].value - AS_LARGE
    assert _cost(sought, there, boards, 30.0) <= _cost(sought, phase, boards, 30.0)
    assert there != phase


def test_slivers_are_counted_as_in_the_list_of_pieces() -> None:
    """At the best place: boards as many as the plan's, slivers elsewhere no more than all its slivers."""
    job = one_straight_wall()
    best = best_place(job)
    at_best = msgspec.structs.replace(
        job, floor=msgspec.structs.replace(job.floor, anchor=best.anchor, axis=best.axis)
    )
    room = plan_room(at_best)
    sought = sought_at(room, at_best.floor, at_best.setting_out or SettingOut(), floor_edges(room, 400))
    rim = [point for polygon in room.lay_area for point in polygon[0]]
    boards = boards_at_every_phase(at_best.floor, rim, sought.cell)
    slivers, count = _cost(sought, (0.0, 0.0), boards, job.cutting.sliver)
    pieces = plan_floor(at_best).pieces
    assert count == len({piece.from_board for piece in pieces})
    assert slivers <= sum(piece.is_sliver for piece in pieces) + 1

"""A step is computed once for its inputs, and what is refused is never kept."""

import pytest

from engine.errors import Finding, Refused
from engine.model.job import Board
from engine.planning.floor_plan import plan_floor, plan_room
from engine.planning.kept import KEPT, Kept
from engine.wire.job_file import open_job
from tests.engine.small_jobs import small_job


class Count:
    """Computes and counts how often."""

    def __init__(self) -> None:
        self.calls = 0

    def __call__(self) -> int:
        self.calls += 1
        return self.calls


def test_equal_inputs_are_computed_once() -> None:
    """By their value, not by which record it is; another value is computed anew."""
    kept: Kept[int] = Kept()
    count = Count()
    assert kept.get((Board(length=600, width=90), 2.0), count) == 1
    assert kept.get((Board(length=600, width=90), 2.0), count) == 1
    assert kept.get((Board(length=600, width=91), 2.0), count) == 2
    assert kept.get((Board(length=600, width=90), 2.5), count) == 3


def test_only_the_last_few_results_are_kept() -> None:
    """The one asked for least recently goes first."""
    kept: Kept[int] = Kept()
    count = Count()
    for number in range(KEPT):
        kept.get((number,), count)
    kept.get((0,), count)
    kept.get((KEPT,), count)
    assert count.calls == KEPT + 1
    kept.get((0,), count)
    assert count.calls == KEPT + 1
    kept.get((1,), count)
    assert count.calls == KEPT + 2


def test_what_is_refused_is_asked_again() -> None:
    kept: Kept[int] = Kept()

    def refuse() -> int:
        raise Refused(Finding(path="", code="no", sentence="No."))

    with pytest.raises(Refused):
        kept.get((1,), refuse)
    assert kept.get((1,), lambda: 7) == 7


def test_a_new_board_does_not_draw_the_room_again() -> None:
    """The room's own result is taken again; a changed gap makes a new one."""
    # A gap that no other test has: a plan made before it would have been kept with its room, the room not.
    gap = {"room__walls__0__gap": 11.25}
    job = open_job(small_job(**gap)).job
    other = open_job(small_job(**gap, floor__board={"length": 500, "width": 80})).job
    wider = open_job(small_job(room__walls__0__gap=12)).job
    assert plan_floor(job).room is plan_floor(other).room
    assert plan_room(job) is not plan_room(wider)
    assert plan_floor(job).pieces is plan_floor(job).pieces


def test_numbers_kept_in_the_job_cut_no_floor_again() -> None:
    """The app keeps them after the first plan, and asks anew at the next change."""
    job = small_job(cutting__kerf=3.1)
    first = plan_floor(open_job(job).job)
    count = {"row": first.count_from.row, "place": first.count_from.place}
    job["floor"]["count_from"] = count
    assert plan_floor(open_job(job).job).pieces is first.pieces

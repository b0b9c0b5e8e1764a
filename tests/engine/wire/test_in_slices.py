"""Long answers in slices, between which a move gets in: what comes out is what one piece of work gives."""

from collections.abc import Callable
from typing import Any, TypeVar

import pytest

from engine.planning import best_place
from engine.planning.kept import Kept
from tests.engine.small_jobs import ask, small_job

WALLS = [{"from": "A", "to": "B"}, {"from": "C", "to": "D"}, {"from": "D", "to": "A"}]
SLICED = ("place", "slivers", "place map", "best place")


Result = TypeVar("Result")


class Forgetful(Kept[Result]):
    def known(self, inputs: tuple[object, ...]) -> None:
        return None

    def get(self, inputs: tuple[object, ...], compute: Callable[[], Result]) -> Result:
        return compute()


@pytest.fixture(autouse=True)
def nothing_is_kept(monkeypatch: pytest.MonkeyPatch) -> None:
    """What comes in slices is held against what is worked out anew."""
    monkeypatch.setattr(best_place, "_kept", Forgetful())


def job_for(what: str, **floor: Any) -> dict[str, Any]:
    """More narrow boards than are counted in one slice; for the map, which takes long, a few wide ones.

    An axis that may turn is looked at turned so and so, one after the other.
    """
    size, walls = ((600, 180), WALLS[:1]) if what in ("place map", "best place") else ((300, 45), WALLS)
    board = {"length": size[0], "width": size[1]}
    return small_job(setting_out={"edges": walls, "axis_within": 0.6}, floor__board=board, **floor)


def in_slices(what: str, job: dict[str, Any]) -> tuple[int, dict[str, Any]]:
    """How often the answer was that there is more, and the reply in the end."""
    for more in range(100):
        reply = ask(what, job=job, in_slices=True)
        if reply["reply"] != "more":
            return more, reply
    raise AssertionError("no end")


@pytest.mark.parametrize("what", SLICED)
def test_what_comes_in_slices_is_what_comes_whole(what: str) -> None:
    """Promise: the last slice's reply is the whole one, and it takes more than one slice."""
    job = job_for(what)
    more, reply = in_slices(what, job)
    assert more >= 1
    assert reply == ask(what, job=job)


@pytest.mark.parametrize("what", SLICED)
def test_a_move_between_two_slices_changes_nothing(what: str) -> None:
    """Promise: work that is gone on with after other questions, or begun anew, comes out the same."""
    job, other = job_for(what), job_for(what, floor__axis=75)
    whole, there = ask(what, job=job), ask(what, job=other)
    assert ask(what, job=job, in_slices=True)["reply"] == "more"
    assert ask("moved", job=other)["reply"] == "moved"
    assert in_slices(what, job)[1] == whole
    # Other work of the same kind takes its place.
    assert ask(what, job=job, in_slices=True)["reply"] == "more"
    assert in_slices(what, other)[1] == there
    assert in_slices(what, job)[1] == whole


@pytest.mark.parametrize("what", ["place", "place map", "best place"])
def test_what_is_refused_in_slices_is_refused_each_time(what: str) -> None:
    """Promise: a wall that is not there is named, also when asked again, and the next job is answered."""
    gone = small_job(setting_out={"edges": [{"from": "Q", "to": "B"}]})
    for _ in range(2):
        assert ask(what, job=gone, in_slices=True)["reply"] == "refused"
    assert in_slices(what, job_for(what))[1]["reply"] == what

"""Saving boards by a longer search: what it finds is kept in the job, and followed as far as it holds."""

from collections import Counter
from copy import deepcopy
from typing import Any

import pytest

from tests.engine.planning.planned_boards import begun_floor_in_doubt
from tests.engine.small_jobs import ask, small_job


@pytest.fixture(scope="module")
def job() -> dict[str, Any]:
    return begun_floor_in_doubt()


def _searched(job: dict[str, Any], slices: int = 200) -> dict[str, Any]:
    """The last reply of the slices of a search, asked for as a page does."""
    reply: dict[str, Any] = {"together": []}
    for number in range(slices):
        reply = ask("improve", job=job, together=reply["together"], number=number, seconds=2.6 * number)
        assert reply["reply"] == "improve"
        if reply["is_done"]:
            break
    return reply


def _count(reply: dict[str, Any]) -> int:
    return len(reply["plan"]["boards"])


def test_a_board_is_saved_and_the_job_keeps_how(job: dict[str, Any]) -> None:
    """The search ends by itself at the bound; the plan with what it found has as many boards fewer."""
    before = ask("plan", job=job)
    assert before["saving"] == {
        "words": "1 board might be saved at most, if a longer search finds how.",
        "can_be_sought": True,
    }
    found = _searched(job)
    assert (found["saved"], found["is_done"], found["part"]) == (1, True, 1.0)
    assert found["words"].startswith("1 board saved after ")
    assert [figure["text"] for figure in found["figures"]] == [
        str(before["plan"]["bound"]),
        str(before["plan"]["bound"]),
    ]
    after = ask("plan", job={**job, "shared_boards": found["together"]})
    assert _count(after) == _count(before) - 1 == before["plan"]["bound"] == after["plan"]["bound"]
    assert after["saving"]["can_be_sought"] is False
    assert after["saving"]["words"] == "Proven: these pieces cannot be had from fewer boards."
    names = Counter(name for board in after["plan"]["boards"] for name in board["pieces"])
    assert names == Counter(piece["id"] for piece in after["plan"]["pieces"])
    assert _searched(job)["together"] == found["together"]


def test_what_was_found_is_followed_only_as_far_as_it_holds(job: dict[str, Any]) -> None:
    """A wall that is read otherwise, and names of pieces that are no more, take no board from anybody."""
    found = _searched(job)["together"]
    changed = deepcopy(job)
    changed["room"]["corners"]["C"][0] += 35
    own = ask("plan", job=changed)
    kept = ask("plan", job={**changed, "shared_boards": [*found, ["99-99R", "1-1R"], []]})
    assert _count(kept) <= _count(own)
    names = Counter(name for board in kept["plan"]["boards"] for name in board["pieces"])
    assert names == Counter(piece["id"] for piece in own["plan"]["pieces"])


def test_a_piece_that_is_cut_stays_on_its_board_while_others_are_sought(job: dict[str, Any]) -> None:
    before = ask("plan", job=job)
    cut = [board for board in before["plan"]["boards"] if len(board["pieces"]) > 1][::3]
    progress = {name: {"cut": True, "board": board["id"]} for board in cut for name in board["pieces"][:1]}
    begun = {**job, "progress": progress}
    found = _searched(begun, slices=12)
    after = ask("plan", job={**begun, "shared_boards": found["together"]})
    from_board = {piece["id"]: piece["from_board"] for piece in after["plan"]["pieces"]}
    assert all(from_board[name] == mark["board"] for name, mark in progress.items())
    assert _count(after) <= _count(before)


def test_without_offcuts_nothing_can_be_sought() -> None:
    saving = ask("plan", job=small_job(cutting__offcuts=False))["saving"]
    assert saving == {"words": "No offcut is used, so pieces share no boards.", "can_be_sought": False}

"""Saving boards by integer programmes: what is found and proved is kept in the job, as far as it holds."""

from collections import Counter
from collections.abc import Iterator, Sequence
from copy import deepcopy
from typing import Any

import pytest

from engine.cutting.board_filling import fill_boards
from engine.cutting.filled_board import Board, alone
from engine.cutting.offcut_shapes import Nesting, PieceShape
from engine.planning import hand_boards
from tests.engine.planning.planned_boards import begun_floor_in_doubt
from tests.engine.planning.solved_programmes import searched, solved
from tests.engine.small_jobs import ask, small_job
from tests.reference.test_boards_against_linear_programme import seeded_job


@pytest.fixture
def job() -> Iterator[dict[str, Any]]:
    """A floor whose plan takes a board more than it need: no floor is known of which it does by itself."""

    def one_more(
        shapes: Sequence[PieceShape],
        nesting: Nesting,
        begun: Sequence[Board],
        together: Sequence[Sequence[str]],
    ) -> tuple[tuple[Board, ...], int]:
        boards, least = fill_boards(shapes, nesting, begun, together)
        *others, last = sorted(boards, key=lambda board: len(board.pieces) == 2)
        parted = tuple(alone(placed.shape, nesting) for placed in last.pieces)
        is_planned_so = together or "R" not in shapes[0].name
        return (boards, least) if is_planned_so else ((*others, *parted), least)

    with pytest.MonkeyPatch.context() as patch:
        patch.setattr(hand_boards, "fill_boards", one_more)
        yield seeded_job(23) | {"name": "a board too many"}


def _count(reply: dict[str, Any]) -> int:
    return len(reply["plan"]["boards"])


def test_a_board_is_saved_and_the_job_keeps_how(job: dict[str, Any]) -> None:
    """The search ends by itself at the bound; the plan with what it found has as many boards fewer."""
    before = ask("plan", job=job)
    assert before["saving"] == {
        "words": "1 board might be saved at most, if a longer search finds how.",
        "can_be_sought": True,
    }
    found = searched(job)
    assert (found["saved"], found["is_done"], found["part"]) == (1, True, 1.0)
    assert found["words"] == "1 board fewer, found in 3 s. No cutting of these pieces needs fewer: proven."
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
    assert searched(job)["together"] == found["together"]


def test_what_was_found_is_followed_only_as_far_as_it_holds(job: dict[str, Any]) -> None:
    """A wall that is read otherwise, and names of pieces that are no more, take no board from anybody."""
    found = searched(job)["together"]
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
    found = searched(begun)
    after = ask("plan", job={**begun, "shared_boards": found["together"]})
    from_board = {piece["id"]: piece["from_board"] for piece in after["plan"]["pieces"]}
    assert all(from_board[name] == mark["board"] for name, mark in progress.items())
    assert _count(after) <= _count(before)


def test_without_offcuts_nothing_can_be_sought() -> None:
    saving = ask("plan", job=small_job(cutting__offcuts=False))["saving"]
    assert saving == {"words": "No offcut is used, so pieces share no boards.", "can_be_sought": False}


def test_a_proof_counts_for_these_very_pieces_and_no_others() -> None:
    """A begun floor: no board can be saved, which the bound by itself does not say."""
    job = begun_floor_in_doubt()
    found = searched(job)
    assert (found["saved"], found["together"] == []) == (0, False)
    assert found["words"] == (
        "No board saved in 3 s. With what is cut already, no cutting of these pieces needs fewer: proven."
    )
    before = ask("plan", job=job)
    proven = ask("plan", job={**job, "proven_boards": found["proofs"]})
    assert before["plan"]["bound"] + 1 == proven["plan"]["bound"] == _count(proven) == _count(before)
    assert proven["saving"]["words"] == "Proven: these pieces cannot be had from fewer boards."
    other = {**job, "cutting": {"kerf": 2.5}}
    own = ask("plan", job=other)
    kept = ask("plan", job={**other, "proven_boards": found["proofs"]})
    assert kept["plan"]["bound"] == own["plan"]["bound"]
    too_much = {"R": {**found["proofs"]["R"], "least": 99}}
    assert ask("plan", job={**job, "proven_boards": too_much})["plan"]["bound"] == before["plan"]["bound"]


def test_what_a_solver_says_is_looked_at_before_anything_is_taken(job: dict[str, Any]) -> None:
    """A piece left out is refused; no solution and no bound change nothing; news of it are told in words."""
    first = ask("improve", job=job, seconds=0)
    assert first["programme"].startswith("Minimize\n boards: x0 + x1")
    right = solved(first["programme"])
    one = right["values"].index(max(right["values"]))
    wrong = right | {"values": [0.0 if n == one else value for n, value in enumerate(right["values"])]}
    short = right | {"values": right["values"][:-1]}
    for bad in (wrong, short):
        reply = ask("improve", job=job, solved=[bad], seconds=1)
        assert (reply["reply"], reply["findings"][0]["code"]) == ("refused", "no solution")
    nothing = ask("improve", job=job, solved=[{"values": [], "bound": None}], seconds=1)
    assert (nothing["saved"], nothing["is_done"], nothing["proofs"]) == (0, True, {})
    assert nothing["words"] == "No board saved in 1 s. 1 board more might be: that is open."
    news = ask("improve", job=job, under_way={"found": None, "bound": None}, seconds=2)
    assert news["words"] == "No board saved so far, after 2 s. 1 board more might be."
    assert news["programme"] == first["programme"]

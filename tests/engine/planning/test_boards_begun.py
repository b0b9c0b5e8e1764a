"""Boards that are begun: measured, spoiled and cut pieces, and what it does to the others."""

import json
from collections import Counter
from pathlib import Path
from typing import Any

import pytest
import shapely

from engine.planning.boards import HANDS, BoardSupply
from engine.planning.floor_plan import FloorPlan
from engine.planning.plan_file import plan_record
from engine.wire.figures import Writer
from engine.wire.floor_view import summary
from tests.engine.planning.planned_boards import plan_of, small

JOBS = Path(__file__).parents[2] / "reference" / "jobs"


def _shared(plan: FloorPlan) -> tuple[str, str]:
    """Two pieces of one board, the later of them a mitre."""
    kinds = {piece.id: piece.sawn.kind for piece in plan.pieces}
    return next(
        (board.pieces[0], board.pieces[1])
        for board in plan.supply.boards
        if len(board.pieces) == 2 and kinds[board.pieces[1]] == "mitre"
    )


def test_a_piece_measured_too_long_for_its_offcut_gets_a_board_of_its_own() -> None:
    """And nothing else moves; one measured as planned stays where it was."""
    plan = small()
    first, second = _shared(plan)
    piece = next(piece for piece in plan.pieces if piece.id == second)
    as_planned = {"left": piece.sawn.left, "right": piece.sawn.right}
    longer = {"left": min(599.0, piece.sawn.left + 500), "right": min(599.0, piece.sawn.right + 500)}
    same, other = (small(progress={second: lengths}) for lengths in (as_planned, longer))
    assert {b.pieces for b in same.supply.boards} == {b.pieces for b in plan.supply.boards}
    assert other.measured[second].fault is None
    before = {frozenset(b.pieces) for b in plan.supply.boards}
    after = {frozenset(b.pieces) for b in other.supply.boards}
    assert after == before - {frozenset([first, second])} | {frozenset([first]), frozenset([second])}
    assert other.supply.sources[second].after is None


def test_another_board_takes_over_what_a_spoiled_blank_had_still_to_give() -> None:
    """A spoiled first piece takes the later ones of its board with it; a spoiled last one goes alone."""
    plan = small()
    first, second = _shared(plan)
    old = plan.supply.sources[first].board
    count = len(plan.supply.boards)
    early = small(progress={first: {"spoiled": 1}}).supply
    assert [b.id for b in early.boards][:count] == [b.id for b in plan.supply.boards]
    assert {early.sources[name].board for name in (first, second)} == {early.boards[count].id}
    late = small(progress={second: {"spoiled": 1}}).supply
    assert late.sources[first].board == old
    assert late.sources[second].board == late.boards[count].id
    assert late.sources[second].after is None
    for supply in (early, late):
        (spoiled,) = [board for board in supply.boards if board.spoiled]
        assert spoiled.id == old
        assert spoiled.offcuts == ()
        assert len(supply.boards) == count + 1
        others = set(plan.supply.sources) - {first, second}
        assert all(supply.sources[name] == plan.supply.sources[name] for name in others)


def test_each_time_a_piece_is_spoiled_takes_another_board() -> None:
    plan = small()
    name = _shared(plan)[1]
    again = small(progress={name: {"spoiled": 3}}).supply
    assert len(again.boards) == len(plan.supply.boards) + 3
    assert again.sources[name].board == again.boards[-1].id
    assert sum(name in board.spoiled for board in again.boards) == 3
    assert Counter(n for b in again.boards for n in b.pieces) == Counter([p.id for p in plan.pieces])


def test_a_spoiled_board_is_one_more_of_its_hand_in_the_bound_as_in_the_boards() -> None:
    """So what is taken beyond the bound is what it was, however much was spoiled, and on boards begun too."""
    plan = small()
    beyond = {hand: plan.supply.count(hand) - plan.supply.bound[hand] for hand in HANDS}
    first, second = _shared(plan)
    hands = {piece.id: piece.board.hand for piece in plan.pieces}
    other = next(name for name, hand in hands.items() if hand != hands[first])
    begun = {"cut": True, "board": plan.supply.sources[second].board}
    for progress, spoiled in (
        ({first: {"spoiled": 1}}, {hands[first]: 1}),
        ({second: {"spoiled": 3}}, {hands[second]: 3}),
        ({first: {"spoiled": 2}, other: {"spoiled": 1}}, {hands[first]: 2, hands[other]: 1}),
        ({second: {"spoiled": 1, **begun}}, {hands[second]: 1}),
        ({"99-99R": {"spoiled": 4}}, {}),
    ):
        now = small(progress=progress)
        for hand in HANDS:
            assert now.supply.bound[hand] == plan.supply.bound[hand] + spoiled.get(hand, 0)
            assert now.supply.count(hand) - now.supply.bound[hand] == beyond[hand]
        record = plan_record(now)
        assert record.bound == sum(now.supply.bound.values())
        shown = {each.key: each for each in summary(now, Writer(mark="."))}["proven least"]
        assert shown.text == str(record.bound)
        assert dict(shown.inputs).get("spoiled, one more each") == (
            str(sum(spoiled.values())) if spoiled else None
        )


def test_without_offcuts_a_part_that_is_cut_stays_on_its_board_when_the_other_is_spoiled() -> None:
    """Two parts of one place of the pattern come from one board; only the spoiled one needs another."""
    job = json.loads((JOBS / "parted.json").read_text(encoding="utf-8"))
    job.setdefault("cutting", {})["offcuts"] = False
    plan = plan_of(job)
    second = next(name for name in plan.supply.sources if name.endswith(".2"))
    first = second.removesuffix(".2")
    board = plan.supply.sources[second].board
    assert plan.supply.sources[first].board == board
    supply = plan_of(job | {"progress": {first: {"spoiled": 1}, **_marks(plan, [second])}}).supply
    assert supply.sources[second].board == board
    assert supply.sources[first].board != board
    assert len(supply.boards) == len(plan.supply.boards) + 1


def _marks(plan: FloorPlan, names: list[str]) -> dict[str, dict[str, Any]]:
    """The progress of pieces that were cut as the plan said."""
    return {name: {"cut": True, "board": plan.supply.sources[name].board} for name in names}


def given_out(supply: BoardSupply) -> tuple[object, ...]:
    """What a user sees of it; which boards are begun is another matter."""
    return supply.boards, supply.sources, supply.waste, supply.bound


def test_marks_of_what_was_cut_as_planned_move_nothing() -> None:
    plan = small()
    cut = [piece.id for piece in plan.pieces if piece.sawn.kind != "whole"]
    assert given_out(small(progress=_marks(plan, cut[::2])).supply) == given_out(plan.supply)


@pytest.mark.parametrize("share", [2, 3, 5])
def test_what_was_cut_stays_on_its_board_when_a_wall_is_read_again(share: int) -> None:
    """Other boards are given out around those begun: nobody is asked for an offcut that is used up."""
    plan = small()
    cut = [piece.id for piece in plan.pieces if piece.sawn.kind != "whole"][::share]
    marks = _marks(plan, cut)
    moved: dict[str, Any] = {
        "room__corners": {"A": [0, 0], "B": [1800, 0], "C": [1790, 1400], "D": [-20, 1420]}
    }
    fresh, now = small(**moved), small(**moved, progress=marks)
    pieces = {piece.id: piece for piece in now.pieces}
    there = {name: mark["board"] for name, mark in marks.items() if name in pieces}
    assert any(fresh.supply.sources[name].board != board for name, board in there.items())
    assert all(now.supply.sources[name].board == board for name, board in there.items())
    ids = [board.id for board in now.supply.boards]
    assert len(set(ids)) == len(ids)
    assert Counter(n for b in now.supply.boards for n in b.pieces) == Counter(list(pieces))
    assert len(ids) <= len(fresh.supply.boards) + len(there)
    for board in now.supply.boards:
        shapes = {
            n: shapely.Polygon(
                [(x + now.supply.sources[n].way, y) for x, y in pieces[n].sawn.outline[0]]
            ).convex_hull
            for n in board.pieces
        }
        for name in set(board.pieces) - set(there):
            assert all(shapes[name].distance(shapes[other]) > 2.39 for other in shapes if other != name)


def test_a_piece_cut_again_after_it_was_spoiled_stays_on_its_new_board() -> None:
    plan = small()
    name = _shared(plan)[1]
    spoiled = small(progress={name: {"spoiled": 1}}).supply
    board = spoiled.sources[name].board
    again = small(progress={name: {"spoiled": 1, "cut": True, "board": board}}).supply
    assert given_out(again) == given_out(spoiled)

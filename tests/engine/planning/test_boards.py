"""Every piece gets its board: what is promised of boards, offcuts and their order."""

from collections import Counter
from math import inf
from typing import Any

import msgspec
import pytest
import shapely
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from engine.cutting.board_edges import runs_of
from engine.errors import Refused
from engine.geometry.shapes import polygon_area
from engine.model.job import Job
from engine.patterns import find_pattern
from engine.planning.floor_plan import FloorPlan, plan_floor
from engine.planning.plan_file import plan_record
from tests.engine.crooked_rooms import jobs
from tests.engine.small_jobs import ask, small_job


def plan_of(job: dict[str, Any]) -> FloorPlan:
    return plan_floor(msgspec.convert(job, Job))


def small(**changes: Any) -> FloorPlan:
    return plan_of(small_job(**changes))


@settings(max_examples=12, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(job=jobs(), sliver=st.sampled_from([0, 20, 60]), is_glued=st.booleans(), is_long=st.booleans())
def test_in_any_room_every_piece_has_its_board_and_no_offcut_serves_twice(
    job: dict[str, Any], sliver: float, is_glued: bool, is_long: bool
) -> None:
    """Each piece is cut once, of its own hand, from what is left of its board by then.

    With glue-ups, and with a row laid long as well: their blanks are longer than the pieces.
    """
    job["cutting"] |= {"sliver": sliver, "glue_first": is_glued}
    job["long_cuts"] = [{"from": "A", "to": "B", "allowance": 25}] if is_long else []
    try:
        plan = plan_of(job)
    except Refused:
        return
    supply, pieces = plan.supply, {piece.id: piece for piece in plan.pieces}
    assert Counter(name for board in supply.boards for name in board.pieces) == Counter(list(pieces))
    for board in supply.boards:
        assert {pieces[name].board.hand for name in board.pieces} == {board.hand}
        check_board(board.pieces, plan, job["cutting"]["kerf"])
    for hand in ("L", "R"):
        alone = len({piece.from_board for piece in plan.pieces if piece.board.hand == hand})
        assert supply.bound[hand] <= supply.count(hand)
        assert supply.count(hand) <= alone + sum("." in name for name in pieces)


def check_board(names: tuple[str, ...], plan: FloorPlan, kerf: float) -> None:
    """Cut in this order each blank comes out of what the ones before left, with the blade between them."""
    supply, pieces = plan.supply, {piece.id: piece for piece in plan.pieces}
    size = pieces[names[0]].board.size
    left = shapely.Polygon(size.ring)
    for n, name in enumerate(names):
        source, piece = supply.sources[name], pieces[name]
        assert source.after in (names[:n] if n else [None])
        assert source.way == 0 or piece.sawn.kept_end == "neither"
        taken = supply.laid.get(name, piece.sawn.outline[0])
        shape = shapely.Polygon([(x + source.way, y) for x, y in taken]).convex_hull
        assert left.buffer(0.01).covers(shape)
        assert shapely.Polygon(source.blank).buffer(0.01).covers(shape)
        left = left.difference(shape.buffer(kerf - 0.01))


def test_boards_are_opened_in_the_order_of_laying() -> None:
    """So an offcut is there when it is needed; boards of a hand are counted in that order."""
    plan = small()
    order = find_pattern("herringbone").order
    keys = {piece.id: (*order(piece.board, plan.job.floor), piece.id) for piece in plan.pieces}
    opened = [keys[board.pieces[0]] for board in plan.supply.boards]
    assert opened == sorted(opened)
    assert all(
        [keys[n] for n in board.pieces] == sorted(keys[n] for n in board.pieces)
        for board in plan.supply.boards
    )
    for hand in ("L", "R"):
        ids = [board.id for board in plan.supply.boards if board.hand == hand]
        assert ids == [f"{hand}{n + 1}" for n in range(len(ids))]


def test_in_saw_order_boards_are_opened_as_the_saw_is_set() -> None:
    """The same boards in another order; what the mitre saw does not cut comes last."""
    laid, sawn = small(), small(cutting__board_order="saw")
    assert {frozenset(b.pieces) for b in laid.supply.boards} == {
        frozenset(b.pieces) for b in sawn.supply.boards
    }
    settings = plan_record(sawn).saw_settings
    number = {name: -n for n, setting in enumerate(reversed(settings)) for name in setting.pieces}
    opened = [number.get(board.pieces[0], 1) for board in sawn.supply.boards]
    assert opened == sorted(opened)
    assert len(set(opened)) > 5
    assert opened != [number.get(board.pieces[0], 1) for board in laid.supply.boards]


def test_without_offcuts_each_place_of_the_pattern_takes_a_board() -> None:
    plan = small(cutting__offcuts=False)
    assert sum(plan.supply.bound.values()) == len(plan.supply.boards)
    places = {piece.id: piece.from_board for piece in plan.pieces}
    assert len(plan.supply.boards) == len(set(places.values()))
    assert all(len({places[name] for name in board.pieces}) == 1 for board in plan.supply.boards)
    assert len(small().supply.boards) < len(plan.supply.boards)


def test_a_trim_keeps_the_pieces_of_a_board_farther_apart() -> None:
    """5 mm on either side of the blade: no two pieces nearer than 12.4 mm, on more boards or as many."""
    plan, plain = small(cutting__trim=5), small()
    pieces = {piece.id: piece for piece in plan.pieces}
    nearest = inf
    for board in plan.supply.boards:
        shapes = [
            shapely.Polygon([(x + plan.supply.sources[n].way, y) for x, y in pieces[n].sawn.outline[0]])
            for n in board.pieces
        ]
        distances = [a.distance(b) for i, a in enumerate(shapes) for b in shapes[:i]]
        nearest = min([nearest, *distances])
    assert 12.4 - 1e-3 <= nearest < inf
    assert len(plan.supply.boards) >= len(plain.supply.boards)


def test_waste_is_what_no_piece_takes() -> None:
    plan = small()
    used = sum(polygon_area(piece.sawn.outline) for piece in plan.pieces)
    record = plan_record(plan)
    assert record.waste == pytest.approx(1 - used / (len(record.boards) * 600 * 90), abs=1e-6)
    assert record.bound <= len(record.boards)


def test_offcuts_and_pieces_are_no_more_than_the_board() -> None:
    """Each offcut lies on its board, clear of the pieces; the sides told are those of its ring."""
    plan = small()
    pieces = {piece.id: piece for piece in plan.pieces}
    seen = 0
    for board in plan.supply.boards:
        cut = shapely.union_all(
            [
                shapely.Polygon([(x + plan.supply.sources[n].way, y) for x, y in pieces[n].sawn.outline[0]])
                for n in board.pieces
            ]
        )
        for offcut in board.offcuts:
            ring = shapely.Polygon(offcut.ring)
            assert ring.is_valid
            assert shapely.box(0, 0, 600, 90).buffer(1e-6).covers(ring)
            assert ring.distance(cut) > 2.3
            assert all(length <= max(offcut.length, offcut.width) + 1e-6 for length in offcut.sides.values())
            runs = runs_of(offcut.ring, pieces[board.pieces[0]].board.size)
            rim = sum(
                shapely.LineString(run.points).length
                for run in runs
                if not run.is_cut and len(run.points) > 1
            )
            assert rim == pytest.approx(sum(offcut.sides.values()), abs=1e-6)
            seen += 1
    assert seen > 5


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


def test_a_piece_under_a_long_cut_gets_a_board_that_holds_what_is_laid() -> None:
    """From the end that stays as long as the long cut's list says; nothing else of its board lies there."""
    job = small_job(cutting__sliver=0)  # with fewer glue-ups some of the row still share a board
    job["long_cuts"] = [{"from": "B", "to": "C", "allowance": 20}]
    plan = plan_of(job)
    (cut,) = plan.long_cuts
    assert cut is not None
    pieces = {piece.id: piece for piece in plan.pieces}
    shared = 0
    for crossed in cut.boards:
        piece = pieces.get(crossed.id)
        if piece is None or all(each.barrier.name != "B–C" for each in piece.sawn.cuts):
            continue
        begin, end = 0.0, 600.0
        if crossed.end == "start":
            end = crossed.rough
        elif crossed.end == "far":
            begin = 600 - crossed.rough
        laid = shapely.box(begin, 0, end, 90)
        board = next(b for b in plan.supply.boards if b.id == plan.supply.sources[piece.id].board)
        for name in set(board.pieces) - {piece.id}:
            way = plan.supply.sources[name].way
            other = shapely.Polygon([(x + way, y) for x, y in pieces[name].sawn.outline[0]])
            assert other.distance(laid) > 2.399
            shared += 1
    assert shared > 0


def test_a_piece_measured_otherwise_under_a_long_cut_still_takes_what_is_laid() -> None:
    """As long as the row is laid, whatever length was typed for the piece."""
    job = small_job(cutting__sliver=0)
    job["long_cuts"] = [{"from": "B", "to": "C"}]
    plan = plan_of(job)
    (cut,) = plan.long_cuts
    assert cut is not None
    under = {crossed.id for crossed in cut.boards}
    name = next(
        n for board in plan.supply.boards if len(board.pieces) > 1 for n in board.pieces if n in under
    )
    piece = next(piece for piece in plan.pieces if piece.id == name)
    job["progress"] = {name: {"left": piece.sawn.left - 1, "right": piece.sawn.right - 1}}
    measured = plan_of(job)
    assert name in measured.measured
    assert {board.pieces for board in measured.supply.boards} == {b.pieces for b in plan.supply.boards}
    board = next(board for board in measured.supply.boards if name in board.pieces)
    check_board(board.pieces, measured, 2.4)


def test_the_card_and_the_file_name_the_board_or_the_offcut() -> None:
    reply = ask("plan", job=small_job())
    pieces = {piece["id"]: piece for piece in reply["plan"]["pieces"]}
    boards = {board["id"]: board for board in reply["plan"]["boards"]}
    from_offcuts = 0
    for card in reply["cards"]:
        piece = pieces[card["id"]]
        assert card["id"] in boards[piece["from_board"]]["pieces"]
        if piece["after"]:
            from_offcuts += 1
            assert card["board_text"] == f"From the offcut of {piece['after']}, board {piece['from_board']}"
            assert card["steps"][0].startswith(f"Take the offcut of {piece['after']}; ")
        else:
            assert card["board_text"] == f"From a new board, {piece['from_board']}"
            assert boards[piece["from_board"]]["pieces"][0] == card["id"]
    assert from_offcuts > 10


def _marks(plan: FloorPlan, names: list[str]) -> dict[str, dict[str, Any]]:
    """The progress of pieces that were cut as the plan said."""
    return {name: {"cut": True, "board": plan.supply.sources[name].board} for name in names}


def test_marks_of_what_was_cut_as_planned_move_nothing() -> None:
    plan = small()
    cut = [piece.id for piece in plan.pieces if piece.sawn.kind != "whole"]
    assert small(progress=_marks(plan, cut[::2])).supply == plan.supply


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
    assert again == spoiled


def test_every_sawn_board_is_listed_with_its_pieces_and_what_is_left() -> None:
    """Each piece to cut once, on a board drawn with it; as many offcuts in words as in the file."""
    reply = ask("plan", job=small_job())
    boards = {board["id"]: board for board in reply["plan"]["boards"]}
    listed = [name for board in reply["boards"] for name in board["pieces"]]
    assert sorted(listed) == sorted(card["id"] for card in reply["cards"])
    for board in reply["boards"]:
        words, name = board["title"].rsplit(" ", 1)
        assert words == {"L": "Left board", "R": "Right board"}[board["hand"]]
        assert board["pieces"] == boards[name]["pieces"]
        assert [label["text"] for label in board["saw"]["labels"]] == board["pieces"]
        assert [text.partition(" ")[0] for text in board["offcuts"]] == [
            f"{offcut['length']:.1f}" for offcut in boards[name]["offcuts"]
        ]


def test_the_sums_stand_beside_their_proof() -> None:
    reply = ask("plan", job=small_job())
    figures = {figure["key"]: figure for figure in reply["summary"]}
    plan = reply["plan"]
    hands = Counter(board["hand"] for board in plan["boards"])
    assert figures["boards left"]["text"] == str(hands["L"])
    assert figures["boards right"]["text"] == str(hands["R"])
    assert figures["proven least"]["text"] == str(plan["bound"])
    assert figures["waste"]["text"] == f"{100 * plan['waste']:.1f}"
    assert {"boards", "proven least", "waste"} <= set(reply["formulas"])


def test_a_trim_that_cannot_be_is_refused_with_a_sentence() -> None:
    (finding,) = ask("check", job=small_job(cutting__trim=-1))["findings"]
    assert finding["path"] == "cutting.trim"
    assert finding["sentence"] == "The trim must lie between 0 and 50 mm. Enter it again."

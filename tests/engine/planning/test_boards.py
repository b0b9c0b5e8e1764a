"""Every piece gets its board: what is promised of boards, offcuts and their order."""

from collections import Counter
from math import inf
from typing import Any

import pytest
import shapely
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from engine.cutting.board_edges import runs_of
from engine.errors import Refused
from engine.geometry.shapes import polygon_area
from engine.patterns import find_pattern
from engine.planning.plan_file import plan_record
from tests.engine.crooked_rooms import jobs
from tests.engine.planning.planned_boards import check_board, plan_of, small
from tests.engine.small_jobs import ask, small_job


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

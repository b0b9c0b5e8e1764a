"""Pieces, their numbers, the boards they come from and what may be left out."""

from collections import Counter

import pytest
from msgspec.structs import replace

from engine.model.job import CountFrom
from engine.planning.floor_plan import FloorPlan, plan_floor
from engine.planning.pieces import Piece, band_warnings
from engine.planning.plan_file import boards_needed, plan_record
from engine.wire.job_file import open_job
from tests.engine.small_jobs import ask, small_job


def plan_of(**changes: object) -> FloorPlan:
    return plan_floor(open_job(small_job(**changes)).job)


def test_numbers_count_rows_and_places_and_leave_one_free_below() -> None:
    """Row and place are in the id with the hand; number 1 stays free for a corner read anew."""
    pieces = plan_of().pieces
    assert min(piece.row for piece in pieces) == 2
    assert min(piece.place for piece in pieces) == 2
    for piece in pieces:
        assert piece.id.partition(".")[0] == f"{piece.row}-{piece.place}{piece.board.hand}"
    assert max(Counter(piece.id for piece in pieces).values()) == 1


def test_rows_are_counted_to_the_right_of_the_row_axis_and_places_along_it() -> None:
    """With the axis along y: rows grow with x, places with y; right boards alone."""
    boards = {(p.row, p.place): p.board.frame for p in plan_of().pieces if p.board.hand == "R"}
    for (row, place), frame in boards.items():
        beside, ahead = boards.get((row + 1, place)), boards.get((row, place + 1))
        assert beside is None or (beside.x > frame.x and beside.y == pytest.approx(frame.y))
        assert ahead is None or (ahead.y > frame.y and ahead.x == pytest.approx(frame.x))


def test_the_cell_that_counts_as_one_is_kept_when_the_job_says_so() -> None:
    """Moved by two rows and three places, every number moves by as much."""
    plain = plan_of()
    moved = plan_of(floor__count_from={"row": plain.count_from.row - 2, "place": plain.count_from.place + 3})
    assert moved.count_from == CountFrom(row=plain.count_from.row - 2, place=plain.count_from.place + 3)
    assert [(p.row, p.place) for p in moved.pieces] == [(p.row + 2, p.place - 3) for p in plain.pieces]


def test_parts_of_one_board_are_counted_as_one_board() -> None:
    """A bar across the room parts boards: the parts share ``from_board`` and are numbered after it."""
    bar = {"name": "bar", "outline": [[500, 500], [1300, 500], [1300, 530], [500, 530]], "gap": 5}
    plan = plan_of(room__fixed=[bar], cutting__offcuts=False)
    shared = Counter(piece.from_board for piece in plan.pieces)
    parted = [piece for piece in plan.pieces if shared[piece.from_board] > 1]
    assert parted
    assert {piece.id for piece in parted} >= {piece.from_board for piece in parted}
    assert {piece.id.partition(".")[2] for piece in parted} <= {"", "2", "3"}
    assert all(piece.from_board == piece.id.partition(".")[0] for piece in plan.pieces)
    needed = boards_needed(plan)
    assert needed["left"] + needed["right"] == len(shared) < len(plan.pieces)


def test_a_piece_inside_the_tolerance_may_be_left_out() -> None:
    """A strip of pieces 1.5 mm wide along a wall at ± 2 mm, in a room set out for it; not at ± 1 mm.

    With the axis at 45° right boards run along x: the anchor 11.5 mm from the wall with a gap of 10.
    """
    corners = {"A": [0, 0], "B": [1500, 0], "C": [1500, 1200], "D": [0, 1200]}
    walls = [{"from": "A", "to": "B", "gap": 10}]
    slim = {"room__corners": corners, "room__walls": walls, "room__fixed": [], "floor__axis": 45}
    board = {"length": 600, "width": 90}
    plan = plan_of(**slim, floor__board=board, floor__anchor=[0, 11.5])
    narrow = [p for p in plan.pieces if max(y for _, y in p.ideal[0]) < 11.6]
    assert narrow
    assert all(piece.can_be_left_out for piece in narrow)
    assert not any(piece.can_be_left_out for piece in plan.pieces if piece not in narrow and whole(piece))
    tight = plan_of(**slim, floor__board=board, floor__anchor=[0, 11.5], cutting__gap_tolerance=1)
    assert not any(p.can_be_left_out for p in tight.pieces if max(y for _, y in p.ideal[0]) < 11.6)


def whole(piece: Piece) -> bool:
    return piece.sawn.kind == "whole"


def test_slivers_are_cut_pieces_below_the_limit() -> None:
    """By least width or long point; whole boards never are, whatever the limit."""
    plan = plan_of(cutting__sliver=45)
    assert any(piece.is_sliver for piece in plan.pieces)
    for piece in plan.pieces:
        small = min(piece.sawn.least_width, max(piece.sawn.left, piece.sawn.right)) < 45
        assert piece.is_sliver == (small and piece.sawn.kind != "whole")
    assert not any(p.is_sliver for p in plan_of(cutting__sliver=500).pieces if p.sawn.kind == "whole")


def test_a_gap_outside_its_band_is_warned_of_by_the_piece_s_name() -> None:
    """The worst gap is told with what it should be; pieces that hold their bands are not spoken of."""
    pieces = [piece for piece in plan_of().pieces if piece.sawn.gaps][:2]
    assert list(band_warnings(pieces)) == []
    good, bad = pieces
    gap = bad.sawn.gaps[0]
    off = (replace(gap, distance=gap.barrier.gap - 3.04), replace(gap, distance=gap.barrier.gap + 4.26))
    forged = replace(bad, sawn=replace(bad.sawn, gaps=off))
    (warning,) = band_warnings([good, forged])
    assert warning.level == "warning"
    assert warning.sentence.startswith(
        f"Piece {bad.id}: the gap to {gap.barrier.name} comes to {gap.barrier.gap + 4.26:.1f} mm "
        f"instead of {gap.barrier.gap:.1f} ± {gap.barrier.tolerance:.1f} mm."
    )


def test_the_plan_s_counts_are_those_of_its_pieces() -> None:
    record = plan_record(plan_of())
    assert record.counts == Counter(piece.kind for piece in record.pieces)
    assert {"whole", "mitre", "corner", "hole"} <= set(record.counts)
    assert {board.id for board in record.boards} == {piece.from_board for piece in record.pieces}


def test_boards_without_number_are_refused_before_they_are_laid() -> None:
    """Also where corners are solved from lengths, so that the check cannot know the room's size."""
    floor = {"board": {"length": 12, "width": 10}, "anchor": [0, 0]}
    reply = ask("check", job=small_job(floor=floor))
    assert [f["code"] for f in reply["findings"]] == ["too many boards"]
    lengths = {("A", "B"): 3000, ("B", "C"): 4000, ("C", "D"): 3000, ("D", "A"): 4000}
    walls = [{"from": a, "to": b, "length": length} for (a, b), length in lengths.items()]
    ties = [{"from": "A", "to": "C", "length": 5000}, {"from": "B", "to": "D", "length": 5000}]
    job = small_job(floor=floor, room={"walls": walls, "ties": ties})
    assert ask("check", job=job)["findings"] == []
    reply = ask("plan", job=job)
    assert [f["code"] for f in reply["findings"]] == ["too many boards"]

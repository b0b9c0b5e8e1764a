"""The long straight cut on a whole floor: its line in the room, the boards it crosses, what is said of it."""

from typing import Any

import pytest
import shapely

from engine.planning.checks import check_job
from engine.planning.floor_plan import FloorPlan, plan_floor
from engine.planning.laid_long import laid_long
from engine.planning.long_cut import LongCutPlan
from engine.planning.plan_file import plan_record
from engine.wire.job_file import open_job
from tests.engine.planning.planned_boards import check_board, plan_of
from tests.engine.small_jobs import small_job


def planned(**cut: Any) -> FloorPlan:
    job = small_job(floor__board__thickness=14)
    job["long_cuts"] = [{"from": "B", "to": "C", **cut}]
    return plan_floor(open_job(job).job)


def long_cut(**cut: Any) -> LongCutPlan:
    found = planned(**cut).long_cuts[0]
    assert found is not None
    return found


def marked(*off: float, **cut: Any) -> FloorPlan:
    """Marks at corners of the pattern from end to end, the tile that much farther off at each."""
    corners = long_cut().corners
    chosen = [corners[round(i * (len(corners) - 1) / (len(off) - 1))] for i in range(len(off))]
    marks = [
        {"at": list(corner.at), "distance": corner.distance + 3 + more}
        for corner, more in zip(chosen, off, strict=True)
    ]
    return planned(marks=marks, **cut)


def test_a_floor_that_lies_as_planned_is_cut_at_the_wanted_gap() -> None:
    """Marks that find the tile where the plan has it leave the planned gap line, each as far off as it is."""
    plan = marked(0, 0, 0).long_cuts[0]
    assert plan is not None
    assert plan.line.gaps == pytest.approx((3, 3))
    for (to_cut, to_guide), mark in zip(plan.at_marks, plan.record.marks, strict=True):
        assert to_cut == pytest.approx(mark.distance - 3, abs=1e-6)
        assert to_guide is None
    # The threshold is straight and 3 mm from the floor: length × 3 mm × 14 mm.
    assert plan.filler == pytest.approx(plan.line.length * 3 * 14 / 1000)


@pytest.mark.parametrize(("more", "words"), [(205, "205 mm farther"), (-40, "40 mm nearer")])
def test_marks_that_agree_but_lie_far_from_the_plan_are_a_slip(more: float, words: str) -> None:
    """Two marks have no third one to contradict them; a floor that drifted by millimetres is none."""
    (said,) = [f for f in marked(more, more).findings if f.code == "mark far from plan"]
    assert (said.level, words in said.sentence) == ("warning", True)
    assert not [f for f in marked(8, -8).findings if f.code == "mark far from plan"]


def test_a_tile_that_lies_farther_off_moves_the_cut_with_it() -> None:
    """2 mm more at one end and 5 at the other: the cut moves away from the floor by as much."""
    plain, moved = marked(0, 0).long_cuts[0], marked(2, 5).long_cuts[0]
    assert plain is not None
    assert moved is not None
    for mark, before, more in zip(moved.at_marks, plain.at_marks, (2, 5), strict=True):
        assert mark[0] - before[0] == pytest.approx(more, abs=1e-3)


@pytest.mark.parametrize(("side", "off"), [("floor", 95.0), ("waste", -97.4)])
def test_the_guide_lies_off_the_cut_by_the_plate_and_on_the_waste_by_the_kerf_too(
    side: str, off: float
) -> None:
    """By hand: plate edge to blade 95 mm; beyond the cut the blade's own 2.4 mm come to it."""
    plan = marked(0, 0, guide=95, guide_on=side).long_cuts[0]
    assert plan is not None
    assert plan.guide is not None
    cut, guide = shapely.LineString(plan.cut), shapely.LineString(plan.guide)
    assert cut.distance(guide) == pytest.approx(abs(off))
    for to_cut, to_guide in plan.at_marks:
        assert to_guide is not None
        assert to_cut - to_guide == pytest.approx(off)


def test_the_boards_crossed_are_those_that_shapely_finds() -> None:
    """Every board that has floor beyond the cut's line is named, and no other, by where the line runs."""
    plan = marked(0, 0)
    cut = plan.long_cuts[0]
    assert cut is not None
    line = shapely.LineString(cut.cut)
    boards = {piece.from_board: shapely.Polygon(piece.board.ring) for piece in plan.pieces}
    crossed = {name for name, ring in boards.items() if line.intersection(ring).length > 0.1}
    assert {board.id for board in cut.boards} == crossed


def test_a_rough_piece_covers_the_cut_with_its_allowance() -> None:
    """The rough piece, cut square from its board, holds all that lies on the floor's side of the cut."""
    plan = marked(0, 0, allowance=25).long_cuts[0]
    assert plan is not None
    (ax, ay), (bx, by) = plan.cut
    dx, dy = bx - ax, by - ay
    side = [
        (ax - dx, ay - dy),
        (bx + dx, by + dy),
        (bx + dx - 9 * dy, by + dy + 9 * dx),
        (ax - dx - 9 * dy, ay - dy + 9 * dx),
    ]
    for board in plan.boards:
        size, frame = board.board.size, board.board.frame
        begin, end = (0.0, board.rough) if board.end != "far" else (size.length - board.rough, size.length)
        rough = shapely.Polygon(
            frame.ring_to_room(((begin, 0), (end, 0), (end, size.width), (begin, size.width)))
        )
        kept = shapely.Polygon(board.board.ring).intersection(shapely.Polygon(side))
        assert kept.difference(rough).area < 1e-3
        if board.end is not None:
            along = [frame.to_board(point)[0] for point in kept.exterior.coords]
            assert board.rough == pytest.approx(max(along) - min(along) + 25, abs=1e-6)


def test_a_board_under_a_long_cut_holds_its_piece_whatever_the_wall_does() -> None:
    """A wall that bows out by 150 mm is no edge for one straight cut: it runs far inside the pieces."""
    job = small_job()
    job["room"]["walls"][1] |= {"curve": "arc", "offsets": [[900, -150]]}
    job["long_cuts"] = [{"from": "B", "to": "C"}]
    plan = plan_floor(open_job(job).job)
    laid = laid_long(plan.long_cuts, plan.pieces)
    under = [piece for piece in plan.pieces if piece.id in laid]
    assert under
    for piece in under:
        own = shapely.Polygon(piece.board.frame.ring_to_board(piece.outline[0]))
        assert own.difference(shapely.Polygon(laid[piece.id]).buffer(1e-6)).area < 1e-6


def test_a_mark_that_does_not_fit_is_named() -> None:
    """The third of five marks 9 mm off: the finding says mark 3 and the line is still given."""
    plan = marked(0, 0, 9, 0, 0)
    said = [f.sentence for f in plan.findings if f.code == "mark does not fit"]
    assert len(said) == 1
    assert "mark 3 does not go with the others, by up to 9.0 mm" in said[0]
    assert plan.long_cuts[0] is not None


def test_an_edge_too_crooked_for_one_cut_is_said_so_and_a_straight_one_is_not() -> None:
    """A threshold with a bow of 6 mm leaves 0 to 6 mm instead of 3 ± 1."""
    assert "long cut outside band" not in {f.code for f in marked(0, 0).findings}
    job = small_job(
        room__walls__1={
            "from": "B",
            "to": "C",
            "face": "threshold",
            "gap": 3,
            "tolerance": 1,
            "offsets": [[710, 6]],
        }
    )
    job["long_cuts"] = [
        {
            "from": "B",
            "to": "C",
            "marks": [{"at": [1700, 200], "distance": 97}, {"at": [1700, 1200], "distance": 105}],
        }
    ]
    found = [f.sentence for f in plan_floor(open_job(job).job).findings if f.code == "long cut outside band"]
    assert len(found) == 1
    assert "instead of 3.0 ± 1.0 mm" in found[0]


def test_a_cut_along_no_wall_is_a_warning_and_takes_nothing_away() -> None:
    """A wall that is gone, or has no floor along it, leaves the plan as it is."""
    plan = planned(to="Z")
    assert plan.long_cuts == (None,)
    assert "long cut without a wall" in {f.code for f in plan.findings}
    assert plan_record(plan).long_cuts == ()


def test_the_plan_file_holds_the_cut_once_it_is_measured() -> None:
    """Without marks there is nothing to cut by; with them line, gaps, filler and pieces are there."""
    assert plan_record(planned()).long_cuts == ()
    (cut,) = plan_record(marked(0, 0.5, 0, guide=95)).long_cuts
    assert (cut.from_, cut.to) == ("B", "C")
    assert cut.gap_least <= cut.gap_start <= cut.gap_most
    assert cut.guide is not None
    assert len(cut.residuals) == 3
    assert cut.filler is not None
    assert all(0 < rough <= 600 for rough in cut.pieces.values())


@pytest.mark.parametrize(("name", "value"), [("gap", -1), ("depth", 101), ("guide", -3), ("allowance", 501)])
def test_a_value_of_the_cut_out_of_its_range_is_an_error_at_its_place(name: str, value: float) -> None:
    job = small_job()
    job["long_cuts"] = [{"from": "B", "to": "C", name: value}]
    assert [f.path for f in check_job(open_job(job).job) if f.level == "error"] == [f"long_cuts[0].{name}"]


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

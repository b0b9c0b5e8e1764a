"""A floor taken as it lies: what is left is cut for where its boards lie, what is fitted stays."""

from collections.abc import Sequence
from typing import Any

import numpy as np
import pytest
from shapely import LineString, Point, Polygon, unary_union
from shapely.affinity import rotate, translate

from engine.geometry.shapes import region_area
from engine.planning.floor_plan import FloorPlan, plan_floor
from engine.planning.lines_as_they_lie import AS_IT_LIES
from engine.planning.pieces import Piece
from engine.planning.plan_file import plan_record
from engine.planning.setting_out import plan_setting_out
from engine.planning.taken_floor import pattern_text
from engine.wire.job_file import open_job
from tests.engine.small_jobs import ask, small_job

ABOUT = (700.0, 500.0)
SHIFT = {"ahead": 4.0, "left": -3.0, "turn": 0.3, "creep_along": 0.0011, "creep_across": 0.0008}


def taken(keeps: Sequence[str] = (), **values: float) -> dict[str, Any]:
    still = {"ahead": 0.0, "left": 0.0, "turn": 0.0, "creep_along": 0.0, "creep_across": 0.0}
    return {"anchor": [910, 640], "axis": 90, "about": ABOUT, **still, **values, "keeps": list(keeps)}


def plan_of(*takings: dict[str, Any], **changes: Any) -> FloorPlan:
    laid = {"laid": {"taken": list(takings)}} if takings else {}
    count = {"floor__count_from": {"row": -3, "place": -9}}
    return plan_floor(open_job(small_job(**laid, **count, **changes)).job)


@pytest.fixture(scope="module")
def planned() -> dict[str, Piece]:
    return {piece.id: piece for piece in plan_of().pieces}


def lying(planned: Piece, values: dict[str, float]) -> Polygon:
    """The board of a planned piece where it lies, worked out without the engine; the axis heads up."""
    ring = Polygon(planned.board.ring)
    middle = complex(ring.centroid.x, ring.centroid.y) - complex(*ABOUT)
    drawn = complex(middle.real * (1 + values["creep_across"]), middle.imag * (1 + values["creep_along"]))
    to = drawn * np.exp(1j * np.radians(values["turn"])) + complex(-values["left"], values["ahead"])
    by = to - middle
    return translate(rotate(ring, values["turn"], origin="centroid"), by.real, by.imag)


def test_readings_alone_change_nothing() -> None:
    """Only taking the floor as it lies does: until then the plan is the same to the byte."""
    reading = {"id": "d1", "typed": "800", "piece": "4-8L", "end": "far", "side": "left", "to": "A–B"}
    read = ask("plan", job=small_job(laid={"readings": [reading]}))
    assert read["plan"] == ask("plan", job=small_job())["plan"]


def test_a_floor_that_lies_as_planned_has_the_pieces_of_the_plan(planned: dict[str, Piece]) -> None:
    now = plan_of(taken())
    assert [piece.id for piece in now.pieces] == list(planned)
    for piece in now.pieces:
        assert (
            Polygon(piece.outline[0]).symmetric_difference(Polygon(planned[piece.id].outline[0])).area < 0.1
        )
    assert now.as_it_lies is not None
    assert now.as_it_lies.joints == pytest.approx(0, abs=1)


def test_each_piece_is_its_own_boards_part_of_the_floor_where_that_lies(planned: dict[str, Piece]) -> None:
    """Against shapely, board by board; ideals and joints together are the floor."""
    now = plan_of(taken(**SHIFT))
    floor = unary_union([Polygon(rings[0], rings[1:]) for rings in now.room.lay_area])
    for piece in now.pieces:
        if piece.id not in planned or "." in piece.id:
            continue
        part = lying(planned[piece.id], SHIFT).intersection(floor, grid_size=1e-6)
        parts = [part, *getattr(part, "geoms", [])]
        own = Polygon(piece.ideal[0], piece.ideal[1:])
        assert min(own.symmetric_difference(other).area for other in parts) < 0.5
    ideals = unary_union([Polygon(piece.ideal[0], piece.ideal[1:]) for piece in now.pieces], grid_size=1e-6)
    assert now.as_it_lies is not None
    assert 0 < now.as_it_lies.joints == pytest.approx(floor.area - ideals.area, abs=2)


@pytest.mark.parametrize(("way", "at", "by"), [("along", 100.0, 0.003), ("across", -150.0, -0.003)])
def test_a_floor_whose_creep_changes_is_cut_on_both_sides_of_the_change_as_it_lies_there(
    planned: dict[str, Piece], way: str, at: float, by: float
) -> None:
    """Board by board against shapely: before the change as without it, beyond it so much farther on."""
    now = plan_of({**taken(**SHIFT), "change": {"way": way, "at": at, "by": by}})
    floor = unary_union([Polygon(rings[0], rings[1:]) for rings in now.room.lay_area])
    moved_on = 0
    for piece in now.pieces:
        if piece.id not in planned or "." in piece.id:
            continue
        middle = Polygon(planned[piece.id].board.ring).centroid
        # The axis heads up: along is y, across to the left is x turned round.
        station = middle.y - ABOUT[1] if way == "along" else ABOUT[0] - middle.x
        more = by * max(station - at, 0.0)
        moved_on += more != 0
        turned = np.exp(1j * np.radians(SHIFT["turn"])) * (1j if way == "along" else -1) * more
        board = translate(lying(planned[piece.id], SHIFT), turned.real, turned.imag)
        part = board.intersection(floor, grid_size=1e-6)
        parts = [part, *getattr(part, "geoms", [])]
        own = Polygon(piece.ideal[0], piece.ideal[1:])
        assert min(own.symmetric_difference(other).area for other in parts) < 0.5
    assert 0 < moved_on < len(now.pieces)
    record = plan_record(now).as_it_lies
    assert record is not None
    assert record.change is not None
    assert (record.change.way, record.change.at, record.change.by) == (way, at, by)


@pytest.mark.parametrize("creep", [0.0015, -0.0015])
def test_the_joints_are_what_the_creep_makes_of_the_floor(creep: float) -> None:
    """Drawn out by e both ways a floor of area A has about 2·e·A of joints; closed, boards are too wide."""
    now = plan_of(taken(creep_along=creep, creep_across=creep))
    assert now.as_it_lies is not None
    area = region_area(now.room.lay_area)
    assert now.as_it_lies.joints == pytest.approx(2 * creep * area, rel=0.12)


def test_sawn_pieces_keep_the_gap_where_they_lie_or_a_warning_says_where_not() -> None:
    now = plan_of(taken(**SHIFT))
    warned = " ".join(finding.sentence for finding in now.findings)
    lines = {barrier.name: (LineString(barrier.points), barrier) for barrier in now.room.barriers}
    for piece in now.pieces:
        for x, y in piece.outline[0]:
            for name, (line, barrier) in lines.items():
                least = barrier.gap - barrier.tolerance
                if line.distance(Point(x, y)) < least - 0.06:
                    assert f"Piece {piece.id}: the gap to {name}" in warned


def test_pieces_keep_their_ids(planned: dict[str, Piece]) -> None:
    """Every id stays at its board; boards that come in at the rim have ids of their own."""
    now = {piece.id: piece for piece in plan_of(taken(**SHIFT)).pieces}
    assert len(now.keys() & planned.keys()) > 0.9 * len(planned)
    for name in now.keys() & planned.keys():
        assert (now[name].board.row, now[name].board.place) == (
            planned[name].board.row,
            planned[name].board.place,
        )


def test_what_is_kept_stays_as_it_was_cut_and_lies_where_its_board_does(planned: dict[str, Piece]) -> None:
    keeps = [piece.id for piece in planned.values() if piece.sawn.kind != "whole"][:12]
    now = {piece.id: piece for piece in plan_of(taken(keeps, **SHIFT)).pieces}
    for name in keeps:
        assert now[name].sawn.outline == planned[name].sawn.outline
        board = lying(planned[name], SHIFT)
        assert Polygon(now[name].board.ring).symmetric_difference(board).area < 0.5
    others = [name for name in planned if name not in keeps and planned[name].sawn.kind != "whole"]
    assert any(now[name].sawn.outline != planned[name].sawn.outline for name in others if name in now)


def test_a_piece_cut_from_the_second_list_keeps_that_when_the_floor_is_taken_a_third_time(
    planned: dict[str, Piece],
) -> None:
    """Fitted pieces stay with the list they were cut from, whatever is taken later."""
    early, late = [piece.id for piece in planned.values() if piece.sawn.kind == "mitre"][:2]
    first, second = taken([early], **SHIFT), taken([early, late], ahead=6.0, turn=0.1)
    between = {piece.id: piece for piece in plan_of(first).pieces}
    now = {piece.id: piece for piece in plan_of(first, second).pieces}
    assert now[early].sawn.outline == planned[early].sawn.outline
    assert now[late].sawn.outline == between[late].sawn.outline != planned[late].sawn.outline


def test_a_kept_piece_outside_its_band_is_told(planned: dict[str, Piece]) -> None:
    cut = [piece.id for piece in planned.values() if piece.sawn.cuts]
    now = plan_of(taken(cut, ahead=8.0), progress={cut[0]: {"fitted": True}})
    told = [finding for finding in now.findings if finding.code == "gap of kept piece"]
    assert told
    assert {finding.path.removeprefix("progress.") for finding in told} <= set(cut)


@pytest.mark.parametrize(
    ("value", "words"),
    [
        ({"ahead": 900.0}, "900 mm off"),
        ({"turn": 20.0}, "turned by"),
        ({"creep_across": 0.1}, "100 mm a metre"),
    ],
)
def test_a_floor_that_cannot_lie_so_is_not_taken_and_that_is_told(
    value: dict[str, float], words: str, planned: dict[str, Piece]
) -> None:
    now = plan_of(taken(**value))
    assert now.as_it_lies is None
    assert any(words in finding.sentence for finding in now.findings)
    assert [piece.id for piece in now.pieces] == list(planned)


def test_a_pattern_moved_since_is_told_and_cut_as_set_out() -> None:
    now = plan_of(taken(**SHIFT), floor__anchor=[915, 640])
    assert now.as_it_lies is None
    assert any(finding.code == "taken floor not used" for finding in now.findings)


CHANGED: dict[str, dict[str, Any]] = {
    "pattern": {"floor__pattern": "straight"},
    "width": {"floor__board": {"length": 600, "width": 95}},
    "length": {"floor__board": {"length": 610, "width": 90}},
    "strips": {"floor__strips": 2},
}


@pytest.mark.parametrize("change", CHANGED.values(), ids=CHANGED.keys())
def test_another_pattern_or_board_sets_aside_a_floor_taken_as_it_lies(change: dict[str, Any]) -> None:
    """Its numbers would be of neither: the pieces are those of the pattern as set out, and that is told."""
    here = plan_of().job.floor
    one = {**taken(**SHIFT), "pattern": pattern_text(here)}
    assert plan_of(one).as_it_lies is not None
    now, as_set_out = plan_of(one, **change), plan_of(**change)
    assert now.as_it_lies is None
    assert [piece.outline for piece in now.pieces] == [piece.outline for piece in as_set_out.pieces]
    told = [finding.sentence for finding in now.findings if finding.code == "taken floor not used"]
    assert len(told) == 1
    assert "it was another pattern then (herringbone, board 600 × 90)" in told[0]


def test_what_makes_no_other_pattern_leaves_a_taken_floor_in_use() -> None:
    """A board's thickness, a chevron's angle, a file from before; what was taken earlier is told no more."""
    one = {**taken(**SHIFT), "pattern": pattern_text(plan_of().job.floor)}
    thick = {"floor__board": {"length": 600, "width": 90, "thickness": 15}, "floor__angle": 50}
    assert plan_of(one, **thick).as_it_lies is not None
    assert plan_of(taken(**SHIFT), floor__strips=2).as_it_lies is not None
    older = {**taken(ahead=3.0), "pattern": "straight, board 900 × 120"}
    both = plan_of(older, one)
    assert both.as_it_lies is not None
    assert not any(finding.code == "taken floor not used" for finding in both.findings)


def test_what_is_asked_before_a_taken_floor_ends_and_why_it_does_not_count_afterwards() -> None:
    """The page asks while the sheet says that the floor was taken; later the screen for laying tells."""
    count = {"floor__count_from": {"row": -3, "place": -9}}
    for takings, counts in ([], False), ([taken(**SHIFT)], True), ([taken(**SHIFT)], False):
        moved = {} if counts or not takings else {"floor__anchor": [915, 640]}
        job = small_job(**count, **moved, laid={"taken": takings})
        sheet = ask("plan", job=job)["setting_out"]
        assert sheet["before_change"].endswith("Change the pattern?")
        assert (sheet["as_it_lies"] != "") == counts
        assert ("moved since" in ask("as laid", job=job)["set_aside"]) == bool(moved)


@pytest.mark.parametrize("pattern", ["chevron", "straight", "basket", "double herringbone", "diagonal"])
def test_any_pattern_can_be_taken_as_it_lies(pattern: str) -> None:
    """The proof holds for each: its cells fill the floor, its joints lie between its boards."""
    now = plan_of(taken(**SHIFT), floor__pattern=pattern, floor__board={"length": 450, "width": 90})
    assert now.as_it_lies is not None
    assert now.as_it_lies.joints > 0
    assert plan_record(now).pieces


def test_the_row_axis_is_struck_again_where_the_floor_lies_and_the_first_lines_stay() -> None:
    """Two points of the axis carried along by hand lie on the new line; its tapes meet there."""
    before, now = (plan_setting_out(plan) for plan in (plan_of(), plan_of(taken(**SHIFT))))
    lines = [line for line in now.lines if line.wanted.name == AS_IT_LIES]
    assert [line.start.at for line in now.lines if not line.wanted.name.endswith("as it lies")] == [
        line.start.at for line in before.lines
    ]
    struck = unary_union([LineString([line.start.at, line.end.at]) for line in lines])
    assert len(lines) == 2  # the plinth parts it
    for station in (-250.0, 560.0):
        # The axis heads up through x = 910: 210 mm to the right of where the drift is stated.
        own = complex(210 * (1 + SHIFT["creep_across"]), (640 + station - 500) * (1 + SHIFT["creep_along"]))
        at = (
            complex(*ABOUT)
            + own * np.exp(1j * np.radians(SHIFT["turn"]))
            + complex(-SHIFT["left"], SHIFT["ahead"])
        )
        assert struck.distance(Point(at.real, at.imag)) < 0.01
    places = {"A": (0, 0), "B": (1800, 0), "C": (1812, 1420), "D": (-6, 1400)}
    for line in lines:
        for mark in line.marks:
            for tie in mark.ties:
                assert Point(places[tie.corner]).distance(Point(mark.at)) == pytest.approx(tie.distance)


def test_the_screens_say_what_still_holds_once_the_floor_is_taken() -> None:
    """Lines to strike and the long cut each say so, and only then."""
    cut = {"long_cuts": [{"from": "B", "to": "C", "marks": []}]}
    count = {"floor__count_from": {"row": -3, "place": -9}}
    for takings in ([], [taken(**SHIFT)]):
        reply = ask("plan", job=small_job(**cut, **count, laid={"taken": takings}))
        assert ("lines “as it lies”" in reply["setting_out"]["as_it_lies"]) == bool(takings)
        assert ("follows it" in reply["long_cuts"][0]["note"]) == bool(takings)

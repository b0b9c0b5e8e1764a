"""Pieces cut to lengths that somebody measured at the wall."""

import csv
from io import StringIO
from math import atan, cos, degrees, radians, tan
from typing import Any

import pytest

from engine.geometry.board import BoardSize, side_lengths
from engine.geometry.shapes import polygon_area
from engine.model.job import Cutting
from engine.planning.floor_plan import FloorPlan, plan_floor
from engine.planning.measured_at_wall import MeasuredPiece
from engine.planning.pieces import Piece
from engine.planning.saw_order import stop_for
from engine.planning.tools import mitre_saw
from engine.wire.job_file import open_job
from tests.engine.small_jobs import ask, small_job

# Of the small job's boards, mm.
WIDTH = 90.0


def plan_with(progress: dict[str, Any], **changes: Any) -> FloorPlan:
    return plan_floor(open_job(small_job(progress=progress, **changes)).job)


@pytest.fixture(scope="module")
def planned() -> dict[str, Piece]:
    return {piece.id: piece for piece in plan_with({}).pieces}


def across(planned: dict[str, Piece], end: str) -> list[Piece]:
    """Pieces with one mitre that keep this end."""
    return [
        piece
        for piece in planned.values()
        if piece.sawn.kind == "mitre" and len(piece.sawn.cuts) == 1 and piece.sawn.kept_end == end
    ]


def of_kind(planned: dict[str, Piece], kind: str) -> Piece:
    return next(piece for piece in planned.values() if piece.sawn.kind == kind)


def measured(piece: Piece, left: float | None, right: float | None, **changes: Any) -> MeasuredPiece:
    lengths = {"left": left, "right": right}
    return plan_with({piece.id: lengths}, **changes).measured[piece.id]


@pytest.mark.parametrize("end", ["start", "far"])
def test_a_mitre_follows_the_two_lengths_whichever_end_stays(planned: dict[str, Piece], end: str) -> None:
    """Its outline has these edges and no others, its angle is what a square and a rule would give."""
    pieces = across(planned, end)
    assert pieces
    for piece in pieces:
        left, right = piece.sawn.left - 3.3, piece.sawn.right - 1.7
        now = measured(piece, left, right, cutting__saw_step=0).piece.sawn
        ends = side_lengths(now.outline[0], BoardSize(600, WIDTH))
        assert (ends["left"], ends["right"]) == pytest.approx((left, right))
        assert ends["start" if end == "start" else "far"] == pytest.approx(WIDTH)
        assert polygon_area(now.outline) == pytest.approx(WIDTH * (left + right) / 2)
        assert tan(radians(now.saw_angle)) == pytest.approx((right - left) / WIDTH)
        assert now.cuts[0].angle == now.saw_angle


@pytest.mark.parametrize("end", ["start", "far"])
def test_a_chevron_boards_leaning_end_is_reckoned_with(end: str) -> None:
    """Lengths as planned give the planned cut back; a shorter one takes off what plane geometry says."""
    floor = {
        "pattern": "chevron", "angle": 45, "board": {"length": 500, "width": 90}, "axis": 80,
        "anchor": [910, 640],
    }  # fmt: skip
    changes: dict[str, Any] = {"floor": floor, "cutting__saw_step": 0}
    pieces = {piece.id: piece for piece in plan_with({}, **changes).pieces}
    piece = across(pieces, end)[0]
    assert piece.board.size.lean != 0
    same = measured(piece, piece.sawn.left, piece.sawn.right, **changes).piece.sawn
    assert same.saw_angle == pytest.approx(piece.sawn.saw_angle, abs=0.01)
    assert polygon_area(same.outline) == pytest.approx(polygon_area(piece.sawn.outline), abs=1)
    shorter = measured(piece, piece.sawn.left - 4, piece.sawn.right, **changes).piece.sawn
    assert polygon_area(shorter.outline) == pytest.approx(polygon_area(same.outline) - WIDTH * 4 / 2, abs=0.1)
    assert side_lengths(shorter.outline[0], piece.board.size)["left"] == pytest.approx(piece.sawn.left - 4)


def test_lengths_as_planned_leave_the_cut_where_it_is(planned: dict[str, Piece]) -> None:
    """To a hundredth of a millimetre: what was measured and what was worked out are drawn alike."""
    for end in ("start", "far"):
        piece = across(planned, end)[0]
        now = measured(piece, piece.sawn.left, piece.sawn.right).piece.sawn
        for point, before in zip(now.cuts[0].points, piece.sawn.cuts[0].points, strict=True):
            assert point == pytest.approx(before, abs=0.01)
        assert now.saw_angle == pytest.approx(piece.sawn.saw_angle, abs=0.01)


def test_one_length_alone_leaves_the_other_as_planned(planned: dict[str, Piece]) -> None:
    piece = across(planned, "start")[0]
    now = measured(piece, None, piece.sawn.right + 2.5)
    assert now.lengths == {"right": piece.sawn.right + 2.5}
    assert now.piece.sawn.left == piece.sawn.left
    assert now.piece.sawn.right == piece.sawn.right + 2.5


@pytest.mark.parametrize("by", [-7.0, -0.9, -0.2, 0.0, 0.3, 1.1, 6.0])
def test_the_saws_nearest_setting_is_taken_where_it_moves_no_end_beyond_the_band(
    planned: dict[str, Piece], by: float
) -> None:
    """A step, or where it clicks in; and the angle itself where it would. Either way the card can say so."""
    piece = across(planned, "start")[0]
    left, right = piece.sawn.left, piece.sawn.right + by
    wanted = degrees(atan((right - left) / WIDTH))
    tolerance = piece.sawn.cuts[0].barrier.tolerance
    seen = set()
    for step, detents in ((0.5, []), (5.0, [31.6]), (30.0, []), (30.0, [44.4])):
        now = measured(piece, left, right, cutting__saw_step=step, cutting__detents=detents)
        (cut,) = now.piece.sawn.cuts
        scale = [n * step for n in range(-100, 101)]
        settings = [s for s in (*scale, *detents, *(-d for d in detents)) if abs(s) <= 50]
        turned = min(settings, key=lambda setting: abs(setting - wanted))
        moved = WIDTH / 2 * abs(tan(radians(turned)) - tan(radians(wanted)))
        if moved * cos(radians(wanted)) < tolerance - 0.03:
            assert (cut.angle, cut.is_set, now.off) == pytest.approx((turned, True, moved))
        elif moved * cos(radians(wanted)) > tolerance:
            assert (cut.angle, cut.is_set, now.off) == pytest.approx((wanted, False, 0.0))
        seen.add(cut.is_set)
    assert seen == {True, False}


@pytest.mark.parametrize("face", ["up", "down"])
@pytest.mark.parametrize("end", ["start", "far"])
def test_a_measured_piece_is_never_set_beyond_how_far_the_saw_turns_that_way(
    planned: dict[str, Piece], end: str, face: str
) -> None:
    """44° to one side, 50° to the other: which, hangs on the end that stays and on the face."""
    seen = set()
    pieces = across(planned, end)
    for piece in (min(pieces, key=angle_of), max(pieces, key=angle_of)):
        for side in ("left", "right"):
            changes = {f"cutting__largest_{side}": 44, "cutting__face": face}
            now = measured(piece, piece.sawn.left - 1, piece.sawn.right - 1, **changes)
            (cut,) = now.piece.sawn.cuts
            is_right = (cut.angle > 0) == ((end == "start") == (face == "up"))
            is_short = is_right == (side == "right")
            # 44° instead of 45° moves an end by 1.5 mm, at right angles to the cut by 1.1.
            tight = cut.barrier.tolerance < 1.2
            if abs(piece.sawn.cuts[0].angle) == 45:
                assert abs(cut.angle) == pytest.approx(45 if not is_short or tight else 44, abs=0.6)
                assert (abs(cut.angle) <= 44) == (is_short and cut.is_set)
            seen.add(is_short)
    assert seen == {True, False}


def angle_of(piece: Piece) -> float:
    return piece.sawn.saw_angle


def test_the_stop_of_a_measured_piece_lets_the_blade_meet_its_line_half_way(
    planned: dict[str, Piece],
) -> None:
    """The saw's step moves one end of the cut out and the other in, by the same: no end by twice as much."""
    piece = next(piece for piece in across(planned, "start") if piece.sawn.cuts[0].angle > 0)
    now = measured(piece, piece.sawn.left - 0.4, piece.sawn.right, cutting__saw_step=1.0, cutting__detents=[])
    assert now.off > 0.05
    (cut,) = now.piece.sawn.cuts
    stop = stop_for(now.piece, cut, mitre_saw(Cutting()))
    assert stop is not None
    short = stop - WIDTH * tan(radians(cut.angle))
    assert abs(stop - now.piece.sawn.right) == pytest.approx(now.off)
    assert stop - now.piece.sawn.right == pytest.approx(-(short - now.piece.sawn.left))


def test_equal_lengths_make_a_square_cut(planned: dict[str, Piece]) -> None:
    piece = across(planned, "start")[0]
    now = measured(piece, 300.0, 300.0).piece.sawn
    assert (now.kind, now.saw_angle) == ("crosscut", 0.0)


@pytest.mark.parametrize(
    ("left", "right", "words"),
    [
        (0.0, None, "leaves nothing of that edge"),
        (-4.0, 300.0, "leaves nothing of that edge"),
        (None, 600.5, "longer than the board, 600.0 mm"),
        (600.0, 600.0, "nothing is left to cut"),
    ],
)
def test_a_length_that_cannot_be_is_told_and_not_used(
    planned: dict[str, Piece], left: float | None, right: float | None, words: str
) -> None:
    """The piece stays as planned, the other pieces and the plan too: one slip at the wall stops nothing."""
    piece = across(planned, "start")[0]
    plan = plan_with({piece.id: {"left": left, "right": right}})
    now = plan.measured[piece.id]
    assert now.piece == piece
    (finding,) = [found for found in plan.findings if found.path == f"progress.{piece.id}"]
    assert words in finding.sentence
    assert (finding.level, finding) == ("warning", now.fault)


def test_a_length_of_an_edge_that_no_cut_ends_on_is_refused(planned: dict[str, Piece]) -> None:
    """A corner taken off one long edge leaves the other whole: nothing can be sawn there."""
    piece = next(
        p for p in planned.values() if p.sawn.kind == "corner" and len(p.sawn.cuts) == 1
        and max(p.sawn.left, p.sawn.right) == pytest.approx(600)
    )  # fmt: skip
    uncut = "left" if piece.sawn.left > piece.sawn.right else "right"
    fault = measured(piece, **{"left": None, "right": None, uncut: 590.0}).fault
    assert fault is not None
    assert f"no cut of it ends on the {uncut} long edge" in fault.sentence


def test_other_cuts_keep_their_plan_and_take_only_the_lengths(planned: dict[str, Piece]) -> None:
    """Two lengths do not say where a corner ends on the board's end; that is not made up."""
    piece = next(p for p in planned.values() if p.sawn.kind == "corner" and 20 < p.sawn.left < 580)
    now = measured(piece, piece.sawn.left - 4, None)
    assert not now.follows
    assert now.piece.sawn.left == piece.sawn.left - 4
    assert now.piece.sawn.outline == piece.sawn.outline
    assert now.piece.sawn.cuts == piece.sawn.cuts


def test_a_piece_that_is_not_cut_in_this_plan_is_named_and_its_lengths_kept(
    planned: dict[str, Piece],
) -> None:
    whole = of_kind(planned, "whole").id
    plan = plan_with({whole: {"left": 500}, "99-99L": {"right": 412.5}})
    noted = {found.path: found for found in plan.findings if found.code == "measured piece not cut"}
    assert noted.keys() == {f"progress.{whole}", "progress.99-99L"}
    assert plan.measured == {}


def test_the_plan_stays_as_worked_out_and_a_change_cuts_no_floor_again(planned: dict[str, Piece]) -> None:
    """The pieces are the very same ones, kept from before."""
    piece = across(planned, "start")[0]
    before = plan_with({})
    after = plan_with({piece.id: {"cut": True, "left": 400.0}})
    assert after.pieces is before.pieces
    assert after.room is before.room


def test_what_was_measured_at_the_wall_is_no_longer_in_doubt(planned: dict[str, Piece]) -> None:
    """With both lengths; one alone leaves the other to the survey."""
    unsure = plan_with({}).unsure
    piece = next(piece for end in ("start", "far") for piece in across(planned, end) if piece.id in unsure)
    lengths = {"left": piece.sawn.left - 2, "right": piece.sawn.right}
    assert piece.id not in plan_with({piece.id: lengths}).unsure
    assert piece.id in plan_with({piece.id: {"left": lengths["left"]}}).unsure


def test_the_cut_list_has_the_lengths_to_cut_and_says_which_were_measured(planned: dict[str, Piece]) -> None:
    """The plan file keeps the computed piece and names what was measured beside it."""
    piece = across(planned, "far")[0]
    left = piece.sawn.left - 12.5
    job = small_job(progress={piece.id: {"left": left}}, cutting__saw_step=0)
    files = ask("sheets", job=job)["files"]
    rows = {row["id"]: row for row in csv.DictReader(StringIO(files["cuts.csv"], newline=""))}
    row = rows[piece.id]
    assert float(row["left_mm"]) == pytest.approx(left, abs=0.051)
    wanted = degrees(atan((float(row["right_mm"]) - float(row["left_mm"])) / WIDTH))
    assert float(row["saw_angle_deg"]) == pytest.approx(wanted, abs=0.1)
    assert (row["measured"], row["gap_least_mm"], row["gap_most_mm"]) == ("left", "", "")
    assert {other["measured"] for other in rows.values() if other is not row} == {""}
    plan = ask("plan", job=job)["plan"]
    (kept,) = [entry for entry in plan["pieces"] if entry["id"] == piece.id]
    assert kept["measured"] == {"left": left}
    assert kept["left"] > left + 10

"""How far across a board the mitre saw cuts: what it does not reach goes along a guide.

Turned, the blade travels as far as at square, but slantwise: what it crosses is that times the cosine of the
turn (plane geometry). Makers' tables say the same, about 305 mm at square and 215 mm at 45° (from memory).
"""

from math import cos, radians
from typing import Any

import pytest
import shapely

from engine.cutting.saw_angles import Saw
from engine.geometry.frame import Frame
from engine.planning.checks import check_job
from engine.planning.floor_plan import FloorPlan, plan_floor
from engine.planning.saw_order import saw_settings, turn_for, turned_cuts
from engine.planning.tool_steps import ToolStep, tool_steps
from engine.planning.tools import mitre_saw
from engine.wire.job_file import open_job
from tests.engine.small_jobs import ask, small_job

WIDTH = 90.0


def plan_of(**changes: Any) -> FloorPlan:
    return plan_floor(open_job(small_job(**changes)).job)


def straight_steps(plan: FloorPlan) -> list[tuple[str, ToolStep]]:
    return [
        (piece.id, step)
        for piece in plan.pieces
        for step in tool_steps(piece, plan.job.cutting)
        if step.work in ("turn", "line")
    ]


def test_a_turned_saw_reaches_as_much_less_as_its_cosine_says() -> None:
    """305 mm at square are 215 mm at 45°."""
    saw = Saw(reach=305)
    assert saw.reach_at(0) == 305
    assert saw.reach_at(45) == pytest.approx(215, abs=1)
    assert saw.reach_at(-45) == saw.reach_at(45)
    assert (saw.makes(45, 215), saw.makes(45, 217), saw.makes(60, 10)) == (True, False, False)
    assert Saw().makes(50, 1e6)


@pytest.mark.parametrize("reach", [0, 60, 100, 126, 400])
def test_no_cut_is_given_to_the_mitre_saw_that_it_does_not_reach(reach: float) -> None:
    """Held by the cuts' own points: at 45° a board of 90 mm takes 127.3 mm; at square 90."""
    plan = plan_of(cutting__saw_reach=reach)
    mitres = [(name, step) for name, step in straight_steps(plan) if step.cut.kind in ("mitre", "crosscut")]
    assert len(mitres) > 30
    for _, step in straight_steps(plan):
        ys = [y for _, y in step.cut.points]
        if step.work == "turn":
            assert step.lies is not None
            assert step.turn is not None
            across = max(ys) if step.lies.is_right else WIDTH - min(ys)
            assert not reach or across <= reach * cos(radians(step.turn)) + 0.01
        else:
            assert step.tool == "track saw"
    on_saw = {step.work for _, step in mitres}
    assert on_saw == ({"line"} if reach in (60, 100) else {"turn"} if reach in (0, 400) else on_saw)


def test_a_reach_that_is_far_enough_changes_nothing() -> None:
    assert plan_of(cutting__saw_reach=400).pieces == plan_of().pieces


def test_what_the_saw_does_not_reach_takes_no_setting_of_it() -> None:
    """95 mm at square are 90 mm at 18.7°: of a floor's square and slanted cuts only the first are left."""
    job = {"floor__pattern": "straight", "floor__axis": 30.0, "cutting__saw_reach": 95.0}
    plan = plan_of(**job)
    saw = mitre_saw(plan.job.cutting)
    settings = saw_settings(plan.pieces, saw)
    assert all(abs(setting.angle) < 18.7 or _is_short(plan, setting.pieces) for setting in settings)
    assert settings
    lines = [step for _, step in straight_steps(plan) if step.work == "line"]
    assert any(abs(step.cut.angle) > 25 for step in lines)


@pytest.mark.parametrize("reach", [40, 70, 100, 126, 128])
def test_the_saw_is_never_set_more_often_for_what_it_reaches_than_for_all(reach: float) -> None:
    """Cuts at a corner end nearer to the fence: those that are left still share their settings."""
    crooked = {"cutting__gap_tolerance": 0.5, "room__walls__2__offsets": [[900, -20]]}
    plan, everything = plan_of(**crooked, cutting__saw_reach=reach), plan_of(**crooked)

    def turns(found: FloorPlan) -> set[float]:
        return {
            round(turn_for(cut, mitre_saw(found.job.cutting)), 4)
            for piece in found.pieces
            for cut in turned_cuts(piece, mitre_saw(found.job.cutting))
        }

    assert turns(plan)
    assert len(turns(plan)) <= len(turns(everything))


def _is_short(plan: FloorPlan, names: tuple[str, ...]) -> bool:
    """Are these cut at a corner only, so that the cut ends nearer to the fence?"""
    return all(
        any(cut.kind == "corner" for cut in piece.sawn.cuts) for piece in plan.pieces if piece.id in names
    )


def test_the_card_says_why_a_cut_goes_along_a_guide() -> None:
    job = small_job(cutting__saw_reach=100)
    cards = {card["id"]: card for card in ask("plan", job=job)["cards"]}
    name = next(
        name for name, step in straight_steps(plan_floor(open_job(job).job)) if step.cut.kind == "mitre"
    )
    said = [step for step in cards[name]["steps"] if "90.0 mm across" in step]
    assert said
    assert "where the mitre saw turned so reaches 7" in said[0]
    assert "track saw" in said[0]
    assert not cards[name]["saws"][0]["stop_length"]


@pytest.mark.parametrize("sliver", [20, 60])
def test_a_glue_up_that_is_too_wide_for_the_saw_is_cut_along_a_guide(sliver: float) -> None:
    """The farthest end of a common cut off the fence, by shapely, is within reach or not sawn there."""
    glue = {"cutting__sliver": sliver, "cutting__glue_first": True}
    before, at_saw = ask("plan", job=small_job(**glue))["plan"], []
    for reach in (0, 150, 200, 1000):
        job = small_job(**glue, cutting__saw_reach=reach)
        reply = ask("plan", job=job)
        plan = reply["plan"]
        pieces = {piece["id"]: piece for piece in plan["pieces"]}
        seen = set()
        for group, shown in zip(plan["glue_ups"], reply["glue_ups"], strict=True):
            first = pieces[group["pieces"][0]]
            turns = {step["along"]: step for step in first["steps"] if step["work"] == "turn"}
            frame = Frame(*(first["board"][key] for key in ("x", "y", "angle")))
            for cut in group["cuts"]:
                if cut["along"] not in turns or not cut["cut"]:
                    continue
                own = next(each for each in first["cuts"] if each["along"] == cut["along"])
                is_right = (turns[cut["along"]]["side"] == "left") == (
                    own["points"][1][1] < own["points"][0][1]
                )
                fence = shapely.LineString(
                    [(-9e3, 0 if is_right else WIDTH), (9e3, 0 if is_right else WIDTH)]
                )
                ends = [shapely.Point(frame.to_board(tuple(point))) for point in cut["cut"]]
                across = max(fence.distance(end) for end in ends)
                assert not reach or across <= reach * cos(radians(own["angle"])) + 0.01
                seen.add((first["id"], cut["along"]))
            if reach and not turns and any(cut["cut"] for cut in group["cuts"]):
                assert any("cannot make this cut across the joined boards" in step for step in shown["steps"])
        at_saw.append(seen)
        assert len(plan["glue_ups"]) == len(before["glue_ups"])
    unknown, short, longer, enough = at_saw
    assert short < longer <= enough == unknown


def test_a_reach_out_of_range_is_refused_and_one_below_the_board_is_told() -> None:
    def found(reach: float, **changes: Any) -> list[tuple[str, str, str]]:
        job = open_job(small_job(cutting__saw_reach=reach, **changes)).job
        return [(f.path, f.code, f.level) for f in check_job(job) if f.path == "cutting.saw_reach"]

    assert found(-1) == [("cutting.saw_reach", "cutting value out of range", "error")]
    assert found(1001) == [("cutting.saw_reach", "cutting value out of range", "error")]
    assert found(80) == [("cutting.saw_reach", "saw reach below board", "warning")]
    assert found(80, cutting__tools=["track saw"]) == []
    assert found(0) == found(90) == []
    shown = ask("plan", job=small_job(cutting__saw_reach=80))["findings"]
    assert [each["sentence"] for each in shown if each["path"] == "cutting.saw_reach"] == [
        "The mitre saw reaches 80.0 mm, and a board is 90.0 mm wide: no cut across one is made there. "
        "Measure how far across the saw cuts at square, or give 0 where it is not known."
    ]


def test_turned_cuts_are_those_that_can_be_made() -> None:
    """The list of the saw and the steps of a card never differ."""
    plan = plan_of(cutting__saw_reach=110, floor__pattern="chevron")
    saw = mitre_saw(plan.job.cutting)
    for piece in plan.pieces:
        made = [step.turn for step in tool_steps(piece, plan.job.cutting) if step.work == "turn"]
        assert made == [turn_for(cut, saw) for cut in turned_cuts(piece, saw)]

"""A saw that may be off by so many degrees: cuts are chosen so that the gap stays in its band even so."""

from math import cos, radians, sin
from typing import Any

import pytest

from engine.cutting.gap_field import BoardGapField, GapField, edge_samples
from engine.geometry.shapes import Point
from engine.planning.floor_plan import FloorPlan, plan_floor
from engine.planning.pieces import Piece
from engine.planning.tool_steps import tool_steps
from engine.wire.job_file import open_job
from tests.engine.small_jobs import ask, small_job

ERROR = 0.2


def plan_of(**changes: Any) -> FloorPlan:
    return plan_floor(open_job(small_job(**changes)).job)


def across(plan: FloorPlan) -> list[Piece]:
    return [
        piece
        for piece in plan.pieces
        if piece.sawn.kind in ("mitre", "crosscut") and len(piece.sawn.cuts) == 1
    ]


def turned(line: tuple[Point, ...], about: Point, degrees: float) -> list[Point]:
    """A cut turned about a point of it."""
    c, s = cos(radians(degrees)), sin(radians(degrees))
    moved = [(x - about[0], y - about[1]) for x, y in line]
    return [(about[0] + c * x - s * y, about[1] + s * x + c * y) for x, y in moved]


def worst(plan: FloorPlan, error: float) -> float:
    """How far a gap leaves its band at most when every cut across is off so much about either end (mm)."""
    field, beyond = GapField(plan.room.barriers), []
    for piece in across(plan):
        here = BoardGapField(field, piece.board.frame)
        (cut,) = piece.sawn.cuts
        for about in cut.points:
            for way in (-error, error):
                for point in edge_samples(turned(cut.points, about, way)):
                    gap = here.at(point)
                    beyond.append(gap.to_band)
    return max(beyond)


def test_a_cut_that_is_off_by_the_error_still_holds_the_band() -> None:
    """Whichever end of the cut it turns about; without the setting some would not."""
    assert worst(plan_of(), ERROR) > 0.05
    assert worst(plan_of(cutting__saw_error=ERROR), ERROR) < 0.01


@pytest.mark.parametrize("wall", [0, 1])
def test_a_saw_that_is_off_does_not_reach_beyond_a_wall_without_a_gap(wall: int) -> None:
    """The cut moves into the piece by what the saw may be off."""
    changes = {f"room__walls__{wall}__gap": 0, f"room__walls__{wall}__tolerance": 2}
    assert worst(plan_of(**changes), ERROR) > 0.05
    assert worst(plan_of(**changes, cutting__saw_error=ERROR), ERROR) < 0.01


def test_no_error_leaves_every_plan_as_it_was() -> None:
    assert plan_of(cutting__saw_error=0).pieces == plan_of().pieces


def test_where_the_band_is_narrower_than_the_saw_is_exact_the_card_says_so() -> None:
    """Straight cuts are kept, for marks would be no better; 1.5° over 127 mm is 3.3 mm of ±2."""
    job = small_job(cutting__saw_error=1.5)
    cards = {card["id"]: card for card in ask("plan", job=job)["cards"]}
    plan = plan_floor(open_job(job).job)
    assert {piece.sawn.kind for piece in plan.pieces} >= {"mitre", "whole"}
    for piece in across(plan):
        flags = [flag for flag in cards[piece.id]["flags"] if flag.startswith("The saw's error of ±1.5°")]
        assert len(flags) == 1
    quiet = ask("plan", job=small_job(cutting__saw_error=0.1))["cards"]
    assert not any(flag.startswith("The saw's error") for card in quiet for flag in card["flags"])


@pytest.mark.parametrize(
    ("guide", "words"), [(0, "laid on the two marks"), (6.5, "laid 6.5 mm from the marks")]
)
def test_the_track_saw_s_guide_is_laid_so_far_off_as_its_blade_is(guide: float, words: str) -> None:
    job = small_job(cutting__tools=["track saw"], cutting__guide=guide)
    plan, cards = plan_floor(open_job(job).job), ask("plan", job=job)["cards"]
    lines = {
        piece.id
        for piece in plan.pieces
        for step in tool_steps(piece, plan.job.cutting)
        if step.work == "line"
    }
    assert lines
    for card in cards:
        assert any(words in step for step in card["steps"]) or card["id"] not in lines

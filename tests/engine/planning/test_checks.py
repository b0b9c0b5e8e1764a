"""Findings of sense about floor and saw: each with its place, a stable word and a sentence that ends."""

from typing import Any

import pytest

from engine.errors import Refused
from engine.patterns import pattern_names
from engine.planning.checks import check_job
from engine.planning.floor_plan import plan_floor
from engine.wire.job_file import open_job
from tests.engine.small_jobs import small_job


def errors(**changes: Any) -> dict[str, str]:
    found = check_job(open_job(small_job(**changes)).job)
    assert all(finding.sentence.endswith(".") for finding in found)
    return {finding.path: finding.code for finding in found if finding.level == "error"}


def test_a_sound_job_has_no_errors() -> None:
    assert errors() == {}


@pytest.mark.parametrize(
    ("place", "value", "path", "code"),
    [
        ("floor__board__length", 10_001, "floor.board.length", "board measure"),
        ("floor__board__width", 0, "floor.board.width", "board measure"),
        ("floor__board__width", -90, "floor.board.width", "board measure"),
        ("floor__board__width", 601, "floor.board", "board wider than long"),
        ("floor__pattern", "plaid", "floor.pattern", "pattern not known"),
        ("floor__axis", 361, "floor.axis", "axis out of range"),
        ("cutting__kerf", -0.1, "cutting.kerf", "cutting value out of range"),
        ("cutting__kerf", 20.1, "cutting.kerf", "cutting value out of range"),
        ("cutting__gap_tolerance", 51, "cutting.gap_tolerance", "cutting value out of range"),
        ("cutting__sliver", 501, "cutting.sliver", "cutting value out of range"),
        ("cutting__saw_step", 46, "cutting.saw_step", "cutting value out of range"),
        ("cutting__saw_step", 1e-320, "cutting.saw_step", "saw step too fine"),
        ("cutting__saw_step", 0.009, "cutting.saw_step", "saw step too fine"),
    ],
)
def test_a_value_out_of_its_range_is_an_error_at_its_place(
    place: str, value: object, path: str, code: str
) -> None:
    assert errors(**{place: value}) == {path: code}


def floor(pattern: str, **more: Any) -> dict[str, Any]:
    return {"pattern": pattern, "board": {"length": 600, "width": 90}, "anchor": [910, 640], **more}


@pytest.mark.parametrize(
    ("wished", "path", "code", "words"),
    [
        (floor("herringbone", strips=0), "floor.strips", "strips out of range", "one strip or more"),
        (floor("herringbone", strips=7), "floor.strips", "strips out of range", "at most 6"),
        (floor("double herringbone", strips=7), "floor.strips", "strips out of range", "at most 6"),
        (floor("chevron", angle=4.9), "floor.angle", "angle out of range", "between 5° and 80°"),
        (floor("chevron", angle=80.1), "floor.angle", "angle out of range", "30° and 45° are usual"),
        (floor("basket"), "floor.board", "basket does not close", "630.0 mm long, or 85.7143 mm wide"),
        (floor("basket", strips=6), "floor.strips", "basket does not close", "540.0 mm long, or 100.0000 mm"),
        (floor("basket", strips=0), "floor.strips", "strips out of range", "one board or more"),
        (floor("straight", stagger={"by": 150, "least": 200}), "floor.stagger.by", "stagger too short",
         "200.0 to 400.0 mm"),
        (floor("diagonal", stagger={"by": 1000, "least": 250}), "floor.stagger.by", "stagger too short",
         "would lie 200.0 mm apart"),
        (floor("straight", stagger={"seed": 3, "least": 301}), "floor.stagger.least",
         "least stagger out of range", "at most half a board, 300.0 mm"),
        (floor("straight", stagger={"by": 200, "seed": 3}), "floor.stagger", "stagger said twice", "both"),
    ],
)  # fmt: skip
def test_what_a_pattern_cannot_be_is_said_with_what_would_mend_it(
    wished: dict[str, Any], path: str, code: str, words: str
) -> None:
    """By the check, and by the plan, which is refused with the same finding."""
    assert errors(floor=wished) == {path: code}
    job = open_job(small_job(floor=wished)).job
    (finding,) = [finding for finding in check_job(job) if finding.level == "error"]
    assert words in finding.sentence
    with pytest.raises(Refused) as caught:
        plan_floor(job)
    assert caught.value.findings == (finding,)


def test_an_unknown_pattern_is_answered_with_those_there_are() -> None:
    found = check_job(open_job(small_job(floor__pattern="plaid")).job)
    (sentence,) = [finding.sentence for finding in found if finding.path == "floor.pattern"]
    assert all(name in sentence for name in pattern_names())


@pytest.mark.parametrize(
    ("wished", "path", "level"),
    [
        (floor("straight", stagger={"by": 100}), "floor.stagger.by", "warning"),
        (floor("chevron", stagger={"by": 300}), "floor.stagger", "note"),
        (floor("herringbone", angle=45), "floor.angle", "note"),
        (floor("straight", strips=2), "floor.strips", "note"),
    ],
)
def test_what_is_unwise_or_not_used_is_said_and_stops_nothing(
    wished: dict[str, Any], path: str, level: str
) -> None:
    """Joints 100 mm apart on a board 90 mm wide; wishes that say nothing to the pattern."""
    found = check_job(open_job(small_job(floor=wished)).job)
    assert [finding.level for finding in found if finding.path == path] == [level]
    assert errors(floor=wished) == {}


@pytest.mark.parametrize(
    "wished",
    [
        floor("basket", board={"length": 500, "width": 83.3333}),
        floor("basket", board={"length": 600, "width": 100}, strips=6),
        floor("straight", stagger={"seed": 3, "least": 300}),
        floor("straight", stagger={"by": 200, "least": 200}),
        floor("chevron", angle=80),
        floor("herringbone", strips=6),
    ],
)
def test_what_just_goes_is_planned(wished: dict[str, Any]) -> None:
    """Widths of four decimals close a basket; the least stagger itself is enough."""
    assert errors(floor=wished) == {}
    assert plan_floor(open_job(small_job(floor=wished)).job).pieces


@pytest.mark.parametrize(
    ("place", "value"),
    [
        ("floor__board__width", 600),
        ("floor__axis", -360),
        ("cutting__kerf", 0),
        ("cutting__saw_step", 45),
        ("cutting__saw_step", 0.01),
        ("cutting__saw_step", 0),
        ("cutting__sliver", 500),
        ("cutting__gap_tolerance", 0),
    ],
)
def test_the_ends_of_the_ranges_are_inside(place: str, value: object) -> None:
    assert errors(**{place: value}) == {}

"""Findings of sense about floor and saw: each with its place, a stable word and a sentence that ends."""

from typing import Any

import pytest

from engine.planning.checks import check_job
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
    ],
)
def test_a_value_out_of_its_range_is_an_error_at_its_place(
    place: str, value: object, path: str, code: str
) -> None:
    assert errors(**{place: value}) == {path: code}


@pytest.mark.parametrize(
    ("place", "value"),
    [
        ("floor__board__width", 600),
        ("floor__axis", -360),
        ("cutting__kerf", 0),
        ("cutting__saw_step", 45),
        ("cutting__sliver", 500),
        ("cutting__gap_tolerance", 0),
    ],
)
def test_the_ends_of_the_ranges_are_inside(place: str, value: object) -> None:
    assert errors(**{place: value}) == {}

"""A job file is checked once, at the edge: whatever is wrong is named with its place."""

from copy import deepcopy
from typing import Any

import pytest

from engine.errors import Finding, Refused
from engine.wire.job_file import DEPTH, open_job
from tests.engine.small_jobs import small_job


def refused(document: dict[str, Any]) -> tuple[Finding, ...]:
    with pytest.raises(Refused) as caught:
        open_job(document)
    return caught.value.findings


def test_a_sound_job_opens_without_a_word() -> None:
    """Every value of the file arrives in the record, and nothing is found."""
    opened = open_job(small_job())
    assert (opened.findings, opened.is_read_only) == ((), False)
    assert opened.job.room.walls[1].tolerance == 1
    assert opened.job.room.corners == {"A": (0, 0), "B": (1800, 0), "C": (1812, 1420), "D": (-6, 1400)}


@pytest.mark.parametrize(
    ("place", "value", "path", "words"),
    [
        ("room__walls__2__gap", "ten", "room.walls[2].gap", "expected a number, got a text"),
        (
            "room__walls__0__offsets__1",
            [900],
            "room.walls[0].offsets[1]",
            "expected a list of length 2, got 1",
        ),
        (
            "room__walls__3__tolerance",
            [],
            "room.walls[3].tolerance",
            "expected a number or nothing, got a list",
        ),
        ("room__walls__1__face", "mirror", "room.walls[1].face", "invalid enum value 'mirror'"),
        ("room__corners__C", [5, "x"], "room.corners.C[1]", "expected a number, got a text"),
        ("room__corners__B", [1, 2, 3], "room.corners.B", "expected a list of length 2, got 3"),
        ("progress", {"1-2L": {"cut": 1}}, "progress.1-2L.cut", "expected true or false, got a whole number"),
        ("floor__board", {"length": 600}, "floor.board", "object missing required field “width”"),
        ("room__fixed", 7, "room.fixed", "expected a list, got a whole number"),
    ],
)
def test_a_value_of_the_wrong_shape_is_refused_with_its_place(
    place: str, value: object, path: str, words: str
) -> None:
    """The finding's path leads to the entry, in a sentence without a programmer's words."""
    (finding,) = refused(small_job(**{place: value}))
    assert (finding.path, finding.code) == (path, "wrong structure")
    assert finding.sentence == f"The job file cannot be read at {path}: {words}. Correct that entry."


@pytest.mark.parametrize(
    "document", [{}, {"format": "plan"}, {"format": None, "version": 1}, {"format": ["x"]}]
)
def test_what_is_no_job_file_is_told_apart(document: dict[str, Any]) -> None:
    assert [finding.code for finding in refused(document)] == ["not a job file"]


@pytest.mark.parametrize("version", [0, -1, True, "1", 1.5, None])
def test_a_version_that_is_no_whole_number_is_refused(version: object) -> None:
    assert [finding.code for finding in refused(small_job(version=version))] == ["version not readable"]


def test_a_newer_version_opens_to_be_looked_at_only() -> None:
    """It is read as far as it is known, and says so; a file of this version is not read-only."""
    opened = open_job(small_job(version=2, weather="fine"))
    assert opened.is_read_only
    assert {finding.code: finding.level for finding in opened.findings} == {
        "newer version": "warning",
        "unknown key": "note",
    }


def test_unknown_keys_are_noted_at_every_depth() -> None:
    """Each with its place; the known ones, renamed ones such as ``from`` too, are not."""
    job = small_job(
        colour="red", room__height=2400, room__walls__0__paint="x", room__fixed__1__made_of="oak",
        floor__board__grade=1, cutting__blade={"teeth": 80}, progress={"1-2L": {"cut": True, "by": "me"}},
    )  # fmt: skip
    notes = open_job(job).findings
    assert {note.level for note in notes} == {"note"}
    assert {note.path for note in notes} == {
        "colour",
        "room.height",
        "room.walls[0].paint",
        "room.fixed[1].made_of",
        "floor.board.grade",
        "cutting.blade",
        "progress.1-2L.by",
    }


@pytest.mark.parametrize("number", [float("nan"), float("inf"), -float("inf"), 1e7, -2e6, 10**400, 1e308])
def test_numbers_that_no_floor_can_have_are_refused_with_their_places(number: float) -> None:
    """All of them at once, in known entries and in unknown ones."""
    job = small_job(room__walls__0__gap=number, floor__anchor=[0, number], weather={"rain": [number]})
    findings = refused(job)
    assert {finding.path for finding in findings} == {
        "room.walls[0].gap",
        "floor.anchor[1]",
        "weather.rain[0]",
    }
    assert {finding.code for finding in findings} == {"absurd number"}


def test_a_number_just_inside_the_limit_is_taken() -> None:
    assert open_job(small_job(floor__anchor=[1e6, -1e6])).job.floor.anchor == (1e6, -1e6)


def test_what_is_nested_too_deep_is_refused_before_it_is_read() -> None:
    """At one level more than a job may have, not at the limit itself."""

    def nested(depth: int) -> dict[str, Any]:
        value: Any = 1
        for _ in range(depth):
            value = [value]
        return small_job(extra=value)

    open_job(nested(DEPTH - 1))
    (finding,) = refused(nested(DEPTH))
    assert (finding.code, finding.path) == ("too deep", "extra" + "[0]" * DEPTH)


HIDDEN = "\u202e\u2066\u200b\x00\x1b\x7f\ufeff\u2028\u061c\ufffe"


def test_hidden_characters_are_taken_out_of_every_text() -> None:
    """Those that steer, hide or turn the direction of writing, in values and in names; the rest stays."""
    job = small_job(name=f"Löft{HIDDEN} 屋根 <b>", room__fixed__0__name=f"{HIDDEN}pipe")
    job["room"]["corners"][f"A{HIDDEN}"] = job["room"]["corners"].pop("A")
    before = deepcopy(job)
    opened = open_job(job).job
    assert opened.name == "Löft 屋根 <b>"
    assert opened.room.fixed[0].name == "pipe"
    assert opened.room.corners is not None
    assert "A" in opened.room.corners
    assert job == before, "the document itself is left as it was"


def test_a_file_with_photos_opens_with_and_without_their_pictures() -> None:
    """On the desk a whole exported file is read; on the phone the pictures lie beside it."""
    named = {"id": "one", "wall": ["A", "B"], "time": "2026-11-25T07:00:00.000Z"}
    opened = open_job(small_job(photos=[named, {"id": "two", "thing": "pipe", "jpeg": "/9j/" * 250_000}]))
    assert opened.findings == ()
    assert [photo.jpeg is None for photo in opened.job.photos] == [True, False]
    (finding,) = refused(small_job(photos=[{"id": "one", "wall": ["A"]}]))
    assert finding.path == "photos[0].wall"

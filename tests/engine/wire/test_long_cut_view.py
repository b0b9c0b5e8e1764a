"""The long straight cut as its screen shows it: figures with their source, words in the order of the work."""

from typing import Any

from engine.standards.formulas import FORMULAS
from tests.engine.small_jobs import ask, small_job

MARKS = (
    {"at": [1700, 200], "distance": 100},
    {"at": [1700, 700], "distance": 106},
    {"at": [1705, 1250], "distance": 105},
)


def shown(marks: int, decimal: str = ".", **cut: Any) -> dict[str, Any]:
    job = small_job(floor__board__thickness=14)
    job["long_cuts"] = [{"from": "B", "to": "C", "marks": MARKS[:marks], **cut}]
    reply = ask("plan", job=job, decimal=decimal)
    assert reply["reply"] == "plan"
    drawn: dict[str, Any] = reply["long_cuts"][0]
    figures = [*drawn["figures"], *(board["rough"] for board in drawn["boards"])]
    for mark in drawn["marks"]:
        figures += [mark[name] for name in ("to_cut", "to_guide", "residual") if mark[name]]
    assert {figure["formula"] for figure in figures} <= set(reply["formulas"])
    return drawn


def test_until_two_marks_are_measured_there_is_nothing_to_cut_by() -> None:
    """One mark gives no line, no steps and no figures, but corners to measure the next from."""
    drawn = shown(1)
    assert not drawn["is_measured"]
    assert drawn["cut"] == ""
    assert drawn["figures"] == drawn["steps"] == drawn["marks"] == []
    assert len(drawn["corners"]) > 3
    assert all(float(number) for corner in drawn["corners"] for number in corner["typed"])


def test_the_ends_gaps_come_first_then_the_narrowest_and_widest_and_the_filler() -> None:
    """The threshold is straight, so with two marks every gap is the 3 mm that are wanted."""
    drawn = shown(2)
    assert [(f["label"], f["text"], f["unit"]) for f in drawn["figures"]][:5] == [
        ("Gap at B", "3.0", "mm"),
        ("Gap at C", "3.0", "mm"),
        ("Narrowest gap", "3.0", "mm"),
        ("Widest gap", "3.0", "mm"),
        ("Filler", "59", "ml"),  # by hand: 1400 mm × 3 mm × 14 mm
    ]


def test_without_a_thickness_nothing_is_said_of_the_filler() -> None:
    """A figure that rests on a guess is left out."""
    job = small_job()
    job["long_cuts"] = [{"from": "B", "to": "C", "marks": MARKS[:2]}]
    drawn = ask("plan", job=job)["long_cuts"][0]
    assert "filler" not in {figure["key"] for figure in drawn["figures"]}


def test_the_two_outer_marks_strike_the_line_and_the_third_checks_it() -> None:
    """The steps name each mark with its distance to the cut, in the reader's decimals."""
    drawn = shown(3, decimal=",", guide=95)
    first, second, third = (mark["to_cut"]["text"] for mark in drawn["marks"])
    assert f"Measure {first} mm from mark 1 and {third} mm from mark 3" in drawn["steps"][2]
    assert drawn["steps"][3] == f"Check it: it must pass {second} mm from mark 2."
    assert "95,0 mm from the cut" in drawn["steps"][4]
    assert all(mark["residual"] for mark in drawn["marks"])


def test_a_guide_behind_its_mark_is_told_in_words_and_not_by_a_minus() -> None:
    """97 mm to the cut and 120 mm from plate to blade: the guide lies 23 mm on the mark's other side."""
    mark = shown(2, guide=120)["marks"][0]
    assert mark["to_cut"]["text"] == "97.0"
    assert (mark["to_guide"]["label"], mark["to_guide"]["text"]) == (
        "To the guide, away from the edge",
        "23.0",
    )
    assert shown(2, guide=90)["marks"][0]["to_guide"]["label"] == "To the guide, towards the edge"


def test_the_cautions_are_there_before_anything_is_measured() -> None:
    """Above all: never over the film."""
    cautions = " ".join(shown(0)["cautions"])
    assert "Never cut over heating film" in cautions
    assert "clamp" in cautions.lower()


def test_a_cut_along_no_wall_is_shown_as_none() -> None:
    """The list keeps the job's order."""
    job = small_job()
    job["long_cuts"] = [{"from": "X", "to": "Y"}, {"from": "B", "to": "C"}]
    first, second = ask("plan", job=job)["long_cuts"]
    assert first is None
    assert second["wall"] == "B–C"


def test_every_formula_of_the_long_cut_names_its_source() -> None:
    """A figure without a source is a claim."""
    keys = ("long cut gap", "seam filler", "long cut known", "mark to cut", "mark residual", "guide offset")
    assert all(FORMULAS[key].source for key in keys)

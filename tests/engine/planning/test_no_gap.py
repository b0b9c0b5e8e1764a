"""Along a wall without a gap the floor may touch, and stay off by the tolerance: whole floors, by shapely."""

import json
from typing import Any

import pytest
import shapely

from tests.engine.small_jobs import ask, small_job
from tests.reference.independent_floor import walls_of

TOLERANCE = 2.0
# What the file's digits and the sampling of a wall leave, mm.
ROUNDING = 0.01


def bare(wall: int, **changes: Any) -> dict[str, Any]:
    """The small room with one wall that the floor may touch."""
    places = {f"room__walls__{wall}__gap": 0, f"room__walls__{wall}__tolerance": TOLERANCE}
    return small_job(**places, **changes)


def cuts_along(job: dict[str, Any], wall: int) -> list[tuple[dict[str, Any], dict[str, Any]]]:
    """Each piece and cut of it that was made for that wall alone."""
    plan = json.loads(ask("sheets", job=job)["files"]["plan.json"])
    record = job["room"]["walls"][wall]
    name = f"{record['from']}–{record['to']}"
    return [
        (piece, cut)
        for piece in plan["pieces"]
        for cut in piece["cuts"]
        if cut["along"] == name and len(piece["cuts"]) == 1
    ]


@pytest.mark.parametrize("wall", [0, 1, 3])
def test_every_cut_keeps_the_band_and_the_saw_s_step(wall: int) -> None:
    """Distances by shapely to an independently made wall; with ± 0 no cut was at a step of the saw."""
    job = bare(wall)
    record, line = walls_of(job)[wall]
    assert record["gap"] == 0
    held = cuts_along(job, wall)
    assert len(held) > 5
    room = shapely.Polygon(list(job["room"]["corners"].values())).buffer(20)
    for piece, _ in held:
        outline = shapely.Polygon(piece["outline"][0])
        assert room.covers(outline)
        assert -ROUNDING <= piece["gap_least"] <= piece["gap_most"] <= TOLERANCE + ROUNDING
        assert outline.distance(line) == pytest.approx(max(piece["gap_least"], 0), abs=ROUNDING)
        if piece["kind"] in ("mitre", "crosscut"):
            assert piece["saw_angle"] * 2 == pytest.approx(round(piece["saw_angle"] * 2), abs=1e-6)
    assert {piece["kind"] for piece, _ in held} & {"mitre", "crosscut"}


def test_the_ideal_still_touches() -> None:
    """Both edges of the band move; the nominal gap, and with it the lay area, stay."""
    job = bare(1)
    _, line = walls_of(job)[1]
    for piece, _ in cuts_along(job, 1):
        assert shapely.Polygon(piece["ideal"][0]).distance(line) == pytest.approx(0, abs=ROUNDING)


def test_the_card_says_the_band_as_it_is() -> None:
    """Never “0.0 ± 2.0”: no gap is less than nothing."""
    job = bare(1)
    names = {piece["id"] for piece, _ in cuts_along(job, 1)}
    cards = [card for card in ask("plan", job=job)["cards"] if card["id"] in names]
    inputs = [
        dict(figure["inputs"]) for card in cards for figure in card["figures"] if figure["key"] == "gap"
    ]
    assert len(inputs) == len(names)
    assert {given["B–C"] for given in inputs} == {"0.0 to 2.0 mm"}


def test_a_gap_smaller_than_the_job_s_tolerance_says_both() -> None:
    job = small_job(room__walls__1={"from": "B", "to": "C", "gap": 1})
    names = {piece["id"] for piece, _ in cuts_along(job, 1)}
    cards = [card for card in ask("plan", job=job)["cards"] if card["id"] in names]
    given = {
        dict(each["inputs"]).get("B–C") for card in cards for each in card["figures"] if each["key"] == "gap"
    }
    assert given == {"1.0, from 0.0 to 3.0 mm"}


def test_a_wall_without_a_gap_may_have_a_tolerance_of_its_own() -> None:
    """A larger one than the gap is refused elsewhere, for there the floor must not touch."""
    assert ask("check", job=bare(1))["findings"] == ask("check", job=small_job())["findings"]
    refused = ask("check", job=small_job(room__walls__1__tolerance=4))
    assert "tolerance above gap" in {finding["code"] for finding in refused["findings"]}

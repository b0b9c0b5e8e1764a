"""What a page needs to match the drawing of a room with the job, and figures that stand in it."""

import json
from math import cos, radians, sin
from pathlib import Path
from typing import Any

import pytest
import shapely

from engine.wire.figures import as_typed
from tests.engine.small_jobs import ask, small_job

DEMO = json.loads((Path(__file__).parents[3] / "site_src/app/demo_job.json").read_text(encoding="utf-8"))


def figure(reply: dict[str, Any], key: str) -> dict[str, Any]:
    found: dict[str, Any] = next(shown for shown in reply["room"]["figures"] if shown["key"] == key)
    return found


@pytest.mark.parametrize(
    ("station", "typed"),
    [(450.0, "450"), (1333.5, "1333.5"), (450.125, "450.1250"), (4000 / 3, "1333.3333333333333")],
)
def test_station_of_a_mark_is_that_of_its_reading(station: float, typed: str) -> None:
    """In full, so that a page finds the reading; three decimals are not left to be read as thousands."""
    assert as_typed(station) == typed
    job = small_job(room__walls__0__offsets=[[station, 5]])
    (mark,) = ask("room", job=job, decimal=",")["room"]["walls"][0]["profile"]["readings"]
    assert mark["typed"] == typed
    assert float(mark["typed"]) == station


@pytest.mark.parametrize(("offset", "way"), [(6, "into"), (-6, "out of")])
def test_a_wall_that_is_read_says_which_way_it_bows(offset: float, way: str) -> None:
    """Its own words and the figure of its bow say the same; an offset is positive into the room."""
    job = small_job(room__walls__0__offsets=[[1000, offset]], room__walls__0__curve="straight")
    wall = ask("room", job=job)["room"]["walls"][0]
    assert f"bow 6.0 mm {way} the room." in wall["profile"]["words"]
    assert wall["bow"]["text"] == ("6.0" if offset > 0 else "−6.0")


def test_heading_of_a_wall_leads_along_it() -> None:
    """From corner to corner by the heading and the length one arrives within its rounding."""
    room = ask("room", job=DEMO)["room"]
    corners = {corner["name"]: (corner["at"][0], -corner["at"][1]) for corner in room["corners"]}
    for wall in room["walls"]:
        heading, length = float(wall["heading"]), float(wall["length"]["text"])
        assert 0 <= heading < 360
        assert len(wall["heading"].partition(".")[2]) == 2
        start, end = wall["name"].split("–")
        x, y = corners[start]
        there = (x + length * cos(radians(heading)), y + length * sin(radians(heading)))
        assert there == pytest.approx(corners[end], abs=length * radians(0.005) + 0.05)


def test_worst_corner_is_named_with_its_miss() -> None:
    """A wall that leans 40 in 4000: the shorter wall at D, 3040 mm, misses square by a hundredth of it."""
    room = {
        "corners": {"A": [0, 0], "B": [3000, 0], "C": [3000, 4000], "D": [-40, 4000]},
        "walls": [{"from": a, "to": b} for a, b in zip("ABCD", "BCDA", strict=True)],
    }
    shown = figure(reply := ask("room", job=small_job(room=room)), "out of square")
    assert (shown["text"], shown["unit"]) == ("30.4", "mm")
    assert dict(shown["inputs"])["corner"] == "D"
    assert "out of square" in reply["formulas"]


def test_room_without_a_corner_near_square_has_no_such_figure() -> None:
    """A triangle of 60° corners was never meant to be square."""
    room = {
        "corners": {"A": [0, 0], "B": [3000, 0], "C": [1500, 2600]},
        "walls": [{"from": a, "to": b} for a, b in ("AB", "BC", "CA")],
    }
    keys = [shown["key"] for shown in ask("room", job=small_job(room=room))["room"]["figures"]]
    assert keys == ["room area", "lay area"]


def test_area_to_lay_is_the_same_figure_in_room_and_summary() -> None:
    plan = ask("plan", job=small_job())
    (of_summary,) = (shown for shown in plan["summary"] if shown["key"] == "lay area")
    assert of_summary == figure(plan, "lay area")


def test_length_is_matched_with_its_readings_by_its_corners() -> None:
    """Two readings of one tie, one from either end, are one row."""
    read = (("A", "B", 4000), ("B", "C", 3000), ("C", "D", 4000), ("D", "A", 3000), ("A", "C", 5000))
    readings = [
        {"of": "length", "id": str(i), "typed": str(mm), "from": a, "to": b}
        for i, (a, b, mm) in enumerate((*read, ("C", "A", 5002), ("D", "B", 5001)))
    ]
    walls = [{"from": a, "to": b} for a, b in zip("ABCD", "BCDA", strict=True)]
    job = small_job(room={"walls": walls}) | {"survey": {"readings": readings}}
    rows = ask("room", job=job)["room"]["lengths"]
    ends = [{row["from"], row["to"]} for row in rows]
    assert sorted(map(sorted, ends)) == sorted(map(sorted, ("AB", "BC", "CD", "DA", "AC", "BD")))
    assert next(row for row in rows if {row["from"], row["to"]} == {"A", "C"})["observed"]["text"] == "5001.0"


def test_name_of_a_small_thing_stands_beside_it_indoors() -> None:
    """The demo's pipe stands 105 mm from a wall; its name is not drawn over it, nor over the wall."""
    room = ask("room", job=DEMO)["room"]
    island, pipe = room["fixed"]
    assert island["label"]["at"] == [2600, -1900]
    x, y = pipe["label"]["at"][0], -pipe["label"]["at"][1]
    high = room["view_box"][2] / 24
    name = shapely.box(x - 1.1 * high, y - high / 2, x + 1.1 * high, y + high / 2)
    assert name.distance(shapely.Point(270, 105)) > 11
    # Straight walls are good enough: the window wall comes 8.5 mm in.
    assert (
        shapely.Polygon([(at[0], -at[1]) for at in (corner["at"] for corner in room["corners"])])
        .buffer(-9)
        .contains(name)
    )


def test_names_of_the_lines_to_strike_stand_apart() -> None:
    """Each near the end of its line, inside the room."""
    plan = ask("plan", job=DEMO)
    axis, square = plan["floor"]["lines"]
    assert [axis["label"]["text"], square["label"]["text"]] == ["row axis", "square to the row axis"]
    spots = [shapely.Point(line["label"]["at"]) for line in (axis, square)]
    assert spots[0].distance(spots[1]) > 1000
    ring = shapely.Polygon([corner["at"] for corner in plan["room"]["corners"]])
    assert all(ring.contains(spot) for spot in spots)

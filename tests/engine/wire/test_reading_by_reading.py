"""A room built reading by reading: until it can be drawn, each answer says what to measure next."""

from typing import Any

import pytest

from tests.engine.small_jobs import ask, small_job

Record = dict[str, Any]


def length(ends: str, mm: int) -> Record:
    return {"of": "length", "id": ends, "typed": str(mm), "from": ends[0], "to": ends[1]}


def place(name: str, mm: int) -> Record:
    return {"of": "place", "id": name, "typed": str(mm), "corner": name[0], "axis": name[1]}


def datum(side: str, mm: int, station: int = 0) -> Record:
    return {"of": "datum", "id": f"{side}{station}", "typed": str(mm), "side": side, "station": station}


def answers(*readings: Record) -> Record:
    room = {"walls": [{"from": a, "to": b} for a, b in zip("ABCD", "BCDA", strict=True)]}
    return ask("room", job=small_job(room=room) | {"survey": {"readings": list(readings)}})


LENGTHS = [length("AB", 4000), length("BC", 3000), length("CD", 4000), length("DA", 3000), length("AC", 5000)]
CORNERS = {"A": (0, 0), "B": (4000, 0), "C": (4000, 3000), "D": (0, 3000)}
PLACES = [
    place(f"{corner}{axis}", mm) for corner, at in CORNERS.items() for axis, mm in zip("xy", at, strict=True)
]
DATUM = [
    *(datum(side, 1500, station) for side in ("right", "left") for station in (500, 3500)),
    datum("behind", 0),
    datum("ahead", 4000),
]

STORIES: dict[str, tuple[list[Record], list[str]]] = {
    "lengths": (
        LENGTHS,
        [
            "Measure wall A–B next, then wall B–C, wall C–D, wall D–A and tie A–C.",
            "Measure wall B–C next, then wall C–D, wall D–A and tie A–C.",
            "Measure wall C–D next, then wall D–A and tie A–C.",
            "Measure wall D–A next, then tie A–C.",
            "Measure tie A–C next.",
        ],
    ),
    "x and y": (
        PLACES,
        [
            "Measure wall A–B next",
            "Corner A has only its x. Read its y next.",
            "Corner B is not measured yet. Read its x and y next",
            "Corner B has only its x. Read its y next.",
            "Corner C is not measured yet. Read its x and y next",
            "Corner C has only its x. Read its y next.",
            "Corner D is not measured yet. Read its x and y next",
            "Corner D has only its x. Read its y next.",
        ],
    ),
    "datum line": (
        DATUM,
        [
            "Measure wall A–B next",
            "Read the right wall at one more station",
            "Read the left wall at two stations or more",
            "Read the left wall at one more station",
            "Read where the datum line meets the end wall behind.",
            "Read where the datum line meets the end wall ahead.",
        ],
    ),
}


@pytest.mark.parametrize("story", STORIES)
def test_each_reading_brings_the_next_thing_to_measure(story: str) -> None:
    """The first sentence is what to do next; with the last reading the room is drawn."""
    readings, sentences = STORIES[story]
    for count, sentence in enumerate(sentences):
        reply = answers(*readings[:count])
        assert reply["reply"] == "refused", reply
        assert sentence in reply["findings"][0]["sentence"]
    assert answers(*readings)["reply"] == "room"


def test_next_tie_is_named_once_the_room_stands() -> None:
    """Five lengths hold four corners and prove nothing; the sixth is named with what it brings."""
    assert "One more tie, B–D, brings that to" in answers(*LENGTHS)["findings"][0]["sentence"]


def test_corner_by_one_length_lacks_one_more() -> None:
    """Three corners by x and y, the fourth by lengths: mixed freely, and said as freely."""
    three = PLACES[:6]
    (finding,) = answers(*three, length("DA", 3000))["findings"]
    assert (
        finding["sentence"]
        == "Corner D is not measured yet. Read its x and y next, or one more length to it."
    )
    assert answers(*three, length("DA", 3000), length("DC", 4000))["reply"] == "room"


def test_wall_read_before_it_is_measured_says_so() -> None:
    offset = {"of": "offset", "id": "o", "typed": "5", "from": "A", "to": "B", "station": 900}
    (finding,) = answers(offset)["findings"]
    assert finding["sentence"] == "Measure wall A–B or its corners before its readings can be used."

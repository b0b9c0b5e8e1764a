"""Which shape a wall's readings speak for, and the survey as the plan file tells it."""

import json
from math import dist, sqrt
from random import Random

import pytest

from engine.model.job import Pair, Room, Tie, Wall
from engine.survey.arcs import Arc
from engine.survey.outline import room_outline
from engine.survey.plan_section import survey_section
from engine.survey.report import SurveyReport, survey_report
from engine.survey.shape import greatest_swing, propose_shape

CHORD, SD = 4000.0, 0.5
STATIONS = tuple(500.0 * k for k in range(1, 8))
QUAD = {"A": (0.0, 0.0), "B": (5200.0, 0.0), "C": (5230.0, 4100.0), "D": (-20.0, 4080.0)}


def _kinked(station: float) -> float:
    """Two straight pieces that meet 40 mm in the room."""
    return min(station / 1500, (CHORD - station) / 2500) * 40


@pytest.mark.parametrize(
    ("readings", "kind", "word"),
    [
        ((), "straight", "Not read yet"),
        (tuple((s, 0.4 * (-1) ** i) for i, s in enumerate(STATIONS)), "straight", "No reading is farther"),
        (tuple((s, Arc(CHORD, 60.0).offset(s)) for s in STATIONS), "arc", "An arc of 33.4 m radius"),
        (tuple((s, Arc(CHORD, -60.0).offset(s)) for s in STATIONS), "arc", "An arc of 33.4 m radius"),
        (tuple((s, _kinked(s)) for s in STATIONS), "straight", "readings lie on straight pieces"),
        (
            tuple((s, 20 * s / CHORD * (1 - s / CHORD) * (1 - 2 * s / CHORD) * 10) for s in STATIONS),
            "smooth",
            "",
        ),
    ],
)
def test_proposed_shape_is_the_one_the_wall_has(readings: tuple[Pair, ...], kind: str, word: str) -> None:
    """Straight, arc (33.4 m: c²/8s + s/2), kinked or wavy: each is recognised and the reason said."""
    proposal = propose_shape(CHORD, readings, SD)
    assert proposal.kind == kind
    assert word in proposal.reason


def test_swing_past_a_step_is_pointed_at() -> None:
    """A wall that jumps between two stations makes a smooth curve overshoot right beside the jump."""
    readings = tuple((s, 0.0 if s < 2100 else 30.0 * (CHORD - s) / 1900) for s in STATIONS)
    station, swing = greatest_swing(CHORD, readings)
    assert 1500 < station < 3000
    assert abs(swing) > 1


def _report(corners: dict[str, Pair] | None, ties: list[str], checks: tuple[Pair, ...] = ()) -> SurveyReport:
    random = Random(2)
    walls = []
    for pair in ("AB", "BC", "CD", "DA"):
        chord = dist(QUAD[pair[0]], QUAD[pair[1]])
        parts = round(chord / 500)
        offsets = tuple(
            (chord * k / parts, 48 * k / parts * (1 - k / parts) + random.gauss(0, 0.5))
            for k in range(1, parts)
        )
        walls.append(
            Wall(
                from_=pair[0],
                to=pair[1],
                offsets=offsets,
                length=chord + random.gauss(0, 0.5),
                checks=checks if pair == "AB" else (),
            )
        )
    found = tuple(Tie(from_=t[0], to=t[1], length=dist(QUAD[t[0]], QUAD[t[1]])) for t in ties)
    room = Room(corners=corners, walls=tuple(walls), ties=found)
    return survey_report(room, room_outline(room))


def test_plan_section_has_what_the_plan_file_promises() -> None:
    """Corners, ellipses, residuals, smallest blunder and walls, as JSON without infinities."""
    random = Random(2)
    walls = tuple(
        Wall(
            from_=p[0],
            to=p[1],
            length=dist(QUAD[p[0]], QUAD[p[1]]) + random.gauss(0, 0.5),
            offsets=((1900.0, 9.0),),
        )
        for p in ("AB", "BC", "CD", "DA")
    )
    ties = tuple(Tie(from_=p[0], to=p[1], length=dist(QUAD[p[0]], QUAD[p[1]])) for p in ("AC", "BD"))
    room = Room(walls=walls, ties=ties)
    outline = room_outline(room)
    section = json.loads(json.dumps(survey_section(outline, survey_report(room, outline)), allow_nan=False))
    assert section["corners"]["A"] == [0, 0]
    assert section["corners"]["B"][1] == 0
    for name, at in QUAD.items():
        assert section["corners"][name] == pytest.approx(at, abs=6)
    assert set(section["ellipses"]) == set(QUAD)
    assert len(section["residuals"]) == 6
    first = section["residuals"][0]
    assert (first["from"], first["to"], first["observed"]) == ("A", "B", walls[0].length)
    assert first["adjusted"] == pytest.approx(section["corners"]["B"][0])
    assert sum(line["redundancy"] for line in section["residuals"]) == pytest.approx(1)
    assert section["smallest_blunder"] == pytest.approx(
        4.13 / sqrt(min(r["redundancy"] for r in section["residuals"]))
    )
    station, gain = section["walls"][0]["read_next"]
    assert 0 < station < section["corners"]["B"][0]
    assert gain > 0
    assert section["walls"][0]["bow"] == pytest.approx(9 * 2600**2 / (1900 * 3300), abs=0.01)


def test_unchecked_lengths_give_null_and_not_infinity() -> None:
    """JSON knows no infinity."""
    walls = tuple(
        Wall(from_=p[0], to=p[1], length=dist(QUAD[p[0]], QUAD[p[1]])) for p in ("AB", "BC", "CD", "DA")
    )
    room = Room(walls=walls, ties=(Tie(from_="A", to="C", length=dist(QUAD["A"], QUAD["C"])),))
    outline = room_outline(room)
    assert survey_section(outline, survey_report(room, outline))["smallest_blunder"] is None


def test_length_that_contradicts_the_corners_is_named() -> None:
    """Corners by x and y, and a tie measured 20 mm short of them: measure that one again."""
    room = Room(
        corners=QUAD,
        walls=(),
        ties=(
            Tie(from_="A", to="C", length=dist(QUAD["A"], QUAD["C"]) - 20),
            Tie(from_="B", to="D", length=6631.0),
        ),
    )
    found = [f for f in survey_report(room, room_outline(room)).findings if f.code == "length stands out"]
    assert [finding.path for finding in found] == ["room.ties[0]"]
    assert "about 20 mm" in found[0].sentence


def test_wall_without_check_reading_is_told_where_to_take_one() -> None:
    """Every read wall gets at least one reading that proves the others."""
    codes = [finding.code for finding in _report(QUAD, []).findings]
    assert codes.count("no check reading") == 4


@pytest.mark.parametrize(("offset", "outside"), [(11.9, False), (4.0, True)])
def test_check_reading_is_held_against_its_band(offset: float, outside: bool) -> None:
    """A good check stays silent, a bad one says so at once."""
    codes = [finding.code for finding in _report(QUAD, [], ((2600.0, offset),)).findings]
    assert ("check outside the band" in codes) is outside
    assert codes.count("no check reading") == 3

"""Readings are kept as taken, and the room follows from them."""

from math import dist
from typing import Any

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.errors import Refused
from engine.model.job import Room, Wall
from engine.model.readings import (
    DatumReading,
    Instrument,
    LengthReading,
    OffsetReading,
    PlaceReading,
    Survey,
    Unit,
)
from engine.survey.check_readings import check_readings
from engine.survey.datum import Datum, room_from_datum
from engine.survey.from_readings import standing_readings, surveyed_room
from engine.survey.outline import room_outline
from engine.survey.typed import millimetres
from engine.survey.wall_readings import offset_of_bow, offsets_from_line, offsets_under_straightedge

SQUARE = {"A": (0.0, 0.0), "B": (4000.0, 0.0), "C": (4000.0, 3000.0), "D": (0.0, 3000.0)}


@pytest.mark.parametrize(
    ("typed", "unit", "value"),
    [
        ("5200", "mm", 5200),
        (" 12,5 ", "mm", 12.5),
        ("12.5", "mm", 12.5),
        ("−3", "mm", -3),
        ("52,3", "cm", 523),
        ("5.230", "m", 5230),
        ("5,23", "m", 5230),
        ("12", "in", 304.8),
        ("12.5", "in", 317.5),
        ("12 5/8", "in", 320.675),
        ("12-5/8", "in", 320.675),
        ('5/8"', "in", 15.875),
        ("-5/8", "in", -15.875),
        ("17' 3 1/2\"", "in", 5270.5),
        ("6'", "in", 1828.8),
        (",5", "mm", 0.5),
    ],
)
def test_length_is_understood_in_its_unit(typed: str, unit: Unit, value: float) -> None:
    """An inch is 25.4 mm exactly (international yard and pound agreement, 1959)."""
    assert millimetres(typed, unit) == pytest.approx(value, abs=1e-9)


@pytest.mark.parametrize("typed", ["", "12..5", "1.234,5", "1,234", "12.500", "abc", "5/0", "1e3", "5 200"])
def test_what_is_no_length_or_two_is_refused(typed: str) -> None:
    """A thousand times too much would be the dearest slip: ask again."""
    with pytest.raises(Refused) as refused:
        millimetres(typed, "in" if "/" in typed else "mm")
    assert refused.value.findings[0].sentence.endswith(".")


@settings(deadline=None)
@given(st.floats(-300, 300), st.floats(-300, 300), st.lists(st.floats(-50, 50), min_size=1, max_size=5))
def test_line_in_front_of_a_wall_gives_back_its_offsets(
    near: float, far: float, offsets: list[float]
) -> None:
    """Whatever the stand-offs, and however skew the line, the wall comes out where it is."""
    truth = [(4000 * (k + 1) / 7, offset) for k, offset in enumerate(offsets)]
    read = [(s, near + (far - near) * s / 4000 - offset) for s, offset in truth]
    for found, true in zip(offsets_from_line(4000, read, near, far), truth, strict=True):
        assert found == pytest.approx(true, abs=1e-9)


def test_gap_behind_a_straightedge_is_wall_further_away() -> None:
    """Laid on two places that stand 4 and 8 mm into the room, a gap of 5 mm half-way means 1 mm."""
    assert offsets_under_straightedge(((1000, 4), (3000, 8)), ((2000, 5),)) == ((2000, 1),)


@pytest.mark.parametrize(("station", "gap"), [(1000.0, 1.0), (3500.0, 1.0), (2000.0, -0.5)])
def test_impossible_gap_is_refused(station: float, gap: float) -> None:
    """A gap beside the straightedge or through it is a slip."""
    with pytest.raises(Refused):
        offsets_under_straightedge(((1000, 4), (3000, 8)), ((station, gap),))


def test_one_bow_stands_half_way() -> None:
    """A bow is read in the middle of the wall."""
    assert offset_of_bow(4000, -7) == ((2000, -7),)


@settings(deadline=None)
@given(st.floats(-0.03, 0.03), st.floats(-0.03, 0.03), st.floats(-0.05, 0.05))
def test_datum_line_gives_a_leaning_room_exactly(right: float, left: float, ahead: float) -> None:
    """Straight walls, none parallel to the line: corners come out although none was reached."""
    true = {
        "A": (-200.0, -1500 - 200 * right),
        "B": ((5000 - 1500 * ahead) / (1 - right * ahead), 0.0),
        "C": ((5000 + 1700 * ahead) / (1 - left * ahead), 0.0),
        "D": (-200.0, 1700 - 200 * left),
    }
    true["B"] = (true["B"][0], -1500 + right * true["B"][0])
    true["C"] = (true["C"][0], 1700 + left * true["C"][0])
    datum = Datum(
        right=tuple((float(s), 1500 - right * s) for s in (400, 1500, 3000, 4400)),
        left=tuple((float(s), 1700 + left * s) for s in (400, 2000, 4400)),
        behind=((-200.0, 0.0),),
        ahead=((5000 + 1000 * ahead, 1000.0), (5000 - 1000 * ahead, -1000.0)),
    )
    room = room_from_datum(datum)
    assert room.corners is not None
    for name, at in true.items():
        assert room.corners[name] == pytest.approx(at, abs=1e-6)
    assert all(abs(offset) < 1e-6 for wall in room.walls for _, offset in wall.offsets)


def test_datum_line_gives_bowed_walls() -> None:
    """A wall that comes 18 mm into the room in its middle bows to +18 on both sides."""
    bow = [(s, 1500 - 18 * 4 * s / 5000 * (1 - s / 5000)) for s in (1.0, 4999.0, *range(500, 5000, 500))]
    room = room_from_datum(
        Datum(left=tuple(bow), right=tuple(bow), behind=((0.0, 0.0),), ahead=((5000.0, 0.0),))
    )
    for wall in (room_outline(room).walls[0], room_outline(room).walls[2]):
        assert wall.bow == pytest.approx(18, abs=0.2)


@pytest.mark.parametrize("left", [(), ((100.0, 900.0),)])
def test_datum_with_too_few_readings_is_refused(left: tuple[tuple[float, float], ...]) -> None:
    """One reading cannot be carried on to a corner."""
    both = ((0.0, 900.0), (3000.0, 900.0))
    with pytest.raises(Refused):
        room_from_datum(Datum(left=left, right=both, behind=((0.0, 0.0),), ahead=((4000.0, 0.0),)))


def _walls() -> tuple[Wall, ...]:
    return tuple(Wall(from_="ABCD"[i], to="BCDA"[i]) for i in range(4))


def test_correction_stands_in_for_the_reading_and_keeps_it() -> None:
    """The wrong reading stays in the survey; the room uses the new one, and so on along a chain."""
    survey = Survey(
        readings=(
            LengthReading(id="1", typed="5200", from_="A", to="B"),
            LengthReading(id="2", typed="5250", from_="A", to="B", corrects="1"),
            LengthReading(id="3", typed="5251", from_="A", to="B", corrects="2"),
        )
    )
    assert [reading.id for reading in standing_readings(survey)] == ["3"]
    assert surveyed_room(Room(walls=_walls()), survey).walls[0].length == 5251
    assert len(survey.readings) == 3


def test_lengths_read_twice_are_averaged_by_accuracy() -> None:
    """A laser of ± 1 mm weighs four times a tape of ± 2 mm; the mean is surer than either."""
    survey = Survey(
        instruments=(
            Instrument(name="laser", accuracy=1.0),
            Instrument(name="tape", kind="tape", accuracy=2.0),
        ),
        readings=(
            LengthReading(id="1", typed="5000", from_="A", to="C", instrument="laser"),
            LengthReading(id="2", typed="5005", from_="C", to="A", instrument="tape"),
        ),
    )
    (tie,) = surveyed_room(Room(walls=_walls()), survey).ties
    assert (tie.from_, tie.to) == ("A", "C")
    assert tie.length == pytest.approx(5001)
    assert tie.sd == pytest.approx((1 / (4 + 1)) ** 0.5)


def test_readings_of_all_kinds_make_one_room() -> None:
    """Corners by x and y, a wall by a line in front of it, another by straightedge, a third by its bow."""
    places = [
        PlaceReading(id=f"{name}{axis}", typed=str(at[k]), corner=name, axis=axis)  # type: ignore[arg-type]
        for name, at in reversed(SQUARE.items())  # read clockwise: the walls tell the order
        for k, axis in enumerate("xy")
    ]
    survey = Survey(
        readings=(
            *places,
            OffsetReading(id="l1", typed="95", from_="A", to="B", station=1000, by="line", stand_off=100),
            OffsetReading(id="l2", typed="93", from_="A", to="B", station=2500, by="line", stand_off=100),
            OffsetReading(
                id="l3", typed="92", from_="A", to="B", station=1800, by="line", stand_off=100, check=True
            ),
            OffsetReading(id="s1", typed="3", from_="B", to="C", station=1500, by="straightedge"),
            OffsetReading(id="b1", typed="1,2", unit="cm", from_="C", to="D", station=2000),
        )
    )
    room = surveyed_room(Room(walls=_walls()), survey)
    assert list((room.corners or {}).items()) == list(SQUARE.items())
    assert [wall.offsets for wall in room.walls] == [
        ((1000, 5), (2500, 7)),
        ((1500, -3),),
        ((2000, 12),),
        (),
    ]
    assert room.walls[0].checks == ((1800, 8),)
    assert room_outline(room).walls[2].bow == pytest.approx(12)


def test_datum_readings_make_the_room() -> None:
    """The same figures through the readings as through the datum itself."""
    readings = [
        DatumReading(id=f"{side}{s}", typed="1500", side=side, station=s)
        for side in ("left", "right")
        for s in (500.0, 3500.0)
    ]
    ends = [
        DatumReading(id="b", typed="0", side="behind"),
        DatumReading(id="a", typed="4", unit="m", side="ahead"),
    ]
    room = surveyed_room(Room(walls=_walls()), Survey(readings=(*readings, *ends)))
    assert room.corners is not None
    assert dist(room.corners["A"], room.corners["B"]) == pytest.approx(4000)
    assert room_outline(room).area == pytest.approx(12e6)


def test_unreadable_reading_is_named() -> None:
    """The finding's path leads to the very reading."""
    survey = Survey(readings=(LengthReading(id="r7", typed="52oo", from_="A", to="B"),))
    with pytest.raises(Refused) as refused:
        surveyed_room(Room(walls=_walls()), survey)
    assert refused.value.findings[0].path == "survey.readings.r7"


def test_room_without_readings_stays_as_it_is() -> None:
    """Older jobs have no readings: nothing changes."""
    room = Room(corners=SQUARE, walls=_walls())
    assert surveyed_room(room, Survey()) == room


def _length(id_: str, typed: str = "5000", **more: Any) -> LengthReading:
    return LengthReading(**{"id": id_, "typed": typed, "from_": "A", "to": "C", **more})


FAULTY: dict[str, tuple[Survey, str, str]] = {
    "id twice": (Survey(readings=(_length("1"), _length("1"))), "survey.readings.1", "id repeated"),
    "corrects nothing": (
        Survey(readings=(_length("1", corrects="9"),)),
        "survey.readings.1",
        "corrects nothing",
    ),
    "corrects a later one": (
        Survey(readings=(_length("1", corrects="2"), _length("2"))),
        "survey.readings.1",
        "corrects nothing",
    ),
    "corrects another thing": (
        Survey(readings=(_length("1"), _length("2", to="B", corrects="1"))),
        "survey.readings.2",
        "corrects another thing",
    ),
    "unknown corner": (Survey(readings=(_length("1", to="Q"),)), "survey.readings.1", "unknown corner"),
    "no length": (Survey(readings=(_length("1", "0"),)), "survey.readings.1", "impossible length"),
    "no number": (Survey(readings=(_length("1", "50oo"),)), "survey.readings.1", "not a number"),
    "two meanings": (Survey(readings=(_length("1", "5,000"),)), "survey.readings.1", "unclear number"),
    "to itself": (Survey(readings=(_length("1", to="A"),)), "survey.readings.1", "ends at its start"),
    "strange instrument": (
        Survey(readings=(_length("1", instrument="laser"),)),
        "survey.readings.1",
        "unknown instrument",
    ),
    "perfect instrument": (
        Survey(instruments=(Instrument(name="laser", accuracy=0.0),)),
        "survey.instruments[0].accuracy",
        "impossible accuracy",
    ),
}


@pytest.mark.parametrize("fault", FAULTY)
def test_faulty_reading_is_named(fault: str) -> None:
    """Path, code and a sentence for each kind of fault."""
    survey, path, code = FAULTY[fault]
    (finding,) = check_readings(survey, Room(corners=SQUARE, walls=_walls()))
    assert (finding.path, finding.code) == (path, code)
    assert finding.sentence.endswith(".")


def test_sound_readings_have_no_findings() -> None:
    """A correction of the same thing, read from the other end, is in order."""
    survey = Survey(readings=(_length("1"), _length("2", from_="C", to="A", corrects="1")))
    assert check_readings(survey, Room(corners=SQUARE, walls=_walls())) == ()

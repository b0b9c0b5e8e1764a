"""What readings change in a room, and what they leave alone."""

from engine.model.job import Room, Wall
from engine.model.readings import OffsetReading, Survey
from engine.survey.check_readings import check_readings
from engine.survey.from_readings import surveyed_room

ROOM = Room(
    corners={"A": (0, 0), "B": (4000, 0), "C": (4000, 3000), "D": (0, 3000)},
    walls=(Wall(from_="A", to="B", offsets=((1000, 4), (2000, 7))),),
)


def reading(id_: str, station: float, typed: str, corrects: str | None = None) -> OffsetReading:
    return OffsetReading(id=id_, typed=typed, from_="A", to="B", station=station, corrects=corrects)


def test_a_reading_leaves_the_offsets_of_other_stations_alone() -> None:
    """Only what is read anew is replaced; nothing that the room had elsewhere is lost."""
    survey = Survey(readings=(reading("r1", 2000, "9"), reading("r2", 3000, "5")))
    assert surveyed_room(ROOM, survey).walls[0].offsets == ((1000, 4), (2000, 9), (3000, 5))


def test_a_withdrawn_reading_stays_in_the_file_and_has_no_effect() -> None:
    """A correction with nothing typed takes a reading back: the room is as before, nothing is faulty."""
    survey = Survey(readings=(reading("r1", 2000, "90"), reading("r2", 2000, "", corrects="r1")))
    assert surveyed_room(ROOM, survey).walls[0].offsets == ROOM.walls[0].offsets
    assert check_readings(survey, ROOM) == ()


def test_a_withdrawal_of_nothing_is_named() -> None:
    """A withdrawal must name an earlier reading."""
    findings = check_readings(Survey(readings=(reading("r2", 2000, "", corrects="r1"),)), ROOM)
    assert [finding.code for finding in findings] == ["corrects nothing"]

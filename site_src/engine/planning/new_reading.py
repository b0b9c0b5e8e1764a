"""A reading just taken, before it is kept: what it says, and whether it goes with the others."""

from math import dist, hypot

from msgspec import Struct
from msgspec.structs import replace

from engine.errors import Finding, Refused
from engine.model.job import Job
from engine.model.readings import LengthReading, OffsetReading, Reading, Survey, ThingReading
from engine.planning.floor_plan import plan_outline, plan_survey
from engine.planning.room_as_read import room_as_read
from engine.survey.band import question
from engine.survey.from_readings import value_of
from engine.survey.instruments import LASER_SD
from engine.survey.report import WallReport, offset_sd_of
from engine.survey.tolerances import ASKED_ABOUT
from engine.units import number_text

# What is said of a length to a thing that does not go with the others.
ASKED = ("length stands out", "lengths do not meet")


class Judged(Struct, frozen=True, kw_only=True):
    """The reading in mm (for one on a wall: its offset there) and the question it raises, if any."""

    value: float
    question: Finding | None


def judge_reading(job: Job, reading: Reading) -> Judged:
    """Raises Refused when the reading itself cannot be understood; a room not yet complete asks nothing."""
    value = value_of(reading)
    try:
        if isinstance(reading, OffsetReading):
            return _judge_offset(job, reading, value)
        if isinstance(reading, LengthReading):
            return Judged(value=value, question=_length_question(job, reading, value))
        if isinstance(reading, ThingReading):
            return Judged(value=value, question=_thing_question(job, reading))
    except Refused:
        # What is wrong with the room is told where the room is shown.
        pass
    return Judged(value=value, question=None)


def _judge_offset(job: Job, reading: OffsetReading, value: float) -> Judged:
    wall = _wall(job, reading)
    if wall is None:
        return Judged(value=value, question=None)
    station, offset = _offset_on_wall(job, reading)
    asked = question(wall.band, station, offset, offset_sd_of(wall.line), wall.line.path, wall.line.name)
    return Judged(value=offset, question=asked)


def _wall(job: Job, reading: OffsetReading) -> WallReport | None:
    ends = (reading.from_, reading.to)
    walls = plan_survey(*plan_outline(job)).walls
    return next((wall for wall in walls if (wall.line.from_, wall.line.to) == ends), None)


def _offset_on_wall(job: Job, reading: OffsetReading) -> tuple[float, float]:
    """Station and offset of the reading, worked out as if it were a check, so that it changes nothing."""
    room = room_as_read(_with(job, replace(reading, check=True)))
    wall = next(wall for wall in room.walls if (wall.from_, wall.to) == (reading.from_, reading.to))
    return min(wall.checks, key=lambda pair: abs(pair[0] - reading.station))


def _with(job: Job, reading: Reading) -> Job:
    survey = job.survey or Survey()
    others = (other for other in survey.readings if other.id != reading.id)
    return replace(job, survey=replace(survey, readings=(*others, reading)))


def _length_question(job: Job, reading: LengthReading, value: float) -> Finding | None:
    """Ask when a length is far from what the corners have it at so far."""
    _, outline = plan_outline(job)
    places = {corner.name: corner.at for corner in outline.corners}
    if reading.from_ not in places or reading.to not in places:
        return None
    away = value - dist(places[reading.from_], places[reading.to])
    # The corners at both ends are about as sure as one reading each.
    if abs(away) <= ASKED_ABOUT * hypot(LASER_SD, LASER_SD, LASER_SD):
        return None
    return Finding(
        path="survey.readings",
        code="reading stands out",
        level="warning",
        sentence=f"{reading.from_}–{reading.to}: {number_text(value, 1)} mm is "
        f"{number_text(abs(away), 0)} mm away from what the other readings say. Keep it, or read again?",
    )


def _thing_question(job: Job, reading: ThingReading) -> Finding | None:
    """Ask when the lengths to a thing, this one among them, do not go together."""
    _, outline = plan_outline(_with(job, reading))
    asked = (f for f in outline.findings if f.path == f"survey.readings.{reading.id}" and f.code in ASKED)
    finding = next(asked, None)
    if finding is None:
        return None
    return replace(finding, sentence=f"{finding.sentence.partition('. ')[0]}. Keep it, or read again?")

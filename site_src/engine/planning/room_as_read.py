"""The room that the steps compute with: the job's own, filled in from its readings where it has any."""

from engine.errors import Refused
from engine.model.job import Job, Room
from engine.survey.check_readings import check_readings
from engine.survey.from_readings import surveyed_room


def room_as_read(job: Job) -> Room:
    """The room as its readings make it. Raises Refused, naming each reading that cannot be used."""
    if job.survey is None:
        return job.room
    faults = [fault for fault in check_readings(job.survey, job.room) if fault.level == "error"]
    if faults:
        raise Refused(*faults)
    return surveyed_room(job.room, job.survey)

"""The room that the steps compute with: the job's own, filled in from its readings where it has any."""

from engine.model.job import Job, Room
from engine.survey.from_readings import surveyed_room


def room_as_read(job: Job) -> Room:
    """The room as its readings make it. Raises Refused, naming the reading, when one cannot be used."""
    return job.room if job.survey is None else surveyed_room(job.room, job.survey)

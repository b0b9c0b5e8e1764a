"""What a reading is understood as, and the question it raises."""

from msgspec import ValidationError, convert

from engine.model.readings import Reading
from engine.planning.new_reading import judge_reading
from engine.wire.answers import Tell
from engine.wire.figures import Writer, marked
from engine.wire.job_file import open_job
from engine.wire.reading_words import understood
from engine.wire.replies import ReadingReply
from engine.wire.requests import ReadingRequest
from engine.wire.structure import misfit


def answer(request: ReadingRequest, _: Tell) -> ReadingReply:
    """The reading held against the others. Raises Refused when it is none."""
    opened = open_job(request.job)
    try:
        reading = convert(request.reading, Reading)
    except ValidationError as error:
        raise misfit(error, "The reading", "survey.readings") from None
    judged = judge_reading(opened.job, reading)
    writer = Writer(request.decimal)
    questions = marked([judged.question] if judged.question else [], writer)
    return ReadingReply(
        understood=understood(reading, judged.value, writer), question=next(iter(questions), None)
    )

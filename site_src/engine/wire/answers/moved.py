"""Where the boards lie, with the pattern where it is or where a finger puts it."""

from engine.planning.place import place_of
from engine.wire.answers import Tell
from engine.wire.moved_job import moved_job
from engine.wire.place_view import moved_view
from engine.wire.replies import MovedReply
from engine.wire.requests import MovedRequest


def answer(request: MovedRequest, _: Tell) -> MovedReply:
    """The place as drawn."""
    job = moved_job(request)
    return moved_view(job, place_of(job), request.step)

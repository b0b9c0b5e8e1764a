"""What lies along the edges that matter, with the pattern where it is or where a finger puts it."""

from engine.planning.place import rated_place
from engine.wire.answers import Tell
from engine.wire.figures import Writer
from engine.wire.moved_job import moved_job
from engine.wire.place_view import place_view
from engine.wire.replies import PlaceReply
from engine.wire.requests import PlaceRequest


def answer(request: PlaceRequest, _: Tell) -> PlaceReply:
    """The place as rated."""
    job = moved_job(request)
    return place_view(rated_place(job), job.wishes.measure, Writer(request.decimal))

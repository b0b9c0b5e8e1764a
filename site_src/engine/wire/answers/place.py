"""What lies along the edges that matter, with the pattern where it is or where a finger puts it."""

from engine.planning.place import rated_place, rated_slice
from engine.wire.answers import Tell
from engine.wire.figures import Writer
from engine.wire.moved_job import moved_job
from engine.wire.place_view import place_view
from engine.wire.replies import MoreReply, PlaceReply
from engine.wire.requests import PlaceRequest


def answer(request: PlaceRequest, _: Tell) -> PlaceReply | MoreReply:
    """The place as rated."""
    job = moved_job(request)
    rated = rated_slice(job) if request.in_slices else rated_place(job)
    return place_view(job, rated, Writer(request.decimal)) if rated else MoreReply()

"""What lies along the edges, with the pattern where it is or where a finger puts it."""

from engine.planning.place import place_of
from engine.wire.answers import Tell
from engine.wire.figures import Writer
from engine.wire.job_file import open_sound_job
from engine.wire.place_view import place_job, place_view
from engine.wire.replies import PlaceReply
from engine.wire.requests import PlaceRequest


def answer(request: PlaceRequest, _: Tell) -> PlaceReply:
    """The place as drawn and rated."""
    job = place_job(open_sound_job(request.job).job, request.at)
    return place_view(job, place_of(job, counts=request.slivers), Writer(request.decimal))

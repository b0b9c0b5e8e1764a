"""How many slivers lie along all edges, with the pattern where it is or where a finger puts it."""

from engine.planning.place import slivers_at
from engine.wire.answers import Tell
from engine.wire.figures import Writer
from engine.wire.moved_job import moved_job
from engine.wire.place_view import slivers_view
from engine.wire.replies import SliversReply
from engine.wire.requests import SliversRequest


def answer(request: SliversRequest, _: Tell) -> SliversReply:
    """All boards are clipped for it."""
    job = moved_job(request)
    return slivers_view(slivers_at(job), job.cutting.sliver, Writer(request.decimal))

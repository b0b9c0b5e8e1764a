"""How many slivers lie along all edges, with the pattern where it is or where a finger puts it."""

from engine.planning.place import slivers_at, slivers_slice
from engine.wire.answers import Tell
from engine.wire.figures import Writer
from engine.wire.moved_job import moved_job
from engine.wire.place_view import slivers_view
from engine.wire.replies import MoreReply, SliversReply
from engine.wire.requests import SliversRequest


def answer(request: SliversRequest, _: Tell) -> SliversReply | MoreReply:
    """All boards are clipped for it."""
    job = moved_job(request)
    count = slivers_slice(job) if request.in_slices else slivers_at(job)
    return MoreReply() if count is None else slivers_view(count, job.cutting.sliver, Writer(request.decimal))

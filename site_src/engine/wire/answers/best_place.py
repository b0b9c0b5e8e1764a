"""Where the pattern sits best."""

from engine.planning.best_place import best_place, best_place_slice
from engine.planning.floor_plan import plan_room
from engine.planning.place import rated_place
from engine.wire.answers import Tell
from engine.wire.figures import Writer
from engine.wire.job_file import open_sound_job
from engine.wire.place_view import best_place_view
from engine.wire.replies import BestPlaceReply, MoreReply
from engine.wire.requests import BestPlaceRequest


def answer(request: BestPlaceRequest, tell: Tell) -> BestPlaceReply | MoreReply:
    """The best place beside the one there is."""
    job = open_sound_job(request.job).job
    best = best_place_slice(job, tell) if request.in_slices else best_place(job, tell)
    if best is None:
        return MoreReply()
    return best_place_view(job, plan_room(job), best, rated_place(job), Writer(request.decimal))

"""How many slivers and boards the pattern leaves where the job puts it."""

from engine.planning.floor_plan import plan_floor
from engine.wire.answers import Tell
from engine.wire.figures import Writer
from engine.wire.job_file import open_sound_job
from engine.wire.place_view import place_counts_view
from engine.wire.replies import PlaceCountsReply
from engine.wire.requests import PlaceCountsRequest


def answer(request: PlaceCountsRequest, tell: Tell) -> PlaceCountsReply:
    """Counted in the whole plan."""
    return place_counts_view(plan_floor(open_sound_job(request.job).job, tell), Writer(request.decimal))

"""One slice of the search for boards that can be saved."""

from engine.planning.floor_plan import plan_floor
from engine.wire.answers import Tell
from engine.wire.figures import Writer
from engine.wire.improve_view import improve_view
from engine.wire.job_file import open_sound_job
from engine.wire.replies import ImproveReply
from engine.wire.requests import ImproveRequest


def answer(request: ImproveRequest, tell: Tell) -> ImproveReply:
    """What the slice found."""
    return improve_view(plan_floor(open_sound_job(request.job).job, tell), request, Writer(request.decimal))

"""How lengths measured at the wall stand to the plan's."""

from msgspec.structs import replace

from engine.model.job import PieceProgress
from engine.planning.floor_plan import plan_floor
from engine.planning.measured_at_wall import measured_warnings
from engine.wire.answers import Tell
from engine.wire.figures import Writer, marked
from engine.wire.job_file import open_sound_job
from engine.wire.measured_words import differences
from engine.wire.replies import MeasuredReply
from engine.wire.requests import MeasuredRequest


def answer(request: MeasuredRequest, tell: Tell) -> MeasuredReply:
    """The differences of one piece, measured as if nothing else had been marked."""
    opened = open_sound_job(request.job)
    lengths = PieceProgress(left=request.left, right=request.right)
    job = replace(opened.job, progress={request.piece: lengths})
    plan, writer = plan_floor(job, tell), Writer(request.decimal)
    measured = plan.measured.get(request.piece)
    faults = marked(measured_warnings(plan.measured, job.progress), writer)
    return MeasuredReply(
        differences=tuple(differences(measured, job.cutting, writer)) if measured else (),
        fault=next(iter(faults), None),
    )

"""What lengths measured at the wall say of their wall."""

from engine.model.job import PieceProgress
from engine.planning.floor_plan import plan_floor
from engine.planning.measured_at_wall import lengths_of
from engine.planning.wall_correction import wall_correction
from engine.wire.answers import Tell
from engine.wire.figures import Writer
from engine.wire.job_file import open_sound_job
from engine.wire.replies import WallCorrectionReply
from engine.wire.requests import WallCorrectionRequest
from engine.wire.wall_correction_words import wall_correction_reply


def answer(request: WallCorrectionRequest, tell: Tell) -> WallCorrectionReply:
    """The readings they make, and what other pieces would become."""
    plan = plan_floor(open_sound_job(request.job).job, tell)
    lengths = lengths_of(PieceProgress(left=request.left, right=request.right))
    found = wall_correction(plan, request.piece, lengths, tell)
    return wall_correction_reply(found, Writer(request.decimal))

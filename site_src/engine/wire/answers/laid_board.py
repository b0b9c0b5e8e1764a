"""Which corners of a piece can be read, and to what."""

from engine.planning.floor_plan import plan_floor
from engine.wire.answers import Tell
from engine.wire.figures import Writer
from engine.wire.job_file import open_sound_job
from engine.wire.laid_board_view import laid_board_view
from engine.wire.replies import LaidBoardReply
from engine.wire.requests import LaidBoardRequest


def answer(request: LaidBoardRequest, tell: Tell) -> LaidBoardReply:
    """The piece where the plan has it."""
    plan = plan_floor(open_sound_job(request.job).job, tell)
    return laid_board_view(plan, request.piece, Writer(request.decimal))

"""Is the laid floor still where it should be?"""

from engine.planning.staying_true import staying_true
from engine.wire.answers import Tell
from engine.wire.as_laid_view import as_laid_view
from engine.wire.figures import Writer
from engine.wire.job_file import open_sound_job
from engine.wire.replies import AsLaidReply
from engine.wire.requests import AsLaidRequest


def answer(request: AsLaidRequest, tell: Tell) -> AsLaidReply:
    """Where it lies by the readings on it, and what can be done."""
    return as_laid_view(staying_true(open_sound_job(request.job).job, tell), Writer(request.decimal))

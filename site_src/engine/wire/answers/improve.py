"""What comes next in the search for boards that can be saved."""

from engine.planning.better_boards import better_boards
from engine.planning.changed_boards import boards_begun
from engine.planning.floor_plan import plan_floor
from engine.planning.hand_search import Solved
from engine.planning.taken_floor import spare_in_use
from engine.wire.answers import Tell
from engine.wire.figures import Writer
from engine.wire.improve_view import improve_view
from engine.wire.job_file import open_sound_job
from engine.wire.replies import ImproveReply
from engine.wire.requests import ImproveRequest


def answer(request: ImproveRequest, tell: Tell) -> ImproveReply:
    """The next programme, or what they all came to."""
    plan = plan_floor(open_sound_job(request.job).job, tell)
    solved = [Solved(values=each.values, bound=each.bound) for each in request.solved]
    begun = boards_begun(plan.job.progress, spare_in_use(plan.job.laid, plan.job.floor))
    found = better_boards(plan.supply, begun, solved)
    return improve_view(plan, found, request, Writer(request.decimal))

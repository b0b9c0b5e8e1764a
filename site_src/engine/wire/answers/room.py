"""The room as it is drawn."""

from engine.planning.floor_plan import plan_room, plan_survey
from engine.wire.answers import Tell
from engine.wire.figures import Writer, formulas_of, marked
from engine.wire.job_file import open_job
from engine.wire.pattern_choices import pattern_choices
from engine.wire.replies import RoomReply
from engine.wire.requests import RoomRequest
from engine.wire.room_view import room_figures, room_view


def answer(request: RoomRequest, _: Tell) -> RoomReply:
    """The room, be the rest of the job sound or not."""
    opened = open_job(request.job)
    writer = Writer(request.decimal)
    room = plan_room(opened.job)
    survey = plan_survey(room.record, room.outline)
    view = room_view(room, survey, request.exaggerate, writer)
    return RoomReply(
        room=view,
        formulas=formulas_of(room_figures(view)),
        findings=marked((*opened.findings, *room.outline.findings, *survey.findings), writer),
        patterns=pattern_choices(),
    )

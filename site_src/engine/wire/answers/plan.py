"""The whole plan: every piece, its card, the boards and the lines to strike."""

from collections.abc import Iterable

from msgspec import to_builtins

from engine.model.job import CountFrom
from engine.planning.floor_plan import plan_floor
from engine.planning.plan_file import plan_record
from engine.wire.answers import Tell
from engine.wire.boards_view import boards_view
from engine.wire.card_view import cards
from engine.wire.drawings import Card, Figure
from engine.wire.figures import Writer, formulas_of, marked
from engine.wire.floor_view import floor_view, summary
from engine.wire.glue_view import glue_up_drawings, glue_up_figures
from engine.wire.improve_view import saving
from engine.wire.job_file import open_sound_job
from engine.wire.long_cut_view import long_cut_drawings, long_cut_figures
from engine.wire.pattern_choices import pattern_choices
from engine.wire.replies import PlanReply
from engine.wire.requests import PlanRequest
from engine.wire.room_view import room_figures, room_view
from engine.wire.setting_out_view import setting_out_sheet, sheet_figures


def answer(request: PlanRequest, tell: Tell) -> PlanReply:
    """The plan with all that is drawn of it."""
    opened = open_sound_job(request.job)
    writer = Writer(request.decimal)
    plan = plan_floor(opened.job, tell)
    view = room_view(plan.room, plan.survey, request.exaggerate, writer)
    all_cards, totals = cards(plan, writer), summary(plan, writer)
    sheet, long_cuts = setting_out_sheet(plan, writer), long_cut_drawings(plan, writer)
    glued = glue_up_drawings(plan, writer) if plan.job.cutting.glue_first else ()
    return PlanReply(
        plan=to_builtins(plan_record(plan)),
        room=view,
        floor=floor_view(plan),
        cards=all_cards,
        summary=totals,
        setting_out=sheet,
        formulas=formulas_of(
            [
                *room_figures(view),
                *totals,
                *_card_figures(all_cards),
                *sheet_figures(sheet),
                *long_cut_figures(long_cuts),
                *glue_up_figures(glued),
            ]
        ),
        findings=marked((*opened.findings, *plan.findings), writer),
        count_from=_count_from(plan.count_from),
        long_cuts=long_cuts,
        boards=boards_view(plan, writer),
        glue_ups=glued,
        saving=saving(plan),
        patterns=pattern_choices(),
    )


def _count_from(count: CountFrom) -> dict[str, int]:
    return {"row": count.row, "place": count.place}


def _card_figures(all_cards: Iterable[Card]) -> list[Figure]:
    return [shown for card in all_cards for shown in card.figures]

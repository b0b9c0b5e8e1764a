"""What each request is answered with."""

from collections.abc import Callable, Iterable, Iterator

import msgspec

from engine.errors import Refused
from engine.model.job import CountFrom, PieceProgress
from engine.model.readings import Reading
from engine.patterns import find_pattern, pattern_names
from engine.planning.best_place import best_place
from engine.planning.checks import check_job
from engine.planning.floor_plan import plan_floor, plan_room, plan_survey
from engine.planning.measured_at_wall import lengths_of, measured_warnings
from engine.planning.new_reading import judge_reading
from engine.planning.phase_map import phase_map
from engine.planning.place import place_of
from engine.planning.plan_file import plan_record
from engine.planning.staying_true import staying_true
from engine.planning.wall_correction import wall_correction
from engine.sheets.label_grid import GRIDS
from engine.wire.as_laid_view import as_laid_view
from engine.wire.boards_view import boards_view
from engine.wire.card_view import cards
from engine.wire.drawings import Card, Figure, RoomDrawing
from engine.wire.figures import Writer, formulas_of, marked
from engine.wire.floor_view import floor_view, summary
from engine.wire.glue_view import glue_up_drawings, glue_up_figures
from engine.wire.improve_view import improve_view, saving
from engine.wire.job_file import OpenedJob, open_job
from engine.wire.laid_board_view import laid_board_view
from engine.wire.long_cut_view import long_cut_drawings, long_cut_figures
from engine.wire.measured_words import differences
from engine.wire.pace_view import pace_view
from engine.wire.place_view import (
    PATTERN_LOCKED,
    at_best,
    best_place_view,
    place_counts_view,
    place_job,
    place_map_view,
    place_view,
    set_out_text,
)
from engine.wire.reading_words import understood
from engine.wire.replies import (
    BestPlaceReply,
    CheckReply,
    MeasuredReply,
    PatternChoice,
    PlanReply,
    ReadingReply,
    Reply,
    RoomReply,
    SheetsReply,
)
from engine.wire.requests import (
    AsLaidRequest,
    BestPlaceRequest,
    CheckRequest,
    ImproveRequest,
    LaidBoardRequest,
    MeasuredRequest,
    PaceRequest,
    PlaceCountsRequest,
    PlaceMapRequest,
    PlaceRequest,
    PlanRequest,
    ReadingRequest,
    Request,
    RoomRequest,
    SheetsRequest,
    WallCorrectionRequest,
)
from engine.wire.room_view import room_view
from engine.wire.setting_out_view import setting_out_sheet, sheet_figures
from engine.wire.sheet_files import Source, binary_files, text_files
from engine.wire.structure import misfit
from engine.wire.wall_correction_words import wall_correction_reply

Tell = Callable[[str, float], None]


def answer(request: Request, tell: Tell) -> Reply:
    """The reply to a request. Raises Refused when the job cannot be computed as it stands."""
    try:
        return _answer(request, tell)
    except Refused as refused:
        raise Refused(*marked(refused.findings, Writer(request.decimal))) from None


def _answer(request: Request, tell: Tell) -> Reply:
    match request:
        case CheckRequest():
            return _check(request)
        case RoomRequest():
            return _room(request)
        case PlanRequest():
            return _plan(request, tell)
        case SheetsRequest():
            return _sheets(request, tell)
        case ReadingRequest():
            return _reading(request)
        case MeasuredRequest():
            return _measured(request, tell)
        case PlaceRequest():
            job = place_job(_sound(request.job).job, request.at)
            return place_view(job, place_of(job, counts=request.slivers), Writer(request.decimal))
        case BestPlaceRequest():
            return _best_place(request, tell)
        case PlaceCountsRequest():
            return place_counts_view(plan_floor(_sound(request.job).job, tell), Writer(request.decimal))
        case PlaceMapRequest():
            return place_map_view(phase_map(_sound(request.job).job), Writer(request.decimal))
        case AsLaidRequest():
            return as_laid_view(staying_true(_sound(request.job).job, tell), Writer(request.decimal))
        case LaidBoardRequest():
            plan = plan_floor(_sound(request.job).job, tell)
            return laid_board_view(plan, request.piece, Writer(request.decimal))
        case WallCorrectionRequest():
            plan = plan_floor(_sound(request.job).job, tell)
            lengths = lengths_of(PieceProgress(left=request.left, right=request.right))
            found = wall_correction(plan, request.piece, lengths, tell)
            return wall_correction_reply(found, Writer(request.decimal))
        case ImproveRequest():
            plan = plan_floor(_sound(request.job).job, tell)
            return improve_view(plan, request, Writer(request.decimal))
        case PaceRequest():
            return pace_view(request.pieces, Writer(request.decimal))


def _check(request: CheckRequest) -> CheckReply:
    opened = open_job(request.job)
    findings = (*opened.findings, *check_job(opened.job))
    return CheckReply(findings=marked(findings, Writer(request.decimal)), read_only=opened.is_read_only)


def _sound(document: dict[str, object]) -> OpenedJob:
    """The job, read and found to make sense. Raises Refused with every fault at once."""
    opened = open_job(document)
    faults = [finding for finding in check_job(opened.job) if finding.level == "error"]
    if faults:
        raise Refused(*faults)
    return opened


def _room(request: RoomRequest) -> RoomReply:
    opened = open_job(request.job)
    writer = Writer(request.decimal)
    room = plan_room(opened.job)
    survey = plan_survey(room.record, room.outline)
    view = room_view(room, survey, request.exaggerate, writer)
    return RoomReply(
        room=view,
        formulas=formulas_of(_room_figures(view)),
        findings=marked((*opened.findings, *room.outline.findings, *survey.findings), writer),
        patterns=_patterns(),
    )


def _plan(request: PlanRequest, tell: Tell) -> PlanReply:
    opened = _sound(request.job)
    writer = Writer(request.decimal)
    plan = plan_floor(opened.job, tell)
    view = room_view(plan.room, plan.survey, request.exaggerate, writer)
    all_cards, totals = cards(plan, writer), summary(plan, writer)
    sheet, long_cuts = setting_out_sheet(plan, writer), long_cut_drawings(plan, writer)
    glued = glue_up_drawings(plan, writer) if plan.job.cutting.glue_first else ()
    return PlanReply(
        plan=msgspec.to_builtins(plan_record(plan)),
        room=view,
        floor=floor_view(plan),
        cards=all_cards,
        summary=totals,
        setting_out=sheet,
        formulas=formulas_of(
            [
                *_room_figures(view),
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
        patterns=_patterns(),
    )


def _sheets(request: SheetsRequest, tell: Tell) -> SheetsReply:
    opened = _sound(request.job)
    is_locked = request.best and opened.job.wishes.locked
    best = best_place(opened.job, tell) if request.best and not is_locked else None
    plan = plan_floor(at_best(opened.job, best) if best else opened.job, tell)
    writer = Writer(request.decimal)
    source = Source(plan=plan, request=request, writer=writer, bound=best.bound if best else None)
    binary, fault = binary_files(source)
    moved = {"job.json": set_out_text(request.job, plan.job.floor)} if best else {}
    texts = text_files(source) | moved
    return SheetsReply(
        files=texts,
        binary_files=binary,
        sizes={
            name: writer.kilobytes(len(content)) for name, content in (*_bytes_of(texts), *binary.items())
        },
        label_grids=tuple(GRIDS[request.paper]),
        findings=marked(
            (*opened.findings, *([PATTERN_LOCKED] if is_locked else []), *plan.findings, *fault), writer
        ),
    )


def _bytes_of(texts: dict[str, str]) -> Iterator[tuple[str, bytes]]:
    for name, text in texts.items():
        yield name, text.encode()


def _best_place(request: BestPlaceRequest, tell: Tell) -> BestPlaceReply:
    job = _sound(request.job).job
    best = best_place(job, tell)
    return best_place_view(job, plan_room(job), best, place_of(job).rated, Writer(request.decimal))


def _reading(request: ReadingRequest) -> ReadingReply:
    opened = open_job(request.job)
    try:
        reading = msgspec.convert(request.reading, Reading)
    except msgspec.ValidationError as error:
        raise misfit(error, "The reading", "survey.readings") from None
    judged = judge_reading(opened.job, reading)
    writer = Writer(request.decimal)
    questions = marked([judged.question] if judged.question else [], writer)
    return ReadingReply(
        understood=understood(reading, judged.value, writer), question=next(iter(questions), None)
    )


def _measured(request: MeasuredRequest, tell: Tell) -> MeasuredReply:
    opened = _sound(request.job)
    lengths = PieceProgress(left=request.left, right=request.right)
    job = msgspec.structs.replace(opened.job, progress={request.piece: lengths})
    plan, writer = plan_floor(job, tell), Writer(request.decimal)
    measured = plan.measured.get(request.piece)
    faults = marked(measured_warnings(plan.measured, job.progress), writer)
    return MeasuredReply(
        differences=tuple(differences(measured, job.cutting, writer)) if measured else (),
        fault=next(iter(faults), None),
    )


def _patterns() -> tuple[PatternChoice, ...]:
    return tuple(PatternChoice(name=name, uses=find_pattern(name).uses) for name in pattern_names())


def _count_from(count: CountFrom) -> dict[str, int]:
    return {"row": count.row, "place": count.place}


def _room_figures(view: RoomDrawing) -> list[Figure]:
    shown = [*view.figures]
    for wall in view.walls:
        shown += [wall.length, wall.bow, wall.next.station, wall.next.gain, *wall.spacing]
    for corner in view.corners:
        shown += [corner.angle, *([corner.known_to] if corner.known_to else [])]
    for thing in view.fixed:
        shown += thing.places
    for row in view.lengths:
        shown += [row.observed, row.residual, row.smallest_blunder]
    return shown


def _card_figures(all_cards: Iterable[Card]) -> list[Figure]:
    return [shown for card in all_cards for shown in card.figures]

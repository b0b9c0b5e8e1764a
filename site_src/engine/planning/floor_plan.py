"""The steps of the job in order: job → room → lay area → boards → pieces → cuts.

Each step is a pure function of the job and of the steps before it. The last few
results are kept and taken again as long as their own inputs have not changed.
"""

from collections.abc import Callable, Mapping, Sequence

from msgspec import Struct
from msgspec.structs import replace

from engine.cutting.gap_field import GapField
from engine.errors import Finding, Refused
from engine.geometry.barrier import Barrier
from engine.geometry.shapes import Region, Ring
from engine.model.job import CountFrom, Cutting, Floor, Job, Room
from engine.model.laid import FloorTaken
from engine.patterns import find_pattern
from engine.planning.boards import BoardSupply, board_supply
from engine.planning.changed_boards import board_changes
from engine.planning.cut_as_one import gluing
from engine.planning.floor_as_it_lies import (
    FloorAsItLies,
    floor_as_it_lies,
    kept_warnings,
)
from engine.planning.glue_ups import GlueUp, glue_ups, glued_rings
from engine.planning.joints import PieceJoints, piece_joints
from engine.planning.kept import Kept
from engine.planning.laid_long import laid_long
from engine.planning.long_cut import LongCutPlan, long_cut_findings, long_cuts
from engine.planning.measured_at_wall import MeasuredPiece, measured_pieces, measured_warnings
from engine.planning.numbering import first_numbers
from engine.planning.pieces import Cutter, Piece, band_warnings, nominal_pieces
from engine.planning.room_as_read import room_as_read
from engine.planning.taken_floor import spare_in_use, taken_findings, taken_in_use
from engine.planning.tools import saw_findings
from engine.planning.uncertainty import doubt_at, unsure_pieces, unsure_warnings
from engine.setting_out.barriers import fixed_barriers, wall_barrier
from engine.setting_out.lay_area import lay_area
from engine.survey.outline import Outline, room_outline
from engine.survey.report import SurveyReport, survey_report
from engine.survey.thing_point import ThingLength
from engine.survey.things import thing_lengths

Report = Callable[[str, float], None]


class RoomPlan(Struct, frozen=True, kw_only=True):
    """The room as surveyed, what the floor keeps clear of, and the area left to lay.

    ``record`` is the job's room with everything filled in that its readings
    say, the fixed things where these put them.
    """

    record: Room
    outline: Outline
    barriers: tuple[Barrier, ...]
    lay_area: Region


class FloorPlan(Struct, frozen=True, kw_only=True):
    """The whole plan of one floor.

    ``unsure``: piece id → the wall that the survey does not know well enough
    for it, and how well it does (± mm). ``measured``: the pieces that are cut
    to lengths measured at the wall, by id; ``pieces`` stay as worked out.
    ``long_cuts`` are in the job's order, None where one names no wall.
    ``as_it_lies`` once the floor was taken so: then ``pieces`` are its pieces.
    ``supply`` gives each piece its board; ``joints`` are by piece id.
    """

    job: Job
    room: RoomPlan
    survey: SurveyReport
    pieces: tuple[Piece, ...]
    unsure: dict[str, tuple[str, float]]
    measured: dict[str, MeasuredPiece]
    supply: BoardSupply
    joints: dict[str, PieceJoints]
    glue_ups: tuple[GlueUp, ...]  # offered; their blanks count among the boards once `glue_first` is chosen
    long_cuts: tuple[LongCutPlan | None, ...]
    count_from: CountFrom
    as_it_lies: FloorAsItLies | None
    findings: tuple[Finding, ...]


def plan_outline(job: Job) -> tuple[Room, Outline]:
    """The room with everything filled in that its readings say, and its outline. Raises Refused."""
    room, to_things = room_as_read(job), thing_lengths(job.survey)
    return _outlines.get((room, to_things), lambda: _outlined(room, to_things))


def plan_room(job: Job) -> RoomPlan:
    """The room and its lay area. Raises Refused."""
    (room, outline), tolerance = plan_outline(job), job.cutting.gap_tolerance
    # Two surveys may lead to one room and still leave different things to be said of it.
    inputs = (room, outline.findings, tolerance)
    return _rooms.get(inputs, lambda: _room_plan(room, outline, tolerance))


def plan_survey(room: Room, outline: Outline) -> SurveyReport:
    """What the survey of a room is worth. ``room`` and ``outline`` as from ``plan_outline``."""
    return _surveys.get((room,), lambda: survey_report(room, outline))


def plan_floor(job: Job, report: Report = lambda step, done: None) -> FloorPlan:
    """The whole plan. Raises Refused when the room makes no sense or the pieces do not add up.

    ``report`` is told the step and how far it is, from 0 to 1.
    """
    return _plans.get((job,), lambda: _planned(job, report))


def _planned(job: Job, report: Report) -> FloorPlan:
    report("Drawing the room", 0.0)
    room = plan_room(job)
    survey = plan_survey(room.record, room.outline)
    taken = taken_in_use(job.laid, job.floor)
    as_it_lies = _lying_floor(room, survey, job, taken, report) if taken else None
    if as_it_lies is None:
        pieces, count_from = _numbered_pieces(room, survey, job, report)
    else:
        pieces, count_from = as_it_lies.pieces, _count_from(room, job)
    measured = measured_pieces(pieces, job.progress, job.cutting)
    # What was measured at the wall no longer hangs on the survey.
    kept = as_it_lies.keeps if as_it_lies else frozenset()
    by_survey = [piece for piece in pieces if not (piece.id in measured and measured[piece.id].is_known)]
    doubtful = [piece for piece in by_survey if piece.id not in kept]
    unsure = unsure_pieces(doubtful, survey)
    joints, glued = _joined(room, job, pieces)
    cuts_along = long_cuts(job, room.outline, room.lay_area, pieces, count_from)
    blanks = glued_rings(glued, pieces) if job.cutting.glue_first else {}
    laid = blanks | laid_long(cuts_along, pieces)
    return FloorPlan(
        job=job,
        room=room,
        survey=survey,
        pieces=pieces,
        unsure=unsure,
        measured=measured,
        supply=_supplied(room, _counted(job, count_from), taken, pieces, measured, laid, report),
        joints=joints,
        glue_ups=glued,
        long_cuts=cuts_along,
        count_from=count_from,
        as_it_lies=as_it_lies,
        findings=(
            *room.outline.findings,
            *survey.findings,
            *band_warnings(doubtful),
            *unsure_warnings(unsure, survey),
            *measured_warnings(measured, job.progress),
            *taken_findings(job.laid, job.floor),
            *kept_warnings(
                [piece for piece in pieces if piece.id in kept],
                {name: done.fitted for name, done in job.progress.items()},
            ),
            *long_cut_findings(job, cuts_along),
            *saw_findings(job),
        ),
    )


def _numbered_pieces(
    room: RoomPlan, survey: SurveyReport, job: Job, report: Report
) -> tuple[tuple[Piece, ...], CountFrom]:
    """The pieces, and where their numbers begin: once that is kept in the job, nothing is cut anew for it."""
    found = _pieces.get(
        (room.record, job.floor, job.cutting),
        lambda: _cut_pieces(room, survey, job.floor, job.cutting, report),
    )
    if job.floor.count_from is None:
        _pieces.put((room.record, replace(job.floor, count_from=found[1]), job.cutting), found)
    return found


def _lying_floor(
    room: RoomPlan, survey: SurveyReport, job: Job, taken: tuple[FloorTaken, ...], report: Report
) -> FloorAsItLies:
    """The floor taken as it lies, cut anew only when what it stands on has changed."""
    floor = replace(job.floor, count_from=_count_from(room, job))
    assert floor.count_from is not None
    count_from = floor.count_from
    return _lying.get(
        (room.record, floor, job.cutting, taken),
        lambda: floor_as_it_lies(
            room.lay_area, _cutter(room, survey, job.floor, job.cutting, count_from), floor, taken, report
        ),
    )


def _count_from(room: RoomPlan, job: Job) -> CountFrom:
    """Where numbers begin: as kept in the job, else as the pattern was set out."""
    kept = job.floor.count_from
    return kept or first_numbers(board for board, _ in nominal_pieces(room.lay_area, job.floor))


def _counted(job: Job, count_from: CountFrom) -> Job:
    """The job as it is once the numbers are kept in it, so that what hangs on it is kept too."""
    return replace(job, floor=replace(job.floor, count_from=count_from))


def _supplied(
    room: RoomPlan,
    job: Job,
    taken: tuple[FloorTaken, ...],
    pieces: Sequence[Piece],
    measured: Mapping[str, MeasuredPiece],
    laid: Mapping[str, Ring],
    report: Report,
) -> BoardSupply:
    """The boards, given out anew only when a piece is cut otherwise or was spoiled."""
    lengths = {name: each.lengths for name, each in measured.items()}
    cut_now = {name: each.piece for name, each in measured.items()}
    changes = board_changes(cut_now, job.progress, spare_in_use(job.laid, job.floor))

    def give_out() -> BoardSupply:
        report("Giving each piece its board", 1.0)
        return board_supply(
            pieces, changes, laid, job.floor, job.cutting, job.shared_boards, job.proven_boards
        )

    work = (
        lengths,
        changes.spoiled,
        changes.begun,
        changes.again,
        laid,
        job.shared_boards,
        job.proven_boards,
    )
    inputs = (room.record, job.floor, job.cutting, taken, *work)
    return _supplies.get(inputs, give_out)


def _joined(
    room: RoomPlan, job: Job, pieces: Sequence[Piece]
) -> tuple[dict[str, PieceJoints], tuple[GlueUp, ...]]:
    pattern = find_pattern(job.floor.pattern)
    joints = {piece.id: piece_joints(piece, pattern) for piece in pieces}
    return joints, glue_ups(pieces, joints, room.barriers)


_plans: Kept[FloorPlan] = Kept()
_outlines: Kept[tuple[Room, Outline]] = Kept()
_rooms: Kept[RoomPlan] = Kept()
_surveys: Kept[SurveyReport] = Kept()
_pieces: Kept[tuple[tuple[Piece, ...], CountFrom]] = Kept()
_lying: Kept[FloorAsItLies] = Kept()
_supplies: Kept[BoardSupply] = Kept()


def _outlined(room: Room, to_things: Sequence[ThingLength]) -> tuple[Room, Outline]:
    outline = room_outline(room, to_things)
    return replace(room, fixed=outline.fixed), outline


def _room_plan(room: Room, outline: Outline, tolerance: float) -> RoomPlan:
    walls = tuple(
        wall_barrier(line.name, line.wall, line.path, line.points, tolerance) for line in outline.walls
    )
    barriers = (*walls, *fixed_barriers(room.fixed, tolerance))
    area = lay_area(outline.ring, barriers)
    if not area:
        raise Refused(
            Finding(
                path="room",
                code="nothing to lay",
                sentence="The gaps and fixed things leave no floor to lay. "
                "Make a gap smaller or correct the fixed things.",
            )
        )
    return RoomPlan(record=room, outline=outline, barriers=barriers, lay_area=area)


def _cut_pieces(
    room: RoomPlan, survey: SurveyReport, floor: Floor, cutting: Cutting, report: Report
) -> tuple[tuple[Piece, ...], CountFrom]:
    report("Laying the pattern", 0.1)
    nominal = nominal_pieces(room.lay_area, floor)
    count_from = floor.count_from or first_numbers(board for board, _ in nominal)
    return _cutter(room, survey, floor, cutting, count_from).cut(nominal, report), count_from


def _cutter(
    room: RoomPlan, survey: SurveyReport, floor: Floor, cutting: Cutting, count_from: CountFrom
) -> Cutter:
    field = GapField(room.barriers)
    return Cutter(
        field=field,
        cutting=cutting,
        doubt_at=doubt_at(survey),
        count_from=count_from,
        gluing=gluing(find_pattern(floor.pattern), field, cutting),
    )

"""Everything in a job that makes no sense, found at once: the room's faults, the board's and the saw's."""

from collections.abc import Iterator

from engine.cutting.straight_cut import SAW_REACH
from engine.errors import Finding, Refused
from engine.model.job import Board, Cutting, Floor, Job
from engine.planning.board_count import too_many_boards
from engine.planning.pattern_checks import pattern_faults, unknown_pattern
from engine.planning.room_as_read import room_as_read
from engine.planning.tools import saw_findings
from engine.survey.check_readings import check_readings
from engine.survey.checks import check_room
from engine.units import number_text

# No scale of a saw is finer, degrees.
LEAST_STEP = 0.01
LEAST_BOARD, MOST_BOARD = 10.0, 10_000.0


def check_job(job: Job) -> tuple[Finding, ...]:
    """All findings of sense; nothing is computed that could fail on a faulty job."""
    return (
        *_room_faults(job),
        *_floor_faults(job.floor),
        *_cutting_faults(job.cutting),
        *saw_findings(job),
        *_long_cut_faults(job),
        *_size(job),
    )


def _room_faults(job: Job) -> tuple[Finding, ...]:
    """The faults of the room as its readings make it, or those of the readings."""
    notes = check_readings(job.survey, job.room) if job.survey else ()
    try:
        return (*check_room(room_as_read(job)), *(note for note in notes if note.level != "error"))
    except Refused as refused:
        return refused.findings


def _floor_faults(floor: Floor) -> Iterator[Finding]:
    faults = (*_board_faults(floor.board), *unknown_pattern(floor))
    # A pattern that there is is asked about a board that there can be.
    yield from faults or pattern_faults(floor)
    if not -360 <= floor.axis <= 360:
        yield Finding(
            path="floor.axis",
            code="axis out of range",
            sentence="The row axis is an angle between −360° and 360°. Enter it again.",
        )


def _board_faults(board: Board) -> Iterator[Finding]:
    for name, value in (("length", board.length), ("width", board.width)):
        if not LEAST_BOARD <= value <= MOST_BOARD:
            yield Finding(
                path=f"floor.board.{name}",
                code="board measure",
                sentence=f"The board's {name} is {number_text(value, 1)} mm; it must lie between "
                f"{number_text(LEAST_BOARD, 0)} and {number_text(MOST_BOARD, 0)} mm. Measure a board again.",
            )
    if board.width > board.length:
        yield Finding(
            path="floor.board",
            code="board wider than long",
            sentence="The board is wider than it is long. Exchange its length and width.",
        )


def _cutting_faults(cutting: Cutting) -> Iterator[Finding]:
    ranges = (
        ("kerf", "The kerf", cutting.kerf, 20.0, "mm"),
        ("gap_tolerance", "The gap tolerance", cutting.gap_tolerance, 50.0, "mm"),
        ("sliver", "The sliver limit", cutting.sliver, 500.0, "mm"),
        ("saw_step", "The saw's angle step", cutting.saw_step, 45.0, "°"),
        ("largest_left", "The saw's largest angle to the left", cutting.largest_left, SAW_REACH, "°"),
        ("largest_right", "The saw's largest angle to the right", cutting.largest_right, SAW_REACH, "°"),
        ("saw_error", "The saw's error", cutting.saw_error, 2.0, "°"),
        ("saw_reach", "The saw's reach across the board", cutting.saw_reach, 1000.0, "mm"),
        ("guide", "The guide's distance from the blade", cutting.guide, 500.0, "mm"),
        ("hand_clearance", "The hand clearance", cutting.hand_clearance, 1000.0, "mm"),
        *(
            (f"detents[{index}]", "A place where the saw clicks in", detent, SAW_REACH, "°")
            for index, detent in enumerate(cutting.detents)
        ),
        ("trim", "The trim", cutting.trim, 50.0, "mm"),
    )
    for name, words, value, most, unit in ranges:
        if not 0 <= value <= most:
            yield Finding(
                path=f"cutting.{name}",
                code="cutting value out of range",
                sentence=f"{words} must lie between 0 and {number_text(most, 0)} {unit}. Enter it again.",
            )
    if 0 < cutting.saw_step < LEAST_STEP:
        yield Finding(
            path="cutting.saw_step",
            code="saw step too fine",
            sentence=f"No saw can be set in steps of less than {number_text(LEAST_STEP, 2)}°. "
            "Enter 0 for any angle, or the step of its scale.",
        )


def _long_cut_faults(job: Job) -> Iterator[Finding]:
    for number, cut in enumerate(job.long_cuts):
        ranges = (
            ("gap", "The gap", cut.gap, 100.0),
            ("depth", "The depth of the seam", cut.depth, 100.0),
            ("guide", "The guide's offset", cut.guide, 1000.0),
            ("allowance", "The allowance", cut.allowance, 500.0),
            *(
                (f"marks[{i}].distance", f"Mark {i + 1}", mark.distance, 5000.0)
                for i, mark in enumerate(cut.marks)
            ),
        )
        for name, words, value, most in ranges:
            if value is not None and not 0 <= value <= most:
                yield Finding(
                    path=f"long_cuts[{number}].{name}",
                    code="long cut value out of range",
                    sentence=f"{words} of the long cut along {cut.from_}–{cut.to} must lie between 0 and "
                    f"{number_text(most, 0)} mm. Measure and enter it again.",
                )


def _size(job: Job) -> Iterator[Finding]:
    """Boards without number would keep the phone busy for ever; here by the corners, where measured."""
    corners = tuple((job.room.corners or {}).values())
    if len(corners) >= 3 and not any(fault.level == "error" for fault in _floor_faults(job.floor)):
        yield from too_many_boards(job.floor, corners)

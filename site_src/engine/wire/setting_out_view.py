"""The sheet for the floor, put together."""

from collections.abc import Iterator, Sequence

from engine.model.job import Floor
from engine.patterns import find_pattern
from engine.planning.floor_plan import FloorPlan
from engine.planning.setting_out import SettingOut, plan_setting_out
from engine.units import number_text
from engine.wire.drawings import Figure
from engine.wire.figures import Writer
from engine.wire.laying_view import boards_in_hand, first_boards, laying_drawing
from engine.wire.mark_numbers import largest_letters
from engine.wire.opening_words import opening_choices, openings_shut_words
from engine.wire.setting_out_drawings import SettingOutSheet, StrikeDrawing
from engine.wire.strike_view import square_drawing, strike_drawings

# Rows turned by less against the row axis run along it, degrees.
ASLANT = 0.01
CAUTIONS = (
    "Over heating film and its cables: chalk, tape or a weighted string. No nail, screw, staple or blade "
    "into the floor; what is damaged belongs to a licensed electrician.",
    "Do not look into the laser, and set it so that nobody has to.",
    "A check that is off by more than twice what two tapes leave: measure again before you strike.",
)
AS_IT_LIES_WORDS = (
    "The floor was taken as it lies. Lay the rest by the lines “as it lies”: strike them in another colour. "
    "Those struck before stay, for readings count from them."
)

BEFORE_CHANGE = (
    "The floor was taken as it lies, and the rest is cut for it. With the pattern changed that no longer "
    "counts: all pieces are cut anew, for the pattern as set out. Undo brings it back. Change the pattern?"
)


def setting_out_sheet(plan: FloorPlan, writer: Writer) -> SettingOutSheet:
    """Lines, first boards and laying order of one floor."""
    sheet = plan_setting_out(plan)
    lines = strike_drawings(plan, sheet, writer)
    outline = plan.room.outline
    openings = opening_choices(plan.job.floor, outline)
    return SettingOutSheet(
        as_it_lies=AS_IT_LIES_WORDS if plan.as_it_lies else "",
        before_change=BEFORE_CHANGE,
        through=through_words(plan.job.floor, sheet, writer),
        openings=openings,
        shut=openings_shut_words(outline, openings),
        lines=lines,
        letters=_letters(lines),
        square=square_drawing(sheet.square, writer),
        first=first_boards(plan, sheet),
        in_hand=boards_in_hand(plan),
        laying=laying_drawing(plan, sheet),
        cautions=CAUTIONS,
    )


def _letters(lines: Sequence[StrikeDrawing]) -> float:
    """Only the marks of lines that are to be struck are numbered in the drawing."""
    return largest_letters([mark.label for line in lines if not line.is_struck for mark in line.marks])


def through_words(floor: Floor, sheet: SettingOut, writer: Writer) -> str:
    """What lies in the middle of an opening to which a row axis is brought."""
    slant = abs(sheet.rows.direction - floor.axis)
    aslant = f" The rows run at {number_text(slant, 0)}° to the axis: it crosses the opening at a slant."
    words = f"In the middle of the opening then {find_pattern(floor.pattern).on_axis(floor)}."
    return writer.sentence(words + (aslant if slant > ASLANT else ""))


def sheet_figures(sheet: SettingOutSheet) -> Iterator[Figure]:
    """Every figure on it."""
    for line in sheet.lines:
        yield from (line.length, *line.laser, *line.field)
        for mark in line.marks:
            yield from (*mark.ties, mark.known_to)
            yield from (shown for shown in (mark.check, mark.along) if shown is not None)
    yield from sheet.square.figures if sheet.square else ()
    yield from sheet.laying.figures

"""The table of distances: every line's two marks with their tapes, its checks, and the square check."""

from collections.abc import Sequence

from engine.geometry.shapes import Point
from engine.planning.floor_plan import FloorPlan
from engine.planning.setting_out import SettingOut
from engine.setting_out.square import SquareCheck
from engine.sheets.free_places import Taken, TextPlace
from engine.sheets.paper import Paper
from engine.sheets.pdf_page import THICK, THIN, Page
from engine.sheets.pdf_text import shortened, width_of, wrapped
from engine.sheets.scaled_view import View, draw_things, fitting_scale, room_box
from engine.sheets.setting_out_words import LineWords, MarkWords, Measured, SettingOutWords
from engine.sheets.sheet_head import FOOT, LINE_HEIGHT, MARGIN, PLAIN, SMALL, bottom_of_head, page_words

WORDS = (
    "Distances in mm. A mark lies where two tapes meet, one from each corner named; the check proves it. "
    "“Tapes leave” is what two good tapes leave open. A check off by more than twice that: measure again."
)
# Title and place of each column, mm from the left margin.
COLUMNS = (
    ("mark", 0.0), ("tape from", 14.0), ("tape from", 46.0), ("check from", 78.0),
    ("along the wall from its corner", 110.0), ("tapes leave", 170.0),
)  # fmt: skip
STRUCK = "Struck before"
TIE = 11.0
ROW, TITLE_ROW, AFTER = 6.2, 5.2, 2.6
COLUMN_TITLES, BEFORE_CHECKS = 5.0, 0.2
# The next rule does not cut off what hangs below the last line of a note.
BELOW_NOTE = 1.4
# The picture of the square check, mm.
PICTURE = (70.0, 52.0)
DASH = (1.5, 1.0)
NEAR = ((3.0, 3.0), (-3.0, 3.0), (3.0, -3.0), (-3.0, -3.0), (0.0, 4.0), (0.0, -4.0), (4.0, 0.0), (-4.0, 0.0))


class _Flow:
    """Pages filled from the top; what is kept together goes on to the next page where it does not fit."""

    def __init__(self, paper: Paper) -> None:
        self.paper = paper
        self.width = paper.width - 2 * MARGIN
        self.pages: list[Page] = []
        self.y = 0.0
        self._new_page()

    @property
    def page(self) -> Page:
        return self.pages[-1]

    def keep(self, height: float) -> None:
        """Room for so much on one page."""
        if self.y - height < MARGIN + FOOT:
            self._new_page()

    def text(self, words: str, size: float, *, bold: bool = False) -> None:
        """A line of text, and on below it."""
        self.y -= LINE_HEIGHT if size < PLAIN else TITLE_ROW
        self.page.text((MARGIN, self.y), words, size, bold=bold)

    def words(self, words: str) -> None:
        """Small text in lines."""
        for line in wrapped(words, SMALL, self.width):
            self.text(line, SMALL)

    def _new_page(self) -> None:
        self.pages.append(Page(self.paper))
        page_words(self.page, WORDS)
        self.y = bottom_of_head(self.paper) - 1


def table_pages(plan: FloorPlan, sheet: SettingOut, words: SettingOutWords, paper: Paper) -> list[Page]:
    """As many pages as it takes; a line's block is never parted. What is struck already comes last."""
    flow = _Flow(paper)
    for line in words.lines:
        if not line.is_struck:
            _line(flow, line)
    for number, line in enumerate(line for line in words.lines if line.is_struck):
        _line(flow, line, "" if number else STRUCK)
    if sheet.square is not None:
        _square(flow, plan, sheet.square, words.square)
    flow.keep(TITLE_ROW + _height(flow, words.cautions))
    flow.text("Mind", PLAIN, bold=True)
    for caution in words.cautions:
        flow.words(caution)
    return flow.pages


def _height(flow: _Flow, sentences: Sequence[str]) -> float:
    return LINE_HEIGHT * sum(len(list(wrapped(words, SMALL, flow.width))) for words in sentences)


def _line(flow: _Flow, line: LineWords, heading: str = "") -> None:
    """A line with its marks; never parted from the heading above it."""
    notes = [mark.note for mark in line.marks if mark.note]
    sentences = (line.words, *notes, *line.checks)
    titles = TITLE_ROW * (2 if heading else 1)
    marks = 2 * ROW + len(notes) * BELOW_NOTE
    flow.keep(titles + COLUMN_TITLES + marks + _height(flow, sentences) + BEFORE_CHECKS)
    if heading:
        flow.text(heading, PLAIN + 2, bold=True)
    flow.text(line.name, PLAIN + 1, bold=True)
    flow.words(line.words)
    flow.y -= COLUMN_TITLES
    for title, x in COLUMNS:
        flow.page.text((MARGIN + x, flow.y + 1.2), title, SMALL)
    for mark in line.marks:
        _mark(flow, mark)
        if mark.note:
            flow.words(mark.note)
            flow.y -= BELOW_NOTE
    flow.y -= BEFORE_CHECKS
    for check in line.checks:
        flow.words(check)
    flow.y -= AFTER


def _mark(flow: _Flow, mark: MarkWords) -> None:
    page, y = flow.page, flow.y
    page.line([(MARGIN, y), (flow.paper.width - MARGIN, y)], THIN, grey=0.6)
    flow.y -= ROW
    low = flow.y + 1.8
    starts = [MARGIN + x for _, x in COLUMNS]
    ends = (*starts[1:], flow.paper.width - MARGIN)
    page.text((starts[0], low), mark.number, TIE, bold=True)
    for place, measured in enumerate((*mark.ties, mark.check, mark.along), 1):
        if measured is not None:
            # What is measured to strike the line stands out.
            is_tie = place <= len(mark.ties)
            text = _short(measured, TIE if is_tie else PLAIN, ends[place] - starts[place] - 2)
            page.text((starts[place], low), text, TIE if is_tie else PLAIN, bold=is_tie)
    page.text((starts[-1], low), mark.known_to, PLAIN)


def _short(measured: Measured, size: float, width: float) -> str:
    """A long name is cut off, its distance never."""
    name, distance = measured
    # Bold letters are a tenth wider.
    return f"{shortened(name, size, width / 1.1 - width_of(f'  {distance}', size))}  {distance}"


def _square(flow: _Flow, plan: FloorPlan, check: SquareCheck, sentences: Sequence[str]) -> None:
    """A small picture with the figures beside it."""
    across, up = PICTURE
    flow.keep(TITLE_ROW + up + AFTER)
    flow.text("Is it square?", PLAIN + 1, bold=True)
    top, x = flow.y - 1.0, MARGIN + across + 6
    _picture(flow.page, plan, check, (MARGIN, top - up, MARGIN + across, top))
    y = top
    for words in sentences:
        for line in wrapped(words, PLAIN, flow.paper.width - MARGIN - x):
            y -= 4.4
            flow.page.text((x, y), line, PLAIN)
    flow.y = min(top - up, y) - AFTER


def _picture(page: Page, plan: FloorPlan, check: SquareCheck, box: tuple[float, float, float, float]) -> None:
    room = room_box(plan)
    view = View(page, room, fitting_scale(room, box, 2.0), box)
    draw_things(view, plan)
    walls = [view.ring(wall.points) for wall in plan.room.outline.walls]
    for wall in walls:
        page.line(wall, THIN)
    at, first, second = view.ring((check.at, check.on_first, check.on_second))
    sides, diagonals = [(first, at), (at, second)], [(first, second)]
    marks = [("P", at), ("Q", first), ("R", second)]
    if check.fourth is not None:
        fourth = view.spot(check.fourth)
        sides += [(first, fourth), (fourth, second)]
        diagonals.append((at, fourth))
        marks.append(("S", fourth))
    for side in sides:
        page.line(side, THICK)
    for diagonal in diagonals:
        page.line(diagonal, dash=DASH)
    _names(page, marks, Taken([*walls, *sides, *diagonals]))


def _names(page: Page, marks: Sequence[tuple[str, Point]], taken: Taken) -> None:
    for name, (x, y) in marks:
        choices = [TextPlace(at=(x + dx, y + dy), text=name, size=PLAIN) for dx, dy in NEAR]
        place = taken.put(choices) or choices[0]
        page.middle_text(place.at, name, PLAIN, bold=True)

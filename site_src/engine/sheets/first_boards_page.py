"""Which way round: the boards laid first where the lines cross, and each hand of board as it is held."""

from collections.abc import Sequence
from math import atan2, cos, degrees, hypot, radians, sin

from engine.drawing.board_shapes import BoardShape
from engine.drawing.first_boards import first_shapes, held_boards, what_is_seen
from engine.geometry.shapes import Point
from engine.planning.floor_plan import FloorPlan
from engine.planning.setting_out import SettingOut
from engine.sheets.paper import Paper
from engine.sheets.pdf_page import THIN, Page
from engine.sheets.pdf_text import POINTS, width_of, wrapped
from engine.sheets.scaled_view import Box, View, box_about, least_scale
from engine.sheets.setting_out_words import SettingOutWords
from engine.sheets.sheet_head import LINE_HEIGHT, MARGIN, PLAIN, bottom_of_head, page_words

WORDS = (
    "Face up. Black: the edge that goes into what lies; the joint has its tongue there. Broken line inside: "
    "the edge that stays open for the next board. The arrow runs from the start end to the far end."
)
# Heights of the two pictures, mm, and the room about what they show.
FIRST, HELD, AROUND = 108.0, 82.0, 5.0
TITLE, AFTER = 6.0, 4.0
GROOVE_DASH, LINE_DASH = (1.6, 1.0), (5.0, 1.2)
LEFT_TINT, TONGUE = 0.9, 0.0
OUTLINE, ARROW = 0.35, 0.5
LARGEST, SMALLEST = 14.0, 5.0
# A name stands so far above the arrow, and is so high at most, as parts of the width.
ABOVE, HIGH = 0.2, 0.3


def first_boards_page(plan: FloorPlan, sheet: SettingOut, words: SettingOutWords, paper: Paper) -> Page:
    """Both pictures with their sentences."""
    page, right = Page(paper), paper.width - MARGIN
    page_words(page, WORDS)
    y = _heading(page, "First boards", bottom_of_head(paper))
    view = _view(page, what_is_seen(sheet), (MARGIN, y - FIRST, right, y))
    _first(view, plan, sheet, words)
    y = _sentences(page, words.first, y - FIRST)
    y = _heading(page, "Which way round", y - AFTER)
    held = held_boards(plan)
    seen = [point for each in held for point in (*each.shape.outline[0], each.below)]
    view = _view(page, seen, (MARGIN, y - HELD, right, y))
    for each in held:
        _board(view, each.shape)
        page.middle_text(view.spot(each.below), words.hands[each.shape.hand], PLAIN)
    _sentences(page, words.in_hand, y - HELD)
    return page


def _view(page: Page, seen: Sequence[Point], box: Box) -> View:
    part = box_about(seen)
    return View(page, part, least_scale(part, box, AROUND), box)


def _heading(page: Page, words: str, y: float) -> float:
    page.text((MARGIN, y - TITLE + 1.5), words, PLAIN + 1, bold=True)
    return y - TITLE


def _sentences(page: Page, sentences: Sequence[str], y: float) -> float:
    for words in sentences:
        for line in wrapped(words, PLAIN, page.paper.width - 2 * MARGIN):
            y -= LINE_HEIGHT + 0.6
            page.text((MARGIN, y), line, PLAIN)
    return y


def _first(view: View, plan: FloorPlan, sheet: SettingOut, words: SettingOutWords) -> None:
    """Later boards lie below earlier ones, whose tongues they take in."""
    page = view.page
    page.begin_clip(view.box)
    shapes = first_shapes(plan, sheet)
    for shape in shapes:
        _board(view, shape)
    for line in sheet.lines:
        page.line(view.ring((line.start.at, line.end.at)), OUTLINE, dash=LINE_DASH)
    for number, shape in enumerate(shapes, 1):
        name = f"{number}  {words.hands[shape.hand]}" if number <= max(1, len(sheet.first)) else str(number)
        _named(view, shape, name, plan.job.floor.board.width)
    page.end_clip()


def _board(view: View, shape: BoardShape) -> None:
    page = view.page
    fill = LEFT_TINT if shape.hand == "L" else 1.0
    page.shape(tuple(map(view.ring, shape.outline)), OUTLINE, fill=fill)
    for tongue in shape.tongues:
        page.shape((view.ring(tongue),), THIN, fill=TONGUE)
    for groove in shape.grooves:
        page.line(view.ring(groove), OUTLINE, dash=GROOVE_DASH)
    for line in shape.arrow:
        page.line(view.ring(line), ARROW)


def _named(view: View, shape: BoardShape, name: str, width: float) -> None:
    """A name above the shaft of the arrow, where neither lines cross nor joints lie; never head down."""
    (ax, ay), (bx, by) = view.ring(shape.arrow[0])
    high = width / view.scale
    turn = (degrees(atan2(by - ay, bx - ax)) + 89.999) % 180 - 89.999
    up = radians(turn + 90)
    at = (ax + bx) / 2 + ABOVE * high * cos(up), (ay + by) / 2 + ABOVE * high * sin(up)
    size = min(LARGEST, HIGH * high * POINTS)
    while size > SMALLEST and width_of(name, size) > hypot(bx - ax, by - ay):
        size -= 0.5
    view.page.middle_text(at, name, round(size, 1), turn=turn, bold=True)

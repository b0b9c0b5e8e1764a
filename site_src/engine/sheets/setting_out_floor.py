"""The floor with the lines to strike, each named, and the marks between which they run, numbered."""

from collections.abc import Iterator
from math import atan2, cos, degrees, hypot, pi, sin

from engine.geometry.shapes import Point, Ring
from engine.planning.floor_plan import FloorPlan
from engine.planning.setting_out import SettingOut
from engine.sheets.free_places import Taken, TextPlace
from engine.sheets.paper import Paper
from engine.sheets.pdf_page import THICK, THIN, Page
from engine.sheets.pdf_text import shortened, width_of
from engine.sheets.scaled_view import View, draw_scale_bar, draw_things, fitted, room_box
from engine.sheets.setting_out_words import LineWords, SettingOutWords
from engine.sheets.sheet_head import MARGIN, bottom_of_head, page_words

WORDS = (
    "Lines to strike, scale 1:{scale} when printed at actual size: the bar below is one metre. Strike each "
    "from mark to mark; their distances stand on the next page. Fine broken line: here the whole boards end "
    "and the cutting begins. Grey: what is laid first. {caution}"
)
STRIKE, STRIKE_DASH = 0.35, (5.0, 1.2)
FIELD_DASH, FIELD_GREY = (0.8, 0.8), 0.45
FIRST_TINT = 0.85
MARK = 0.9
CORNER, NUMBER, NAME = 11.0, 9.0, 7.0
# A longer name of a corner is cut off, mm.
LONGEST = 40.0
# How far off a corner, a mark or its line a text stands, mm on paper; farther where that is taken.
OFF_CORNER, OFF_MARK, OFF_LINE = (4.0, 5.5, 3.0), (2.8, 3.8, 5.0), (1.9, 3.2)
# Where along its line a name may stand, in the order of preference.
ALONG = (0.5, 0.35, 0.65, 0.22, 0.78, 0.12, 0.88, 0.28, 0.72, 0.42, 0.58)
WAYS = tuple(number * pi / 8 for number in range(16))


def floor_page(plan: FloorPlan, sheet: SettingOut, words: SettingOutWords, paper: Paper) -> Page:
    """The whole floor on one page, upright or lying."""
    view = fitted(room_box(plan), (paper, paper.landscape))
    _draw_floor(view, plan, sheet)
    taken = Taken(
        [
            *(view.ring(wall.points) for wall in plan.room.outline.walls),
            *(view.ring(barrier.points) for barrier in plan.room.barriers if barrier.solid),
            *(view.ring((line.start.at, line.end.at)) for line in sheet.lines),
        ],
        [_ring_about(view.spot(mark.at)) for line in sheet.lines for mark in line.marks],
    )
    _corner_names(view, plan, taken)
    for line, texts in zip(sheet.lines, words.lines, strict=True):
        for mark, mark_words in zip(line.marks, texts.marks, strict=True):
            places = _around(view.spot(mark.at), mark_words.number, NUMBER, OFF_MARK)
            _put(view.page, taken, places, is_bold=True)
    for line, texts in zip(sheet.lines, words.lines, strict=True):
        start, end = view.ring((line.start.at, line.end.at))
        _put(view.page, taken, _beside(start, end, texts))
    draw_scale_bar(view)
    page_words(view.page, WORDS.format(scale=view.scale, caution=words.cautions[0]))
    return view.page


def _draw_floor(view: View, plan: FloorPlan, sheet: SettingOut) -> None:
    page = view.page
    for piece in sheet.first:
        page.shape((view.ring(piece.board.ring),), THIN, fill=FIRST_TINT)
    for polygon in sheet.covered:
        for ring in polygon:
            page.line(view.ring((*ring, ring[0])), THIN, dash=FIELD_DASH, grey=FIELD_GREY)
    draw_things(view, plan)
    for wall in plan.room.outline.walls:
        page.line(view.ring(wall.points), THICK)
    for line in sheet.lines:
        page.line(view.ring((line.start.at, line.end.at)), STRIKE, dash=STRIKE_DASH)
    for line in sheet.lines:
        for mark in line.marks:
            page.shape((_ring_about(view.spot(mark.at)),), STRIKE, fill=1.0)


def _ring_about(at: Point) -> Ring:
    """A small circle, near enough."""
    return tuple((at[0] + MARK * cos(way), at[1] + MARK * sin(way)) for way in WAYS)


def _corner_names(view: View, plan: FloorPlan, taken: Taken) -> None:
    """Each outside the room where it can be."""
    middle = view.spot(((view.part[0] + view.part[2]) / 2, (view.part[1] + view.part[3]) / 2))
    for corner in plan.room.outline.corners:
        at = view.spot(corner.at)
        way = atan2(at[1] - middle[1], at[0] - middle[0])
        _put(view.page, taken, _around(at, corner.name, CORNER, OFF_CORNER, way), is_bold=True)


def _around(
    at: Point, text: str, size: float, off: tuple[float, ...], way: float = 0.0
) -> Iterator[TextPlace]:
    """Places about a point: near ones first, and those nearest to a way."""
    text = shortened(text, size, LONGEST)
    # A long name stands beside its point, not over it.
    beside = max(0.0, width_of(text, size) / 2 - off[0] / 2)
    for distance in off:
        for turn in sorted(WAYS, key=lambda turn: (min(turn, 2 * pi - turn), turn)):
            x, y = cos(way + turn), sin(way + turn)
            spot = at[0] + (distance + beside) * x, at[1] + distance * y
            yield TextPlace(at=spot, text=text, size=size)


def _beside(start: Point, end: Point, texts: LineWords) -> Iterator[TextPlace]:
    """Places along a line, beside it, never head down; the text shorter where the whole has no room."""
    length = hypot(end[0] - start[0], end[1] - start[1])
    ux, uy = (end[0] - start[0]) / length, (end[1] - start[1]) / length
    turn = (degrees(atan2(uy, ux)) + 89.999) % 180 - 89.999
    for size in (NAME, NAME - 1, NAME - 2):
        for off in OFF_LINE:
            for part in ALONG:
                for side in (1, -1):
                    x = start[0] + part * length * ux - side * off * uy
                    y = start[1] + part * length * uy + side * off * ux
                    yield TextPlace(at=(x, y), text=texts.name, size=size, turn=turn)


def _put(page: Page, taken: Taken, places: Iterator[TextPlace], *, is_bold: bool = False) -> None:
    """Write a text on the first free of its places, else on the first of all; off the paper on none."""
    all_places = tuple(places)
    choices = tuple(place for place in all_places if _is_on_paper(page, place)) or all_places
    place = taken.put(choices) or choices[0]
    page.middle_text(place.at, place.text, place.size, turn=place.turn, bold=is_bold)


def _is_on_paper(page: Page, place: TextPlace) -> bool:
    return all(
        MARGIN <= x <= page.paper.width - MARGIN and MARGIN <= y <= bottom_of_head(page.paper)
        for x, y in place.box
    )

"""The order of laying: the number of every piece, and in which order its courses follow each other.

A course is what the pattern lays side by side before the next begins: a row of
straight boards, one place of all rows in a herringbone.
"""

from collections import Counter
from collections.abc import Iterator, Sequence

from msgspec import Struct

from engine.geometry.frame import cos_sin
from engine.geometry.plane import in_ring
from engine.geometry.shapes import Point, Polygon, Ring
from engine.patterns import find_pattern
from engine.planning.floor_plan import FloorPlan
from engine.planning.pieces import Piece
from engine.planning.setting_out import SettingOut
from engine.sheets.free_places import Taken, TextPlace
from engine.sheets.paper import Paper
from engine.sheets.pdf_page import THICK, THIN, Page
from engine.sheets.pdf_text import wrapped
from engine.sheets.piece_names import SMALLEST, name_size, name_turn, room_for_names
from engine.sheets.scaled_view import View, draw_scale_bar, draw_things, fitted, parts, room_box
from engine.sheets.setting_out_words import SettingOutWords
from engine.sheets.sheet_head import LINE_HEIGHT, SMALL, page_words

WORDS = (
    "{what}, scale 1:{scale} when printed at actual size: the bar below is one metre. Grey and white in "
    "turn: the courses; large numbers at their ends: the order in which they are begun. {bold}"
)
BOLD = "Bold: these cut pieces have to be laid in their turn."
NO_ROOM = "Too small here for their number: {}."
# Room below the drawing for sentences, mm.
BELOW = 24.0
# Every second course.
COURSE_TINT = 0.88
FIELD_LINE = 0.5
# Numbers smaller than this, in points, are read on parts of the plan instead.
READABLE = 4.5
PART_SCALE = 20
COURSE = 8.0
# A course that runs more steeply than this (cosine) runs upwards.
STEEP = 1e-6
# Boards no farther than this behind the last of their course are as far on, mm: the one laid first counts.
SAME = 0.5
# How far off its course a course's number stands, mm on paper; farther where that is taken.
OFF_COURSE = (4.0, 6.0, 8.0, 10.0)


class _Laid(Struct, frozen=True, kw_only=True):
    """A piece where it lies, its number in the order of laying; ``in_turn``: cut, and yet in the field."""

    piece: Piece
    number: str
    outline: Polygon
    middle: Point
    course: int
    in_turn: bool


class _Floor(Struct, frozen=True, kw_only=True):
    """``begun``: the courses of the field in their order; ``beside``: each course's place among all."""

    laid: tuple[_Laid, ...]
    begun: tuple[int, ...]
    beside: dict[int, int]
    direction: Point


def laying_pages(plan: FloorPlan, sheet: SettingOut, words: SettingOutWords, paper: Paper) -> list[Page]:
    """The whole floor, and its parts where numbers would be too small on it."""
    room, floor = room_box(plan), _floor(plan, sheet, words.numbers)
    whole = fitted(room, (paper, paper.landscape), BELOW)
    is_read = room_for_names(plan.job.floor.board.width, whole.scale) >= READABLE
    closer = () if is_read else tuple(parts(room, whole.page.paper, PART_SCALE))
    left_out = _page(whole, "Order of laying", plan, sheet, floor, with_numbers=is_read)
    for view, what in closer:
        left_out += _page(view, what, plan, sheet, floor, with_numbers=True)
    _sentences(whole, (*words.laying, *_no_room(left_out)))
    return [whole.page, *(view.page for view, _ in closer)]


def _page(
    view: View, what: str, plan: FloorPlan, sheet: SettingOut, floor: _Floor, *, with_numbers: bool
) -> list[_Laid]:
    """Draw one page; the pieces on it that have no room for their number."""
    _draw(view, plan, sheet, floor)
    left_out = _numbers(view, floor) if with_numbers else []
    draw_scale_bar(view)
    page_words(view.page, WORDS.format(what=what, scale=view.scale, bold=BOLD if with_numbers else ""))
    return left_out


def _no_room(left_out: Sequence[_Laid]) -> Iterator[str]:
    """Parts overlap: each piece is named once."""
    if left_out:
        names = dict.fromkeys(f"{laid.piece.id} is {laid.number}" for laid in left_out)
        yield NO_ROOM.format(", ".join(names))


def _sentences(view: View, sentences: Sequence[str]) -> None:
    page, y = view.page, view.box[1] - 1
    for line in wrapped(" ".join(sentences), SMALL, view.box[2] - view.box[0]):
        y -= LINE_HEIGHT
        page.text((view.box[0], y), line, SMALL)


def _floor(plan: FloorPlan, sheet: SettingOut, numbers: dict[str, str]) -> _Floor:
    floor = plan.job.floor
    order = find_pattern(floor.pattern).order
    laid = tuple(
        _Laid(
            piece=piece,
            number=numbers[piece.id],
            outline=piece.outline,
            middle=piece.middle,
            course=order(piece.board, floor)[0],
            in_turn=place < sheet.field and piece.sawn.kind != "whole",
        )
        for place, piece in enumerate(sheet.steps)
    )
    courses = Counter(each.course for each in laid)
    longest = max(courses, key=lambda course: courses[course])
    return _Floor(
        laid=laid,
        begun=tuple(dict.fromkeys(each.course for each in laid[: sheet.field])),
        beside={course: number for number, course in enumerate(sorted(courses))},
        direction=_direction([each.middle for each in laid if each.course == longest], sheet.rows.direction),
    )


def _direction(points: Sequence[Point], row_direction: float) -> Point:
    """Which way a course runs: along the rows or square to them; from left to right, or upwards."""

    def extent(angle: float) -> float:
        ux, uy = cos_sin(angle)
        along = [x * ux + y * uy for x, y in points]
        return max(along) - min(along)

    ux, uy = cos_sin(max((row_direction, row_direction + 90), key=extent))
    return (ux, uy) if ux > STEEP or (ux > -STEEP and uy > 0) else (-ux, -uy)


def _draw(view: View, plan: FloorPlan, sheet: SettingOut, floor: _Floor) -> None:
    page = view.page
    page.begin_clip(view.box)
    for laid in floor.laid:
        if view.shows(laid.outline[0]):
            fill = COURSE_TINT if floor.beside[laid.course] % 2 else 1.0
            page.shape(tuple(map(view.ring, laid.outline)), THIN, fill=fill)
    draw_things(view, plan)
    walls = [view.ring(wall.points) for wall in plan.room.outline.walls]
    for wall in walls:
        page.line(wall, THICK)
    for polygon in sheet.covered:
        for ring in polygon:
            page.line(view.ring((*ring, ring[0])), FIELD_LINE)
    corners = view.ring([corner.at for corner in plan.room.outline.corners])
    _course_numbers(view, floor, corners)
    page.end_clip()


def _course_numbers(view: View, floor: _Floor, corners: Ring) -> None:
    """Each outside the room, at an end of its course; left out where it would lie on another's."""
    taken = Taken()
    courses: dict[int, list[_Laid]] = {course: [] for course in floor.begun}
    for laid in floor.laid:
        if laid.course in courses:
            courses[laid.course].append(laid)
    for number, course in enumerate(courses.values(), 1):
        place = taken.put(
            place
            for way in (-1.0, 1.0)
            for place in _beyond(view, course, floor.direction, way, str(number))
            if _is_inside(view, place) and not in_ring(place.at, corners)
        )
        if place is not None:
            view.page.middle_text(place.at, place.text, place.size, bold=True)


def _beyond(
    view: View, course: Sequence[_Laid], direction: Point, way: float, text: str
) -> Iterator[TextPlace]:
    """Places beyond a course, level with what is seen of its last board."""
    ux, uy = way * direction[0], way * direction[1]
    reach = max(x * ux + y * uy for laid in course for x, y in laid.outline[0])
    boards = [sum(x * ux + y * uy for x, y in laid.piece.board.ring) / 4 for laid in course]
    last = max(boards) - SAME
    x, y = next(laid.middle for laid, board in zip(course, boards, strict=True) if board > last)
    on = reach - x * ux - y * uy
    for off in OFF_COURSE:
        at = view.spot((x + (on + off * view.scale) * ux, y + (on + off * view.scale) * uy))
        yield TextPlace(at=at, text=text, size=COURSE)


def _is_inside(view: View, place: TextPlace) -> bool:
    left, low, right, high = view.box
    return all(left <= x <= right and low <= y <= high for x, y in place.box)


def _numbers(view: View, floor: _Floor) -> list[_Laid]:
    """The number on every piece, bold where it has to be laid in its turn; the pieces that have no room."""
    taken, left_out = Taken(), []
    view.page.begin_clip(view.box)
    for laid in floor.laid:
        if not view.shows((laid.middle,)):
            continue
        put = taken.put(_on_piece(view, laid))
        if put is None:
            left_out.append(laid)
        else:
            view.page.middle_text(put.at, put.text, put.size, turn=put.turn, bold=laid.in_turn)
    view.page.end_clip()
    return left_out


def _on_piece(view: View, laid: _Laid) -> Iterator[TextPlace]:
    """On the piece's middle: as large as it fits on the piece, else as small as can be read."""
    outline, at, turn = view.ring(laid.outline[0]), view.spot(laid.middle), name_turn(laid.piece)
    size = name_size(laid.number, laid.piece, view.scale)
    while size > SMALLEST:
        place = TextPlace(at=at, text=laid.number, size=size, turn=turn)
        if all(in_ring(corner, outline) for corner in place.box):
            yield place
        size = round(size - 0.5, 1)
    yield TextPlace(at=at, text=laid.number, size=SMALLEST, turn=turn)

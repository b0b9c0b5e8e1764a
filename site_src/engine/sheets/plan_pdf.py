"""The plan on paper: all of it on one sheet, then part by part at a scale at which names can be read."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from math import ceil

from engine.geometry.shapes import Point, Ring
from engine.planning.floor_plan import FloorPlan
from engine.planning.pieces import Piece
from engine.sheets.paper import Paper
from engine.sheets.pdf_page import THICK, THIN, Page, pdf_file
from engine.sheets.pdf_text import POINTS, width_of
from engine.sheets.sheet_head import FOOT, MARGIN, PLAIN, Head, bottom_of_head, number_pages

# Round scales, most of them on a scale rule; the whole plan takes the first one that fits.
SCALES = (5, 10, 20, 25, 30, 40, 50, 75, 100, 200, 500, 1000)
# A board 90 mm wide is 4.5 mm then, room for a name of 8 points.
PART_SCALE = 20
# Parts overlap by so much of the room, mm.
OVERLAP = 200.0
# Left and right boards are told apart by a tint that a copier keeps, pieces to cut by a heavier line.
LEFT_TINT, THING_TINT = 0.9, 0.75
CUT_LINE = 0.35
# A name is at most so large, and smaller where its piece is, in points.
LARGEST_NAME, SMALLEST_NAME = 8.0, 4.0
METRE = 1000.0
# Room for the walls' names about the room, and how far off their wall they stand, mm on paper.
AROUND, NAME_OFF = 7.0, 4.0

WORDS = (
    "{what}, scale 1:{scale} when printed at actual size: the bar below is one metre. Grey: left boards. "
    "Heavy line: pieces to cut. Dark grey: fixed things."
)

Box = tuple[float, float, float, float]


def plan_pdf(plan: FloorPlan, paper: Paper) -> bytes:
    """The whole plan, and where names would be too small on it its parts, each cut piece with its name."""
    room = _room_box(plan)
    whole = min((_fitted(room, sheet) for sheet in (paper, paper.landscape)), key=lambda view: view.scale)
    parts = tuple(_parts(room, whole.page.paper)) if whole.scale > PART_SCALE else ()
    for view in (whole, *parts):
        _draw(view, plan, with_names=bool(parts) == (view is not whole))
    pages = [whole.page, *(view.page for view in parts)]
    number_pages(Head(title="Plan", job=plan.job.name), pages)
    return pdf_file(f"Plan {plan.job.name}".strip(), pages)


@dataclass(frozen=True, slots=True)
class _View:
    """A page, the part of the room that it shows, and its scale. The part lies in the middle of the page."""

    page: Page
    part: Box
    scale: int
    what: str

    def spot(self, point: Point) -> Point:
        """Where a point of the room lies on the page."""
        (x, y), (left, low, right, high) = _middle(self.page.paper), self.part
        return (
            x + (point[0] - (left + right) / 2) / self.scale,
            y + (point[1] - (low + high) / 2) / self.scale,
        )

    def ring(self, ring: Sequence[Point]) -> Ring:
        """Where points of the room lie on the page."""
        return tuple(map(self.spot, ring))

    def shows(self, ring: Ring) -> bool:
        """Does any of it lie in the part shown, as far as boxes about it tell?"""
        left, low, right, high = _box(ring)
        return left <= self.part[2] and right >= self.part[0] and low <= self.part[3] and high >= self.part[1]


def _space(paper: Paper) -> tuple[float, float]:
    """Width and height for a drawing, mm."""
    return paper.width - 2 * MARGIN, bottom_of_head(paper) - MARGIN - FOOT


def _middle(paper: Paper) -> Point:
    return paper.width / 2, (bottom_of_head(paper) + MARGIN + FOOT) / 2


def _box(ring: Sequence[Point]) -> Box:
    xs, ys = zip(*ring, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def _room_box(plan: FloorPlan) -> Box:
    return _box([point for wall in plan.room.outline.walls for point in wall.points])


def _fitted(room: Box, paper: Paper) -> _View:
    across, up = (length - 2 * AROUND for length in _space(paper))
    needed = max((room[2] - room[0]) / across, (room[3] - room[1]) / up)
    scale = next((scale for scale in SCALES if scale >= needed), ceil(needed))
    return _View(Page(paper), room, scale, "All of it")


def _parts(room: Box, paper: Paper) -> Iterator[_View]:
    """Sheets that show all of the room, from its lower left, at the scale of parts."""
    frame = AROUND * PART_SCALE
    left, low, right, high = room[0] - frame, room[1] - frame, room[2] + frame, room[3] + frame
    width, height = (length * PART_SCALE for length in _space(paper))
    columns, rows = (_count(right - left, width), _count(high - low, height))
    for row in range(rows):
        for column in range(columns):
            x, y = left + column * (width - OVERLAP), low + row * (height - OVERLAP)
            what = f"Part {row * columns + column + 1} of {rows * columns}, from the lower left"
            yield _View(Page(paper), (x, y, x + width, y + height), PART_SCALE, what)


def _count(length: float, part: float) -> int:
    return max(1, ceil((length - OVERLAP) / (part - OVERLAP)))


def _draw(view: _View, plan: FloorPlan, *, with_names: bool) -> None:
    page, (across, up), (x, y) = view.page, _space(view.page.paper), _middle(view.page.paper)
    page.begin_clip((x - across / 2, y - up / 2, x + across / 2, y + up / 2))
    for piece in _whole_first(plan):
        _piece(view, piece)
    for barrier in plan.room.barriers:
        if barrier.solid:
            page.shape((view.ring(barrier.points[:-1]),), THICK, fill=THING_TINT)
    for wall in plan.room.outline.walls:
        page.line(view.ring(wall.points), THICK)
        off = wall.curve.offset(wall.chord / 2) - NAME_OFF * view.scale
        page.middle_text(view.spot(wall.at(wall.chord / 2, off)), wall.name, PLAIN)
    for piece in plan.pieces if with_names else ():
        if piece.sawn.kind != "whole":
            _name(view, piece)
    page.end_clip()
    _scale_bar(view)


def _whole_first(plan: FloorPlan) -> Iterator[Piece]:
    """Heavier lines lie above lighter ones."""
    yield from sorted(plan.pieces, key=lambda piece: piece.sawn.kind != "whole")


def _piece(view: _View, piece: Piece) -> None:
    outline = piece.outline
    if view.shows(outline[0]):
        width = THIN if piece.sawn.kind == "whole" else CUT_LINE
        fill = LEFT_TINT if piece.board.hand == "L" else 1.0
        view.page.shape(tuple(map(view.ring, outline)), width, fill=fill)


def _name(view: _View, piece: Piece) -> None:
    """The piece's name along its board, as large as the board's width allows, never head down."""
    if not view.shows((piece.middle,)):
        return
    size = min(LARGEST_NAME, 0.7 * piece.board.width / view.scale * POINTS)
    length = max(piece.sawn.left, piece.sawn.right) / view.scale
    while size > SMALLEST_NAME and width_of(piece.id, size) > length:
        size -= 0.5
    turn = (piece.board.frame.angle + 90) % 180 - 90
    view.page.middle_text(view.spot(piece.middle), piece.id, round(size, 1), turn=turn)


def _scale_bar(view: _View) -> None:
    page, x, y = view.page, MARGIN, MARGIN + 2
    length = METRE / view.scale
    page.line([(x, y), (x + length, y)], THICK)
    for end in (x, x + length):
        page.line([(end, y - 1), (end, y + 1)])
    page.text((x + length + 2, y - 1), "1 m", PLAIN)
    words = WORDS.format(what=view.what, scale=view.scale)
    page.text((MARGIN, bottom_of_head(page.paper) + 4), words, 7.0)

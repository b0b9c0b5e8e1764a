"""A part of the room on a page, to a round scale, with a bar of one metre below it."""

from collections.abc import Iterator, Sequence
from math import ceil

from msgspec import Struct

from engine.geometry.shapes import Point, Ring
from engine.planning.floor_plan import FloorPlan
from engine.sheets.paper import Paper
from engine.sheets.pdf_page import THICK, Page
from engine.sheets.sheet_head import FOOT, MARGIN, PLAIN, bottom_of_head

# Round scales, most of them on a scale rule; what is to be seen takes the first one that fits.
SCALES = (5, 10, 20, 25, 30, 40, 50, 75, 100, 200, 500, 1000)
# Parts overlap by so much of the room, mm.
OVERLAP = 200.0
METRE = 1000.0
# Room for names about what is drawn, mm on paper.
AROUND = 7.0
# How far off its wall a wall's name stands, mm on paper.
NAME_OFF = 4.0
# The grey of what stands on the floor.
THING_TINT = 0.75

Box = tuple[float, float, float, float]


class View(Struct, frozen=True):
    """A page, the part of the room that it shows, its scale, and the page's box in whose middle it lies."""

    page: Page
    part: Box
    scale: float
    box: Box

    def spot(self, point: Point) -> Point:
        """Where a point of the room lies on the page."""
        (x, y), (left, low, right, high) = middle(self.box), self.part
        return (
            x + (point[0] - (left + right) / 2) / self.scale,
            y + (point[1] - (low + high) / 2) / self.scale,
        )

    def ring(self, ring: Sequence[Point]) -> Ring:
        """Where points of the room lie on the page."""
        return tuple(map(self.spot, ring))

    def shows(self, ring: Ring) -> bool:
        """Does any of it lie in the part shown, as far as boxes about it tell?"""
        left, low, right, high = box_about(ring)
        return left <= self.part[2] and right >= self.part[0] and low <= self.part[3] and high >= self.part[1]


def middle(box: Box) -> Point:
    """The middle of a box."""
    return (box[0] + box[2]) / 2, (box[1] + box[3]) / 2


def box_about(points: Sequence[Point]) -> Box:
    """Left, low, right and high of some points."""
    xs, ys = zip(*points, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def room_box(plan: FloorPlan) -> Box:
    """The box about the room."""
    return box_about([point for wall in plan.room.outline.walls for point in wall.points])


def drawing_box(paper: Paper, words: float = 0.0) -> Box:
    """What of a page is free for a drawing: between its head and its foot, with words above that."""
    return MARGIN, MARGIN + FOOT + words, paper.width - MARGIN, bottom_of_head(paper)


def fitted(part: Box, papers: Sequence[Paper], words: float = 0.0) -> View:
    """All of a part, on whichever paper shows it largest; below it room for words of some height."""
    return min((_fitted(part, paper, words) for paper in papers), key=lambda view: view.scale)


def _fitted(part: Box, paper: Paper, words: float) -> View:
    box = drawing_box(paper, words)
    return View(Page(paper), part, fitting_scale(part, box, AROUND), box)


def fitting_scale(part: Box, box: Box, around: float) -> int:
    """The first round scale at which a part of the room fits into a box, with room for names about it."""
    needed = least_scale(part, box, around)
    return next((scale for scale in SCALES if scale >= needed), ceil(needed))


def least_scale(part: Box, box: Box, around: float) -> float:
    """The scale at which a part of the room just fits into a box, so much left free about it."""
    across, up = box[2] - box[0] - 2 * around, box[3] - box[1] - 2 * around
    return max((part[2] - part[0]) / across, (part[3] - part[1]) / up)


def parts(room: Box, paper: Paper, scale: int) -> Iterator[tuple[View, str]]:
    """Sheets that show all of the room at a scale, from its lower left, and what each is called."""
    frame, box = AROUND * scale, drawing_box(paper)
    left, low, right, high = room[0] - frame, room[1] - frame, room[2] + frame, room[3] + frame
    width, height = (box[2] - box[0]) * scale, (box[3] - box[1]) * scale
    columns, rows = (_count(right - left, width), _count(high - low, height))
    for row in range(rows):
        for column in range(columns):
            x, y = left + column * (width - OVERLAP), low + row * (height - OVERLAP)
            what = f"Part {row * columns + column + 1} of {rows * columns}, from the lower left"
            yield View(Page(paper), (x, y, x + width, y + height), scale, box), what


def _count(length: float, part: float) -> int:
    return max(1, ceil((length - OVERLAP) / (part - OVERLAP)))


def draw_things(view: View, plan: FloorPlan) -> None:
    """What stands on the floor, dark grey."""
    for barrier in plan.room.barriers:
        if barrier.solid:
            view.page.shape((view.ring(barrier.points[:-1]),), THICK, fill=THING_TINT)


def draw_walls(view: View, plan: FloorPlan) -> None:
    """The walls, each with its name beside it."""
    for wall in plan.room.outline.walls:
        view.page.line(view.ring(wall.points), THICK)
        off = wall.curve.offset(wall.chord / 2) - NAME_OFF * view.scale
        view.page.middle_text(view.spot(wall.at(wall.chord / 2, off)), wall.name, PLAIN)


def draw_scale_bar(view: View) -> None:
    """One metre of the room, at the foot of the page."""
    page, x, y = view.page, MARGIN, MARGIN + 2
    length = METRE / view.scale
    page.line([(x, y), (x + length, y)], THICK)
    for end in (x, x + length):
        page.line([(end, y - 1), (end, y + 1)])
    page.text((x + length + 2, y - 1), "1 m", PLAIN)

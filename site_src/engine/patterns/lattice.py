"""A laying pattern as a lattice: a few boards in one cell, the cell repeated along rows and across them.

Everything a pattern can be asked for follows from its cell and its two
translations, so a new pattern only states those (METHODS: patterns as lattices).
"""

from collections.abc import Callable, Iterator, Sequence
from dataclasses import dataclass
from math import ceil, floor, hypot
from typing import Literal

from engine.geometry.frame import Frame
from engine.geometry.shapes import Point, Ring

Hand = Literal["L", "R"]


@dataclass(frozen=True, kw_only=True, slots=True)
class CellBoard:
    """One board of a cell, in the pattern's frame: the right-hand corner of its start end and its heading."""

    hand: Hand
    x: float
    y: float
    heading: float


@dataclass(frozen=True, kw_only=True, slots=True)
class Cell:
    """The boards of one cell and the translations to the next place in the row and to the next row."""

    boards: tuple[CellBoard, ...]
    next_place: Point
    next_row: Point


@dataclass(frozen=True, kw_only=True, slots=True)
class Pattern:
    """A laying pattern. ``turn`` is how far its frame is turned from the row axis, in degrees."""

    name: str
    turn: float
    cell: Callable[[float, float], Cell]


@dataclass(frozen=True, kw_only=True, slots=True)
class LaidBoard:
    """One board in the room. ``row`` and ``place`` count cells from the anchor, and may be negative."""

    row: int
    place: int
    hand: Hand
    frame: Frame
    length: float
    width: float

    @property
    def ring(self) -> Ring:
        """Outline in room coordinates, counter-clockwise from the right-hand corner of the start end."""
        corners = ((0.0, 0.0), (self.length, 0.0), (self.length, self.width), (0.0, self.width))
        return self.frame.ring_to_room(corners)


def pattern_frame(pattern: Pattern, axis: float, anchor: Point) -> Frame:
    """The frame in which the pattern's cell is stated, placed in the room."""
    return Frame(anchor[0], anchor[1], axis + pattern.turn)


def boards_over(
    pattern: Pattern, length: float, width: float, axis: float, anchor: Point, points: Sequence[Point]
) -> Iterator[LaidBoard]:
    """Every board that can reach the bounding box, along the lattice, of ``points`` in the room.

    Row by row, place by place; some boards at the rim lie outside.
    """
    cell = pattern.cell(length, width)
    frame = pattern_frame(pattern, axis, anchor)
    rows, places = _cells_over(cell, length, width, frame, points)
    for row in rows:
        for place in places:
            for board in cell.boards:
                yield _laid(board, cell, frame, row, place, length, width)


def boards_count(
    pattern: Pattern, length: float, width: float, axis: float, anchor: Point, points: Sequence[Point]
) -> int:
    """How many boards ``boards_over`` would give, without making them."""
    cell = pattern.cell(length, width)
    rows, places = _cells_over(cell, length, width, pattern_frame(pattern, axis, anchor), points)
    return len(rows) * len(places) * len(cell.boards)


def _cells_over(
    cell: Cell, length: float, width: float, frame: Frame, points: Sequence[Point]
) -> tuple[range, range]:
    """The rows and the places of the cells of which a board can reach the points' bounding box."""
    reach = hypot(length, width) + max(hypot(board.x, board.y) for board in cell.boards)
    inside = [frame.to_board(point) for point in points]
    rows = _indices(inside, cell.next_row, cell.next_place, reach)
    return rows, _indices(inside, cell.next_place, cell.next_row, reach)


def _indices(points: Sequence[Point], along: Point, other: Point, reach: float) -> range:
    """Multiples of ``along`` whose cells can hold one of the points, whatever the multiple of ``other``."""
    determinant = along[0] * other[1] - along[1] * other[0]
    values = [(x * other[1] - y * other[0]) / determinant for x, y in points]
    margin = reach * hypot(*other) / abs(determinant)
    return range(floor(min(values) - margin), ceil(max(values) + margin) + 1)


def _laid(
    board: CellBoard, cell: Cell, frame: Frame, row: int, place: int, length: float, width: float
) -> LaidBoard:
    x = board.x + row * cell.next_row[0] + place * cell.next_place[0]
    y = board.y + row * cell.next_row[1] + place * cell.next_place[1]
    at = frame.to_room((x, y))
    return LaidBoard(
        row=row,
        place=place,
        hand=board.hand,
        frame=Frame(at[0], at[1], frame.angle + board.heading),
        length=length,
        width=width,
    )

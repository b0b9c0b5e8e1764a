"""From a pattern's cell to boards in the room: the cell repeated along rows and across them."""

from collections.abc import Iterable, Iterator, Sequence
from math import ceil
from math import floor as whole

from engine.geometry.board import BoardSize
from engine.geometry.frame import Frame
from engine.geometry.plane import in_steps
from engine.geometry.shapes import Point, Ring
from engine.model.job import Floor
from engine.patterns.pattern import Cell, CellBoard, LaidBoard, Pattern


def pattern_frame(pattern: Pattern, floor: Floor) -> Frame:
    """The frame in which the pattern's cell is stated, placed in the room."""
    return Frame(floor.anchor[0], floor.anchor[1], floor.axis + pattern.turn)


def boards_over(pattern: Pattern, floor: Floor, points: Sequence[Point]) -> Iterator[LaidBoard]:
    """Every board that can reach the bounding box, along the lattice, of ``points`` in the room.

    Row by row, place by place; some boards at the rim lie outside.
    """
    cell, frame = pattern.cell(floor), pattern_frame(pattern, floor)
    rows, places = _cells_over(cell, floor, frame, points)
    return _laid(cell, floor, frame, rows, places)


def cell_boards(pattern: Pattern, floor: Floor, row: int, place: int = 0) -> tuple[LaidBoard, ...]:
    """The boards of one cell of a row; ``place`` counts cells, not boards."""
    frame = pattern_frame(pattern, floor)
    return tuple(_laid(pattern.cell(floor), floor, frame, (row,), (place,)))


def cell_corners(pattern: Pattern, floor: Floor) -> tuple[Point, ...]:
    """The corners of the boards of one cell, in the pattern's frame."""
    return tuple(corner for board in pattern.cell(floor).boards for corner in _corners(board, floor))


def boards_count(pattern: Pattern, floor: Floor, points: Sequence[Point]) -> int:
    """How many boards ``boards_over`` would give, without making them."""
    cell = pattern.cell(floor)
    rows, places = _cells_over(cell, floor, pattern_frame(pattern, floor), points)
    return len(rows) * len(places) * len(cell.boards)


def laying_order(pattern: Pattern, floor: Floor, boards: Iterable[LaidBoard]) -> tuple[LaidBoard, ...]:
    """The boards in the order in which they are laid: each locks into those before it."""
    return tuple(sorted(boards, key=lambda board: pattern.order(board, floor)))


def _laid(
    cell: Cell, floor: Floor, frame: Frame, rows: Iterable[int], places: Sequence[int]
) -> Iterator[LaidBoard]:
    is_handed = len({board.hand for board in cell.boards}) > 1
    makers = [(board, _size(board, floor), *_count(cell, index)) for index, board in enumerate(cell.boards)]
    for row in rows:
        shift = cell.shift(row) if cell.shift else 0.0
        for place in places:
            along = place + shift
            x = row * cell.next_row[0] + along * cell.next_place[0]
            y = row * cell.next_row[1] + along * cell.next_place[1]
            for board, size, count, before in makers:
                at = frame.to_room((board.x + x, board.y + y))
                yield LaidBoard(
                    row=row,
                    place=place * count + before,
                    hand=board.hand,
                    is_handed=is_handed,
                    frame=Frame(at[0], at[1], frame.angle + board.heading),
                    size=size,
                )


def _cells_over(cell: Cell, floor: Floor, frame: Frame, points: Sequence[Point]) -> tuple[range, range]:
    """The rows and the places of the cells of which a board can reach the points' bounding box."""
    ways = cell.next_row, cell.next_place
    asked = [in_steps(frame.to_board(point), *ways) for point in points]
    filled = [in_steps(corner, *ways) for board in cell.boards for corner in _corners(board, floor)]
    rows, places = (_indices([pair[way] for pair in asked], [pair[way] for pair in filled]) for way in (0, 1))
    # A row that is moved on may begin one place earlier.
    return rows, range(places.start - 1, places.stop) if cell.shift else places


def _indices(asked: Sequence[float], filled: Sequence[float]) -> range:
    """By how many whole cells what is filled can be moved and still meet what is asked for."""
    return range(ceil(min(asked) - max(filled)), whole(max(asked) - min(filled)) + 1)


def _corners(board: CellBoard, floor: Floor) -> Ring:
    return Frame(board.x, board.y, board.heading).ring_to_room(_size(board, floor).ring)


def _size(board: CellBoard, floor: Floor) -> BoardSize:
    return BoardSize(floor.board.length, floor.board.width, board.lean)


def _count(cell: Cell, index: int) -> tuple[int, int]:
    """How many boards of that one's hand a cell has, and how many of them come before it."""
    hands = [board.hand for board in cell.boards]
    return hands.count(hands[index]), hands[:index].count(hands[index])

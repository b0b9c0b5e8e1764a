"""Herringbone, for any board longer than it is wide; single, or with several strips side by side.

In a frame turned 45° back from the row axis, with b = strips × W, the right
boards of a cell cover [0, L] × [0, b] and the left boards [−b, 0] × [0, L], one
strip of W each; the first of both start at the frame's origin when there is one
strip. The next place is (b, b) on, along the row; the next row (L, −L), to the
right of the row axis.
"""

from collections.abc import Iterator
from math import sqrt

from engine.errors import Finding
from engine.model.job import Floor
from engine.patterns.pattern import Cell, CellBoard, Joint, LaidBoard, Pattern
from engine.units import number_text


def herringbone_cell(length: float, width: float, strips: int) -> Cell:
    """The cell of a board of that length and width in mm; its area is 2·strips·L·W."""
    block = strips * width
    left = (CellBoard(hand="L", x=(k + 1) * width - block, y=0.0, heading=90.0) for k in range(strips))
    right = (CellBoard(hand="R", x=0.0, y=k * width, heading=0.0) for k in range(strips))
    return Cell(boards=(*left, *right), next_place=(block, block), next_row=(length, -length))


def herringbone_order(board: LaidBoard, strips: int) -> tuple[int, ...]:
    """Place by place along the axis, in every row: the left boards first, then the right ones.

    One row after the other would leave boards that have to go in between two ends.
    """
    return board.place // strips, int(board.hand == "R"), board.row, board.place


def strips_faults(floor: Floor, strips: int) -> Iterator[Finding]:
    """No strips at all, or so many that they are wider than a board is long."""
    width, length = floor.board.width, floor.board.length
    if strips < 1:
        sentence = "A herringbone has one strip or more. Enter how many boards lie side by side."
        yield Finding(path="floor.strips", code="strips out of range", sentence=sentence)
    elif strips > 1 and strips * width > length:
        yield Finding(
            path="floor.strips",
            code="strips out of range",
            sentence=f"{strips} strips of {number_text(width, 1)} mm are wider than a board is long "
            f"({number_text(length, 1)} mm). Take at most {max(1, int(length // width))}.",
        )


def _on_axis(block: float) -> str:
    """A row reaches (L + b)/√2 to the left of its axis and L/√2 to the right of it."""
    return (
        "lie the points where left and right boards of a row meet; by eye the middle of the row is "
        f"{number_text(block / sqrt(8), 1)} mm to the left of them"
    )


JOINTS = (
    Joint(laid=("L", "right"), joins=("L", "left")),
    Joint(laid=("R", "left"), joins=("R", "right")),
    Joint(laid=("R", "left"), joins=("L", "start")),
    Joint(laid=("L", "right"), joins=("R", "start")),
    Joint(laid=("L", "far"), joins=("R", "right")),
    Joint(laid=("R", "far"), joins=("L", "left")),
)


def herringbone_of(name: str, usual: int) -> Pattern:
    """The herringbone with ``usual`` boards side by side where the job does not say how many."""

    def strips(floor: Floor) -> int:
        return usual if floor.strips is None else floor.strips

    return Pattern(
        name=name,
        turn=-45.0,
        cell=lambda floor: herringbone_cell(floor.board.length, floor.board.width, strips(floor)),
        joints=JOINTS,
        order=lambda board, floor: herringbone_order(board, strips(floor)),
        faults=lambda floor: strips_faults(floor, strips(floor)),
        uses=("strips",),
        laid="Place by place along the row axis, across all rows: "
        "the left boards of a place, then the right ones.",
        on_axis=lambda floor: _on_axis(floor.board.width * strips(floor)),
    )


PATTERN = herringbone_of("herringbone", 1)

"""Basket: squares of boards side by side, headed along the row and across it in turn.

A square is as wide as a board is long, so the length must be a whole number of
widths. A cell is a square along the row, [0, L] × [0, L], and the one across
beside it; each row is one square to the right of the one before, moved on by
half a cell. Boards are counted in the order in which they are laid.
"""

from collections.abc import Iterator

from engine.errors import Finding
from engine.model.job import Floor
from engine.patterns.pattern import Cell, CellBoard, Joint, LaidBoard, Pattern
from engine.units import number_text

# A misfit that is still lost in rounding, as a part of the board's length.
FIT = 1e-6


def _strips(floor: Floor) -> int:
    board = floor.board
    return max(1, round(board.length / board.width)) if floor.strips is None else floor.strips


def _cell(floor: Floor) -> Cell:
    strips, length, width = _strips(floor), floor.board.length, floor.board.width
    along = (CellBoard(hand="R", x=0.0, y=k * width, heading=0.0) for k in reversed(range(strips)))
    across = (CellBoard(hand="R", x=length + (k + 1) * width, y=0.0, heading=90.0) for k in range(strips))
    return Cell(
        boards=(*along, *across),
        next_place=(2 * length, 0.0),
        next_row=(0.0, -length),
        shift=lambda row: row % 2 / 2,
    )


def _order(board: LaidBoard, floor: Floor) -> tuple[int, ...]:
    """Row by row, and in a row as it is counted."""
    return board.row, board.place


def _faults(floor: Floor) -> Iterator[Finding]:
    strips, length, width = _strips(floor), floor.board.length, floor.board.width
    if strips < 1:
        sentence = "A basket's square has one board or more. Enter how many boards lie side by side."
        yield Finding(path="floor.strips", code="strips out of range", sentence=sentence)
    elif abs(strips * width - length) > FIT * length:
        yield Finding(
            path="floor.board" if floor.strips is None else "floor.strips",
            code="basket does not close",
            sentence=f"The squares of this basket do not close: {strips} boards of "
            f"{number_text(width, 1)} mm make {number_text(strips * width, 1)} mm, the board is "
            f"{number_text(length, 1)} mm long. Take boards {number_text(strips * width, 1)} mm long, or "
            f"{number_text(length / strips, 4)} mm wide, or another number of boards side by side.",
        )


PATTERN = Pattern(
    name="basket",
    turn=0.0,
    cell=_cell,
    joints=(
        Joint(laid=("R", "right"), joins=("R", "left")),
        Joint(laid=("R", "start"), joins=("R", "left")),
        Joint(laid=("R", "far"), joins=("R", "left")),
        Joint(laid=("R", "right"), joins=("R", "start")),
        Joint(laid=("R", "right"), joins=("R", "far")),
    ),
    order=_order,
    faults=_faults,
    uses=("strips",),
    laid="Row by row, square by square, the boards of a square one after the other.",
    on_axis=lambda floor: "lies the joint between two rows of squares",
)

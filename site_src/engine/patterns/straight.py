"""Straight: boards end to end in rows along the axis, each row moved on against the one before.

The first board covers [0, L] × [0, W]; the next row lies to the right of the
row axis. A fixed stagger is a lattice, a random-looking one is not: there each
row is moved along itself, which neither opens nor closes anything.
"""

from engine.model.job import Floor
from engine.patterns.pattern import Cell, CellBoard, Joint, LaidBoard, Pattern
from engine.patterns.stagger import row_shift, stagger_faults


def straight_cell(floor: Floor) -> Cell:
    """One board; its area is L·W."""
    return Cell(
        boards=(CellBoard(hand="R", x=0.0, y=0.0, heading=0.0),),
        next_place=(floor.board.length, 0.0),
        next_row=(0.0, -floor.board.width),
        shift=row_shift(floor),
    )


def row_by_row(board: LaidBoard, floor: Floor) -> tuple[int, ...]:
    """Each row from its start on, then the next one to its right."""
    return board.row, board.place


JOINTS = (
    Joint(laid=("R", "far"), joins=("R", "start")),
    Joint(laid=("R", "right"), joins=("R", "left")),
)

LAID = "Row by row; the next row lies to the right of the one before."


def on_axis(floor: Floor) -> str:
    """Rows lie to either side of it."""
    return "lies the long joint between two rows"


PATTERN = Pattern(
    name="straight",
    turn=0.0,
    cell=straight_cell,
    joints=JOINTS,
    order=row_by_row,
    faults=stagger_faults,
    uses=("stagger",),
    laid=LAID,
    on_axis=on_axis,
)

"""Chevron: boards whose ends are cut at one angle from square meet end to end along straight spines.

In a frame whose y axis is the row axis, a right board heads ``angle`` above the
x axis from the spine x = 0, a left board is its mirror image; both end on the
spines x = ±C. With C = L·cos angle and P = W / cos angle the next place is (0, P)
on and the next row (2C, 0), to the right of the row axis.
"""

from collections.abc import Iterator
from math import cos, radians, tan

from engine.errors import Finding
from engine.model.job import Floor
from engine.patterns.pattern import Cell, CellBoard, Joint, LaidBoard, Pattern
from engine.units import number_text

# Common practice has 30° and 45°; outside of this the boards would be all end or all board, degrees.
LEAST_ANGLE, USUAL_ANGLE, MOST_ANGLE = 5.0, 45.0, 80.0


def _angle(floor: Floor) -> float:
    return USUAL_ANGLE if floor.angle is None else floor.angle


def _cell(floor: Floor) -> Cell:
    angle, length, width = _angle(floor), floor.board.length, floor.board.width
    column, place = length * cos(radians(angle)), width / cos(radians(angle))
    lean = width * tan(radians(angle))
    return Cell(
        boards=(
            CellBoard(hand="L", x=0.0, y=place, heading=180.0 - angle, lean=-lean),
            CellBoard(hand="R", x=0.0, y=0.0, heading=angle, lean=lean),
        ),
        next_place=(0.0, place),
        next_row=(2 * column, 0.0),
    )


def _order(board: LaidBoard, floor: Floor) -> tuple[int, ...]:
    """Place by place along the axis, across all rows."""
    return board.place, board.row, int(board.hand == "R")


def _faults(floor: Floor) -> Iterator[Finding]:
    if not LEAST_ANGLE <= _angle(floor) <= MOST_ANGLE:
        least, most = number_text(LEAST_ANGLE, 0), number_text(MOST_ANGLE, 0)
        yield Finding(
            path="floor.angle",
            code="angle out of range",
            sentence=f"The ends of a chevron's boards are cut between {least}° and {most}° from square, "
            f"not {number_text(_angle(floor), 1)}°. Measure it on a board; 30° and 45° are usual.",
        )


PATTERN = Pattern(
    name="chevron",
    turn=-90.0,
    cell=_cell,
    joints=(
        Joint(laid=("R", "left"), joins=("R", "right")),
        Joint(laid=("L", "right"), joins=("L", "left")),
        Joint(laid=("L", "start"), joins=("R", "start")),
        Joint(laid=("R", "far"), joins=("L", "far")),
    ),
    order=_order,
    faults=_faults,
    uses=("angle",),
    laid="Place by place along the row axis, across all rows, left and right boards in turn.",
    on_axis=lambda floor: "lies the middle of a row, where its left and right boards meet",
)

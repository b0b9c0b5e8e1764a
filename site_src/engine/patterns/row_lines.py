"""Which way the rows of a pattern run, how far apart they are, and which parallels its boards touch."""

from math import atan2, ceil, degrees, hypot

from msgspec import Struct

from engine.geometry.shapes import Point
from engine.model.job import Floor
from engine.patterns.lattice import cell_corners, pattern_frame
from engine.patterns.pattern import LaidBoard, Pattern

# Parallels nearer than this to the row axis tell little more than the axis itself, mm.
FAR_ENOUGH = 400.0
# Board corners this near to a line, as a part of the way between two rows, lie on it.
ON_LINE = 1e-6


class RowLines(Struct, frozen=True, kw_only=True):
    """``direction`` of the rows in the room in degrees, ``pitch`` from row to row in mm.

    ``parallel`` is how far from the row axis the lines lie that boards touch next: half a row where
    corners of boards meet there (herringbone, chevron), else whole rows.
    """

    direction: float
    pitch: float
    parallel: float


def row_lines(pattern: Pattern, floor: Floor) -> RowLines:
    """The lines of the pattern's rows. Raises as ``pattern.cell`` does for floors with faults."""
    cell = pattern.cell(floor)
    (ux, uy), (rx, ry) = cell.next_place, cell.next_row
    along = hypot(ux, uy)
    pitch = abs(ux * ry - uy * rx) / along
    besides = [(ux * y - uy * x) / along / pitch for x, y in cell_corners(pattern, floor)]
    # A corner half a row away shows that boards meet there, whichever row they belong to.
    has_half = any(abs(beside % 1 - 0.5) < ON_LINE for beside in besides)
    return RowLines(
        direction=pattern_frame(pattern, floor).angle + degrees(atan2(uy, ux)),
        pitch=pitch,
        parallel=pitch / 2 if has_half else pitch * ceil(FAR_ENOUGH / pitch),
    )


def cell_of(pattern: Pattern, floor: Floor, board: LaidBoard) -> tuple[int, int]:
    """Row and place of the cell a board belongs to; ``place`` of a board counts those of one hand."""
    count = sum(each.hand == board.hand for each in pattern.cell(floor).boards)
    return board.row, board.place // count


def cell_point(pattern: Pattern, floor: Floor, row: int, place: int) -> Point:
    """Where the first boards of a cell meet, in the room; that of row 0, place 0 is the anchor."""
    cell, frame = pattern.cell(floor), pattern_frame(pattern, floor)
    along = place + (cell.shift(row) if cell.shift else 0.0)
    (row_x, row_y), (place_x, place_y) = cell.next_row, cell.next_place
    return frame.to_room((row * row_x + along * place_x, row * row_y + along * place_y))

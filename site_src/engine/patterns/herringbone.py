"""Single herringbone, for any board longer than it is wide.

In a frame turned 45° back from the row axis, a right board covers
[0, L] × [0, W] and a left board [−W, 0] × [0, L]; both start at the frame's
origin. The next place is (W, W) on, along the row; the next row (L, −L), to the
right of the row axis.
"""

from engine.patterns.lattice import Cell, CellBoard, Pattern


def herringbone_cell(length: float, width: float) -> Cell:
    """The cell of a board of that length and width in mm; its area is 2·L·W."""
    return Cell(
        boards=(
            CellBoard(hand="R", x=0.0, y=0.0, heading=0.0),
            CellBoard(hand="L", x=0.0, y=0.0, heading=90.0),
        ),
        next_place=(width, width),
        next_row=(length, -length),
    )


PATTERN = Pattern(name="herringbone", turn=-45.0, cell=herringbone_cell)

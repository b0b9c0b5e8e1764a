"""Double herringbone: a herringbone of boards two by two, or more where the job says so."""

from engine.model.job import Floor
from engine.patterns.herringbone import JOINTS, herringbone_cell, herringbone_order, strips_faults
from engine.patterns.pattern import Pattern


def _strips(floor: Floor) -> int:
    return 2 if floor.strips is None else floor.strips


PATTERN = Pattern(
    name="double herringbone",
    turn=-45.0,
    cell=lambda floor: herringbone_cell(floor.board.length, floor.board.width, _strips(floor)),
    joints=JOINTS,
    order=lambda board, floor: herringbone_order(board, _strips(floor)),
    faults=lambda floor: strips_faults(floor, _strips(floor)),
    uses=("strips",),
)

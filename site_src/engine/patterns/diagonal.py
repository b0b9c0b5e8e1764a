"""Diagonal: straight rows turned by 45° to the left against the axis."""

from engine.patterns.pattern import Pattern
from engine.patterns.stagger import stagger_faults
from engine.patterns.straight import JOINTS, LAID, on_axis, row_by_row, straight_cell

PATTERN = Pattern(
    name="diagonal",
    turn=45.0,
    cell=straight_cell,
    joints=JOINTS,
    order=row_by_row,
    faults=stagger_faults,
    uses=("stagger",),
    laid=LAID,
    on_axis=on_axis,
)

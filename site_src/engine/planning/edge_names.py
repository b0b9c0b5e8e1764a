"""What the edges of a board are called where it is marked: on its back left and right change places."""

from engine.geometry.board import Side
from engine.model.job import Cutting

_TURNED_OVER: dict[Side, Side] = {"left": "right", "right": "left", "start": "start", "far": "far"}


def is_on_back(cutting: Cutting) -> bool:
    """Are boards marked on their backs?"""
    return cutting.marked_on == "back"


def as_marked(side: Side, cutting: Cutting) -> Side:
    """The name that a side bears where the board is marked; the other way round it is the same."""
    return _TURNED_OVER[side] if is_on_back(cutting) else side

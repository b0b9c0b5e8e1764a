"""What a piece, its board and its ends are called, and how its points are measured."""

from typing import Literal

from engine.cutting.cuts import Kind
from engine.geometry.board import side_lengths
from engine.geometry.shapes import Point
from engine.geometry.tolerances import ON_EDGE
from engine.model.job import Cutting
from engine.patterns.pattern import LaidBoard
from engine.planning.edge_names import as_marked, is_on_back
from engine.planning.pieces import Piece

KIND_TEXT: dict[Kind, str] = {
    "whole": "whole board",
    "crosscut": "crosscut",
    "mitre": "mitre",
    "corner": "corner cut",
    "rip": "rip",
    "taper": "taper rip",
    "notch": "notch",
    "hole": "hole",
    "scribe": "scribe",
}
LongSide = Literal["left", "right"]
HAND_TEXT = {"L": "left", "R": "right"}
END_TEXT = {"start": "start end", "far": "far end"}


def board_text(board: LaidBoard) -> str:
    """What to take: a left or a right board, or just a board where there is one kind only."""
    return f"{HAND_TEXT[board.hand]} board" if board.is_handed else "board"


def measured_end(piece: Piece) -> Literal["start", "far"]:
    """The end of the board from which its lengths and marks are read: the one that stays, or stays wider."""
    ends = side_lengths(piece.sawn.outline[0], piece.board.size)
    return "far" if ends["far"] > ends["start"] + ON_EDGE else "start"


def as_measured(piece: Piece, point: Point, cutting: Cutting) -> Point:
    """A point of the board's frame as it is measured: along it from that end, across from the right edge.

    That is the edge called so where the board is marked.
    """
    along = piece.board.size.along(point)
    across = piece.board.width - point[1] if is_on_back(cutting) else point[1]
    return (piece.board.length - along if measured_end(piece) == "far" else along, across)


def sides_as_marked(cutting: Cutting) -> tuple[LongSide, LongSide]:
    """The long edges, first the one that is called the left one where the board is marked."""
    return ("right", "left") if is_on_back(cutting) else ("left", "right")


def side_name(side: LongSide, cutting: Cutting) -> str:
    """A long edge's name before its length, which says so when it is seen from the back."""
    return f"{as_marked(side, cutting)} on the back" if is_on_back(cutting) else side

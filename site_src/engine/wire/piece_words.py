"""What a piece, its board and its ends are called, and how its points are measured."""

from typing import Literal

from engine.cutting.cuts import Kind
from engine.geometry.board import side_lengths
from engine.geometry.shapes import Point
from engine.geometry.tolerances import ON_EDGE
from engine.patterns.pattern import LaidBoard
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
HAND_TEXT = {"L": "left", "R": "right"}
END_TEXT = {"start": "start end", "far": "far end"}


def board_text(board: LaidBoard) -> str:
    """What to take: a left or a right board, or just a board where there is one kind only."""
    return f"{HAND_TEXT[board.hand]} board" if board.is_handed else "board"


def measured_end(piece: Piece) -> Literal["start", "far"]:
    """The end of the board from which its lengths and marks are read: the one that stays, or stays wider."""
    ends = side_lengths(piece.sawn.outline[0], piece.board.size)
    return "far" if ends["far"] > ends["start"] + ON_EDGE else "start"


def as_measured(piece: Piece, point: Point) -> Point:
    """A point of the board's frame as it is measured: along it from that end, across from the right edge."""
    along = piece.board.size.along(point)
    return (piece.board.length - along if measured_end(piece) == "far" else along, point[1])

"""What a laying pattern is made of: the one record that a pattern's file fills in.

A pattern states one cell of boards and how the cell repeats; which edges meet,
and which of the two is laid first; and the order of laying. Whatever else a
floor needs follows from these (METHODS: patterns as lattices).
"""

from collections.abc import Callable, Iterator
from typing import Literal

from msgspec import Struct

from engine.errors import Finding
from engine.geometry.board import BoardSize, Side
from engine.geometry.frame import Frame
from engine.geometry.shapes import Point, Ring
from engine.model.job import Floor

Hand = Literal["L", "R"]
Edge = tuple[Hand, Side]


class CellBoard(Struct, frozen=True, kw_only=True):
    """One board of a cell, in the pattern's frame: the right-hand corner of its start end and its heading.

    ``lean`` is how far its left long edge is moved on against the right one; 0 with square ends.
    """

    hand: Hand
    x: float
    y: float
    heading: float
    lean: float = 0.0


class Cell(Struct, frozen=True, kw_only=True):
    """The boards of one cell and the translations to the next place in the row and to the next row.

    Boards of one hand stand in the order of their places. ``shift`` gives how
    far a whole row is moved on along itself, as a part of the way to the next
    place, from 0 to below 1; a pattern with it need not be a lattice.
    """

    boards: tuple[CellBoard, ...]
    next_place: Point
    next_row: Point
    shift: Callable[[int], float] | None = None


class LaidBoard(Struct, frozen=True, kw_only=True):
    """One board in the room. ``row`` and ``place`` count from the anchor, and may be negative.

    ``place`` counts the boards of one hand along the row. ``is_handed``: the
    pattern has boards of either hand, so that one cannot be taken for the other.
    """

    row: int
    place: int
    hand: Hand
    is_handed: bool
    frame: Frame
    size: BoardSize

    @property
    def length(self) -> float:
        """Length of a long edge in mm."""
        return self.size.length

    @property
    def width(self) -> float:
        """Width in mm."""
        return self.size.width

    @property
    def ring(self) -> Ring:
        """Outline in room coordinates, counter-clockwise from the right-hand corner of the start end."""
        return self.frame.ring_to_room(self.size.ring)


class Joint(Struct, frozen=True, kw_only=True):
    """Two edges that meet in a pattern: ``joins`` belongs to the board that is laid later."""

    laid: Edge
    joins: Edge


def _no_faults(floor: Floor) -> Iterator[Finding]:
    return iter(())


def _nothing_told(floor: Floor) -> str:
    return ""


class Pattern(Struct, frozen=True, kw_only=True):
    """A laying pattern. ``turn`` is how far its frame is turned from the row axis, in degrees.

    ``cell`` is asked only for floors in which ``faults`` finds nothing.
    ``joints`` are all the ways in which edges meet. ``order`` gives a key:
    boards are laid from the least on, and each then locks with one long edge
    and one end at most into those laid before. ``uses`` names the fields of
    the floor that only some patterns take; ``laid`` tells the order in a
    sentence, ``on_axis`` what of the boards lies on the axis of a row, verb first.
    """

    name: str
    turn: float
    cell: Callable[[Floor], Cell]
    joints: tuple[Joint, ...]
    order: Callable[[LaidBoard, Floor], tuple[int, ...]]
    faults: Callable[[Floor], Iterator[Finding]] = _no_faults
    uses: tuple[str, ...] = ()
    laid: str = ""
    on_axis: Callable[[Floor], str] = _nothing_told

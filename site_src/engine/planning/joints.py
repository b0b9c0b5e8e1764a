"""Which edges of its board a piece must keep so that it locks, and which pieces must be glued instead.

A pattern's joints say which edges meet and which of the two is laid first. An
edge that a cut has left too short to lock loses its tongue or the lip of its
groove, and is glued (``glue_ups``: to what, and how it is cut then).
"""

from msgspec import Struct

from engine.geometry.board import Side, side_lengths
from engine.patterns.pattern import Pattern
from engine.planning.pieces import Piece

SIDES: tuple[Side, ...] = ("left", "right", "start", "far")
# A shorter stretch of tongue and groove does not hold, mm (common practice, no source).
LEAST_LOCK = 10.0
# A shorter one is not there at all, mm.
LEAST_EDGE = 1.0


class PieceJoints(Struct, frozen=True, kw_only=True):
    """What is left of a piece's edges.

    ``keeps`` lock; of these ``laid_into`` lock into boards laid before,
    ``takes`` into those laid after. ``lost`` are too short to lock, with what
    is left of them in mm.
    """

    keeps: tuple[Side, ...]
    laid_into: tuple[Side, ...]
    takes: tuple[Side, ...]
    lost: dict[Side, float]

    @property
    def must_be_glued(self) -> bool:
        """Does nothing of it lock?"""
        return not self.keeps


def piece_joints(piece: Piece, pattern: Pattern) -> PieceJoints:
    """The edges of a piece that lock, and how."""
    lengths = side_lengths(piece.sawn.outline[0], piece.board.size)
    hand = piece.board.hand
    joins = {joint.joins[1] for joint in pattern.joints if joint.joins[0] == hand}
    laid = {joint.laid[1] for joint in pattern.joints if joint.laid[0] == hand}
    keeps = tuple(side for side in SIDES if lengths[side] >= LEAST_LOCK)
    return PieceJoints(
        keeps=keeps,
        laid_into=tuple(side for side in keeps if side in joins),
        takes=tuple(side for side in keeps if side in laid),
        lost={side: lengths[side] for side in SIDES if LEAST_EDGE <= lengths[side] < LEAST_LOCK},
    )

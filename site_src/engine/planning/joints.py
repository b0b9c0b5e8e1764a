"""Which edges of its board a piece must keep so that it locks, and which pieces must be glued instead.

A pattern's joints say which edges meet and which of the two is laid first. An
edge that a cut has left too short to lock loses its tongue or the lip of its
groove, and is glued; a piece that keeps no edge that locks, or is a sliver, is
glued to the neighbour with which it shares most, before the cut: one blank, one
cut for all.
"""

from collections.abc import Iterable, Mapping, Sequence
from dataclasses import dataclass

from engine.geometry.board import Side, side_lengths
from engine.patterns.pattern import Pattern
from engine.planning.neighbours import Neighbour, neighbours
from engine.planning.pieces import Piece

SIDES: tuple[Side, ...] = ("left", "right", "start", "far")
# A shorter stretch of tongue and groove does not hold, mm (common practice, no source).
LEAST_LOCK = 10.0
# A shorter one is not there at all, mm.
LEAST_EDGE = 1.0


@dataclass(frozen=True, kw_only=True, slots=True)
class PieceJoints:
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


@dataclass(frozen=True, kw_only=True, slots=True)
class GlueUp:
    """Pieces to be glued to one blank before they are cut, the largest first; ``along`` is what cuts them."""

    pieces: tuple[str, ...]
    along: tuple[str, ...]


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


def glue_ups(pieces: Sequence[Piece], joints: Mapping[str, PieceJoints]) -> tuple[GlueUp, ...]:
    """Which small pieces to join to which neighbours; a piece that may be left out is not asked for."""
    small = [
        piece
        for piece in pieces
        if (piece.is_sliver or joints[piece.id].must_be_glued) and not piece.can_be_left_out
    ]
    to = {piece.id: name for piece, beside in neighbours(small, pieces) if (name := _most_shared(beside))}
    by_id = {piece.id: piece for piece in pieces}
    groups: dict[str, list[str]] = {}
    for name in sorted(to):
        groups.setdefault(_end_of(name, to), []).append(name)
    return tuple(_glue_up(by_id[end], [by_id[name] for name in names]) for end, names in groups.items())


def _end_of(name: str, to: Mapping[str, str]) -> str:
    """The piece that a chain of small pieces hangs on; of a ring of them the first by name."""
    seen = [name]
    while seen[-1] in to and to[seen[-1]] not in seen:
        seen.append(to[seen[-1]])
    return min(seen) if seen[-1] in to else seen[-1]


def _glue_up(end: Piece, others: Sequence[Piece]) -> GlueUp:
    together = [end, *(piece for piece in others if piece.id != end.id)]
    names = [cut.barrier.name for piece in together for cut in piece.sawn.cuts]
    return GlueUp(pieces=tuple(piece.id for piece in together), along=tuple(dict.fromkeys(names)))


def _most_shared(beside: Iterable[Neighbour]) -> str | None:
    """The neighbour with which a piece shares most of its edges, if it has any."""
    shared: dict[str, float] = {}
    for each in beside:
        shared[each.piece.id] = shared.get(each.piece.id, 0.0) + each.shared
    return max(shared, key=lambda name: (shared[name], name), default=None)

"""Which edges of its board a piece must keep so that it locks, and which pieces must be glued instead.

A pattern's joints say which edges meet and which of the two is laid first. An
edge that a cut has left too short to lock loses its tongue or the lip of its
groove, and is glued; a piece that keeps no edge that locks, or is a sliver, is
glued to the neighbour with which it shares most, before the cut: one blank, one
cut for all.
"""

from collections.abc import Iterator, Mapping, Sequence
from dataclasses import dataclass
from math import hypot

from engine.geometry.board import Side, side_lengths
from engine.geometry.shapes import Point
from engine.patterns.pattern import Pattern
from engine.planning.pieces import Piece

SIDES: tuple[Side, ...] = ("left", "right", "start", "far")
# A shorter stretch of tongue and groove does not hold, mm (common practice, no source).
LEAST_LOCK = 10.0
# A shorter one is not there at all, mm.
LEAST_EDGE = 1.0
# Edges of two pieces that lie this near to each other are one joint, mm.
TOGETHER = 0.5


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
    boxes = [_box(piece) for piece in pieces]
    to = {piece.id: name for piece in small if (name := _neighbour(piece, pieces, boxes))}
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


Box = tuple[float, float, float, float]


def _box(piece: Piece) -> Box:
    xs, ys = [x for x, _ in piece.ideal[0]], [y for _, y in piece.ideal[0]]
    return min(xs) - TOGETHER, min(ys) - TOGETHER, max(xs) + TOGETHER, max(ys) + TOGETHER


def _neighbour(piece: Piece, pieces: Sequence[Piece], boxes: Sequence[Box]) -> str | None:
    """The piece that shares most of its edges, if any does."""
    own = _box(piece)
    shared = [
        (_shared(piece, other), other.id)
        for other, box in zip(pieces, boxes, strict=True)
        if other is not piece and _touch(own, box)
    ]
    most = max(shared, default=(0.0, ""), key=lambda each: (each[0], each[1]))
    return most[1] if most[0] > LEAST_EDGE else None


def _touch(a: Box, b: Box) -> bool:
    return a[0] <= b[2] and b[0] <= a[2] and a[1] <= b[3] and b[1] <= a[3]


def _shared(piece: Piece, other: Piece) -> float:
    """How much of their edges runs along each other, in mm."""
    return sum(_along(edge, against) for edge in _edges(piece) for against in _edges(other))


def _edges(piece: Piece) -> Iterator[tuple[Point, Point]]:
    ring = piece.ideal[0]
    return zip(ring, ring[1:] + ring[:1], strict=True)


def _along(edge: tuple[Point, Point], other: tuple[Point, Point]) -> float:
    """The length by which two edges that run against each other overlap."""
    (ax, ay), (bx, by) = edge
    length = hypot(bx - ax, by - ay)
    if length < LEAST_EDGE:
        return 0.0
    x, y = (bx - ax) / length, (by - ay) / length
    if any(abs(x * (v - ay) - y * (u - ax)) > TOGETHER for u, v in other):
        return 0.0
    ends = sorted(x * (u - ax) + y * (v - ay) for u, v in other)
    return max(0.0, min(length, ends[1]) - max(0.0, ends[0]))

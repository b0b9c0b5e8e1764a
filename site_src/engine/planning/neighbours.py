"""Which pieces lie against which edge of a piece: what one looks for on the floor before it is put down."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise

from msgspec import Struct

from engine.geometry.board import Side
from engine.geometry.segment_grid import Box
from engine.geometry.shapes import Point, Ring
from engine.planning.pieces import Piece

# Joints of a floor that was taken as it lies may stand open by so much, mm.
OPEN = 2.5
# Edges that share less than this only touch at a corner, mm.
SHARED = 1.0
# An edge that leaves the line faster than one in so many crosses it and does not lie along it.
STEEP = 10.0
SIDES: tuple[Side, ...] = ("right", "far", "left", "start")


class Neighbour(Struct, frozen=True, kw_only=True):
    """A piece that lies against the ``side`` of another, with ``shared`` mm of their edges."""

    side: Side
    piece: Piece
    shared: float


def neighbours(of: Iterable[Piece], pieces: Sequence[Piece]) -> Iterator[tuple[Piece, tuple[Neighbour, ...]]]:
    """For each piece of ``of`` its neighbours among ``pieces``, side by side from the right edge on."""
    boxes = [(_box(piece.ideal[0]), piece) for piece in pieces]
    for piece in of:
        box = _box(piece.ideal[0])
        near = [other for other_box, other in boxes if other is not piece and _meet(box, other_box)]
        yield piece, tuple(_beside(piece, near))


def _beside(piece: Piece, near: Sequence[Piece]) -> Iterator[Neighbour]:
    frame, corners = piece.board.frame, piece.board.size.ring
    own = frame.ring_to_board(piece.ideal[0])
    rings = [(other, frame.ring_to_board(other.ideal[0])) for other in near]
    for number, side in enumerate(SIDES):
        start, end = corners[number], corners[(number + 1) % 4]
        edges = _along(own, start, end, 1.0)
        for other, ring in rings:
            shared = _shared(edges, _along(ring, start, end, -1.0))
            if shared > SHARED:
                yield Neighbour(side=side, piece=other, shared=shared)


def _along(ring: Ring, start: Point, end: Point, way: float) -> list[tuple[float, float]]:
    """The edges of a ring on the line from start to end, each from where to where along it.

    ``way`` is 1 for edges that run as the line does, −1 for those that come to meet it.
    """
    length = ((end[0] - start[0]) ** 2 + (end[1] - start[1]) ** 2) ** 0.5
    dx, dy = (end[0] - start[0]) / length, (end[1] - start[1]) / length
    found = []
    for a, b in pairwise((*ring, ring[0])):
        off = [dx * (y - start[1]) - dy * (x - start[0]) for x, y in (a, b)]
        if max(abs(value) for value in off) > OPEN:
            continue
        first, last = (dx * (x - start[0]) + dy * (y - start[1]) for x, y in (a, b))
        if way * (last - first) > STEEP * abs(off[1] - off[0]):
            found.append((min(first, last), max(first, last)))
    return found


def _shared(own: Sequence[tuple[float, float]], others: Sequence[tuple[float, float]]) -> float:
    return sum(max(0.0, min(b, d) - max(a, c)) for a, b in own for c, d in others)


def _box(ring: Ring) -> Box:
    xs, ys = [x for x, _ in ring], [y for _, y in ring]
    return min(xs) - OPEN, min(ys) - OPEN, max(xs) + OPEN, max(ys) + OPEN


def _meet(one: Box, other: Box) -> bool:
    return one[0] <= other[2] and other[0] <= one[2] and one[1] <= other[3] and other[1] <= one[3]

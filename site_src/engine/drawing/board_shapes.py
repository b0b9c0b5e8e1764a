"""A board face up with its heading, tongues and grooves: in the hand, laid first, where a cut piece goes.

Places in the room, or wherever ``place`` puts the board's own frame, in mm.
"""

from collections.abc import Callable, Iterable, Iterator, Mapping, Sequence
from math import dist

from msgspec import Struct

from engine.geometry.board import BoardSize, Side
from engine.geometry.shapes import Point, Polygon, Ring
from engine.model.job import Floor
from engine.patterns import find_pattern
from engine.patterns.edge_roles import Role, edge_roles
from engine.patterns.pattern import Edge, Hand
from engine.planning.pieces import Piece

# A tongue sticks out, and a groove lies in, by this part of the width; drawn larger than it is.
LIP = 0.12
# Tongues and grooves are drawn over this middle part of their edge.
OVER = 0.92
# The arrow of the heading as parts of the length, its head as a part of the width.
ARROW, HEAD = (0.3, 0.7), 0.22
# An edge shorter than this locks nothing, mm.
LEAST = 2.0

Line = tuple[Point, ...]
Place = Callable[[Point], Point]
Roles = Mapping[Edge, Role]
SideEdge = tuple[Side, Point, Point]
_SIDES: tuple[Side, ...] = ("right", "far", "left", "start")


class BoardShape(Struct, frozen=True, kw_only=True):
    """``tongues`` stick out of the edges that go in, ``grooves`` are lines inside those that take.

    ``arrow`` runs along the heading: shaft, then head. ``name_at`` is where its name stands.
    """

    hand: Hand
    outline: Polygon
    tongues: tuple[Ring, ...]
    grooves: tuple[Line, ...]
    arrow: tuple[Line, Line]
    name_at: Point


def board_shape(hand: Hand, size: BoardSize, place: Place, roles: Roles) -> BoardShape:
    """A whole board put into the picture by ``place``, which keeps lengths and hands."""
    tail, tip = (part * size.length + size.lean / 2 for part in ARROW)
    tongues, grooves = _lips(_whole_edges(size), hand, size, place, roles)
    return BoardShape(
        hand=hand,
        outline=(_placed(size.ring, place),),
        tongues=tongues,
        grooves=grooves,
        arrow=_arrow((tail, size.width / 2), tip - tail, HEAD * size.width, place),
        # Behind the arrow's tail.
        name_at=place((ARROW[0] / 2 * size.length + size.lean / 2, size.width / 2)),
    )


def piece_shape(piece: Piece, floor: Floor) -> BoardShape:
    """A cut piece where it lies, with the tongues and grooves that the saw leaves it."""
    roles = edge_roles(find_pattern(floor.pattern))
    hand, size, place = piece.board.hand, piece.board.size, piece.board.frame.to_room
    tongues, grooves = _lips(tuple(_left_edges(piece)), hand, size, place, roles)
    x, y = piece.board.frame.to_board(piece.middle)
    length = (ARROW[1] - ARROW[0]) * max(piece.sawn.left, piece.sawn.right, size.width)
    return BoardShape(
        hand=hand,
        outline=piece.outline,
        tongues=tongues,
        grooves=grooves,
        arrow=_arrow((x - length / 2, y), length, HEAD * size.width, place),
        name_at=piece.middle,
    )


def _whole_edges(size: BoardSize) -> tuple[SideEdge, ...]:
    ring = size.ring
    return tuple((side, ring[at], ring[(at + 1) % 4]) for at, side in enumerate(_SIDES))


def _left_edges(piece: Piece) -> Iterator[SideEdge]:
    """What the saw leaves of the board's own edges, in its frame."""
    for ring in piece.sawn.outline:
        for start, end in zip(ring, ring[1:] + ring[:1], strict=True):
            side = piece.board.size.edge_side(start, end)
            if side is not None and dist(start, end) >= LEAST:
                yield side, start, end


def _lips(
    edges: Sequence[SideEdge], hand: Hand, size: BoardSize, place: Place, roles: Roles
) -> tuple[tuple[Ring, ...], tuple[Line, ...]]:
    """The tongues and the grooves of a board."""

    def drawn(shape: Callable[[SideEdge, float], Line], role: Role) -> tuple[Line, ...]:
        own = (edge for edge in edges if roles.get((hand, edge[0])) == role)
        return tuple(_placed(shape(edge, LIP * size.width), place) for edge in own)

    return drawn(_tongue, "goes in"), drawn(_groove, "takes")


def _placed(points: Iterable[Point], place: Place) -> Line:
    return tuple(place(point) for point in points)


def _middle_part(edge: SideEdge, lip: float) -> tuple[Point, Point, Point]:
    """The middle part of an edge, and the way out of the board there, as long as a lip is wide."""
    _, (ax, ay), (bx, by) = edge
    dx, dy, trim = bx - ax, by - ay, (1 - OVER) / 2
    # Outward is to the right of an edge that runs counter-clockwise.
    part = lip / dist((ax, ay), (bx, by))
    return (ax + trim * dx, ay + trim * dy), (bx - trim * dx, by - trim * dy), (dy * part, -dx * part)


def _tongue(edge: SideEdge, lip: float) -> Line:
    a, b, out = _middle_part(edge, lip)
    return a, (a[0] + out[0], a[1] + out[1]), (b[0] + out[0], b[1] + out[1]), b


def _groove(edge: SideEdge, lip: float) -> Line:
    a, b, out = _middle_part(edge, lip)
    return (a[0] - out[0], a[1] - out[1]), (b[0] - out[0], b[1] - out[1])


def _arrow(tail: Point, length: float, head: float, place: Place) -> tuple[Line, Line]:
    """An arrow along the board's frame."""
    x, y = tail[0] + length, tail[1]
    tip = ((x - head, y + head), (x, y), (x - head, y - head))
    return _placed((tail, (x, y)), place), _placed(tip, place)

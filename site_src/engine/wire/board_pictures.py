"""A board face up with its heading, tongues and grooves: in the hand, and where it is laid first."""

from collections.abc import Callable, Iterable, Iterator, Mapping

from engine.drawing.paths import line_path, ring_path, spot
from engine.geometry.board import BoardSize, Side
from engine.geometry.shapes import Point
from engine.patterns.edge_roles import Role
from engine.patterns.pattern import Edge, Hand
from engine.wire.drawings import Label
from engine.wire.setting_out_drawings import BoardPicture

# A tongue sticks out, and a groove lies in, by this part of the width; drawn larger than it is.
LIP = 0.12
# Tongues and grooves are drawn over this middle part of their edge.
OVER = 0.92
# The arrow of the heading as parts of the length, its head as a part of the width.
ARROW, HEAD = (0.3, 0.7), 0.22

Place = Callable[[Point], Point]
_CORNERS: dict[Side, tuple[int, int]] = {"right": (0, 1), "far": (1, 2), "left": (2, 3), "start": (3, 0)}


def board_picture(
    hand: Hand,
    size: BoardSize,
    place: Place,
    roles: Mapping[Edge, Role],
    name: str,
    labels: tuple[Label, ...] = (),
) -> BoardPicture:
    """The board put into the picture by ``place``, which keeps lengths and hands."""
    return BoardPicture(
        hand=hand,
        name=name,
        path=ring_path(_placed(size.ring, place)),
        goes_in="".join(
            ring_path(_placed(_tongue(size, side), place)) for side in sides_of(roles, hand, "goes in")
        ),
        takes="".join(
            line_path(_placed(_groove(size, side), place)) for side in sides_of(roles, hand, "takes")
        ),
        heading="".join(line_path(_placed(line, place)) for line in _arrow(size)),
        labels=labels,
    )


def sides_of(roles: Mapping[Edge, Role], hand: Hand, role: Role) -> tuple[Side, ...]:
    """The sides of a hand that have a role, long edges first."""
    return tuple(side for side in ("left", "right", "start", "far") if roles.get((hand, side)) == role)


def middle_label(size: BoardSize, place: Place, text: str) -> Label:
    """A text in the middle of the board, beside the arrow's tail."""
    part = ARROW[0] / 2
    return Label(text=text, at=spot(place((part * size.length + size.lean / 2, size.width / 2))))


def _placed(points: Iterable[Point], place: Place) -> tuple[Point, ...]:
    return tuple(place(point) for point in points)


def _edge(size: BoardSize, side: Side) -> tuple[Point, Point, Point]:
    """The middle part of an edge, and the way out of the board there, as long as a lip is wide."""
    (ax, ay), (bx, by) = (size.ring[corner] for corner in _CORNERS[side])
    dx, dy, trim = bx - ax, by - ay, (1 - OVER) / 2
    length = (dx * dx + dy * dy) ** 0.5
    # Outward is to the right of an edge that runs counter-clockwise.
    out = (dy / length * LIP * size.width, -dx / length * LIP * size.width)
    return (ax + trim * dx, ay + trim * dy), (bx - trim * dx, by - trim * dy), out


def _tongue(size: BoardSize, side: Side) -> tuple[Point, ...]:
    a, b, out = _edge(size, side)
    return a, (a[0] + out[0], a[1] + out[1]), (b[0] + out[0], b[1] + out[1]), b


def _groove(size: BoardSize, side: Side) -> tuple[Point, ...]:
    a, b, out = _edge(size, side)
    return (a[0] - out[0], a[1] - out[1]), (b[0] - out[0], b[1] - out[1])


def _arrow(size: BoardSize) -> Iterator[tuple[Point, ...]]:
    y, lean, head = size.width / 2, size.lean / 2, HEAD * size.width
    tail, tip = (part * size.length + lean for part in ARROW)
    yield (tail, y), (tip, y)
    yield (tip - head, y + head), (tip, y), (tip - head, y - head)

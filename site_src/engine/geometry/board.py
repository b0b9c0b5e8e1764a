"""A board in its own frame, shared by those who lay it and those who cut it.

The start end begins at the frame's origin, the right long edge lies on y = 0 and
the left long edge on y = W; the board heads along x. The ends are square, or lean:
a chevron's board is a parallelogram, its left long edge moved on by ``lean``.
"""

from math import dist, hypot
from typing import Literal

from msgspec import Struct
from msgspec.structs import force_setattr

from engine.geometry.shapes import Point, Ring
from engine.geometry.tolerances import ON_EDGE

Side = Literal["right", "far", "left", "start"]


class BoardSize(Struct, frozen=True):
    """Length of a long edge, width and lean of a whole board in mm."""

    length: float
    width: float
    lean: float = 0.0
    # Worked out once: the ends' slope, and as far along the board as ``ON_EDGE`` is square to an end.
    _slope: float = 0.0
    _near: float = 0.0

    def __post_init__(self) -> None:
        force_setattr(self, "_slope", self.lean / self.width)
        force_setattr(self, "_near", ON_EDGE * self.end / self.width)

    @property
    def ring(self) -> Ring:
        """The whole board in its own frame, counter-clockwise."""
        lean, length, width = self.lean, self.length, self.width
        return ((0.0, 0.0), (length, 0.0), (length + lean, width), (lean, width))

    @property
    def end(self) -> float:
        """Length of either end."""
        return hypot(self.width, self.lean)

    def along(self, point: Point) -> float:
        """How far a point lies from the start end, measured along the board."""
        return point[0] - self._slope * point[1]

    def holds(self, point: Point, margin: float) -> bool:
        """Does a point lie in the board, or outside it by no more than a margin?"""
        along = self.along(point)
        return -margin <= point[1] <= self.width + margin and -margin <= along <= self.length + margin

    def side_of(self, point: Point) -> Side | None:
        """The side a point lies on, or None inside the board; at a corner either of the two."""
        along, square = self.along(point), ON_EDGE / self._near
        distances: dict[Side, float] = {
            "right": abs(point[1]),
            "far": abs(along - self.length) * square,
            "left": abs(point[1] - self.width),
            "start": abs(along) * square,
        }
        side = min(distances, key=lambda name: distances[name])
        return side if distances[side] <= ON_EDGE else None

    def edge_side(self, start: Point, end: Point) -> Side | None:
        """The side along which an edge runs, or None for an edge made by a cut."""
        if abs(start[1]) <= ON_EDGE and abs(end[1]) <= ON_EDGE:
            return "right"
        if abs(start[1] - self.width) <= ON_EDGE and abs(end[1] - self.width) <= ON_EDGE:
            return "left"
        near = self._near
        along = start[0] - self._slope * start[1]
        if abs(along) <= near:
            return "start" if abs(self.along(end)) <= near else None
        if abs(along - self.length) <= near:
            return "far" if abs(self.along(end) - self.length) <= near else None
        return None

    def walk(self, start: Point, end: Point) -> tuple[Point, ...]:
        """The board's corners passed when going counter-clockwise along its rim from one point to another."""
        rim = 2 * (self.length + self.end)
        first, last = self._rim_position(start), self._rim_position(end)
        if last <= first:
            last += rim
        positions = (0.0, self.length, self.length + self.end, 2 * self.length + self.end)
        corners = zip(positions + tuple(position + rim for position in positions), self.ring * 2, strict=True)
        return tuple(corner for position, corner in corners if first + ON_EDGE < position < last - ON_EDGE)

    def _rim_position(self, point: Point) -> float:
        up = point[1] * self.end / self.width
        match self.side_of(point):
            case "right":
                return point[0]
            case "far":
                return self.length + up
            case "left":
                return 2 * self.length + self.end - self.along(point)
            case "start":
                return 2 * (self.length + self.end) - up
            case None:
                raise ValueError(f"{point} does not lie on the rim of the board")


def side_lengths(ring: Ring, size: BoardSize) -> dict[Side, float]:
    """How much of each side of the board is left on a ring, in mm."""
    lengths: dict[Side, float] = {"right": 0.0, "far": 0.0, "left": 0.0, "start": 0.0}
    for start, end in zip(ring, ring[1:] + ring[:1], strict=True):
        side = size.edge_side(start, end)
        if side is not None:
            lengths[side] += dist(start, end)
    return lengths

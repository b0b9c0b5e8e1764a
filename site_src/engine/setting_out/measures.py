"""How large a piece is: what decides whether it may lie along an edge that matters."""

from typing import Protocol

from msgspec import Struct

from engine.geometry.board import BoardSize
from engine.geometry.frame import Frame
from engine.geometry.hull import convex_hull, least_width
from engine.geometry.shapes import Polygon, Ring, polygon_area
from engine.model.setting_out import Measure

# Nearer to a long edge than this is on it, mm: the overlay's grid seen through turns. A wall that runs into
# a board at 0.1 degrees seems to leave 0.02 mm more of the edge by it; by 0.002 mm, as for cutting, 1 mm.
ON = 2e-5


def a_millimetre(measure: Measure, width: float) -> float:
    """What a millimetre is by a measure, of boards so wide: for areas, of a triangle as wide as a board."""
    return width if measure == "area" else 1.0


class Placed(Protocol):
    """A board where it lies in the room."""

    @property
    def frame(self) -> Frame:
        """Where its start end begins and where it heads."""

    @property
    def size(self) -> BoardSize:
        """Its measures."""


class Sizes(Struct, frozen=True):
    """The greater and the lesser length of long edge that a piece keeps (mm), and its area (mm²).

    A triangle has lost one of its long edges, so its short side is 0.
    """

    long_point: float
    short_side: float
    area: float

    def by(self, measure: Measure) -> float:
        """The size by one measure."""
        return float(getattr(self, measure))

    def least(self, other: "Sizes") -> "Sizes":
        """The smaller of two by each measure on its own."""
        return Sizes(
            min(self.long_point, other.long_point),
            min(self.short_side, other.short_side),
            min(self.area, other.area),
        )


def sizes_of(part: Polygon, board: Placed) -> Sizes:
    """The sizes of a part of a board; ``part`` in room coordinates."""
    ring = board.frame.ring_to_board(part[0])
    right, left = (_kept(ring, edge) for edge in (0.0, board.size.width))
    return Sizes(max(left, right), min(left, right), polygon_area(part))


def _kept(ring: Ring, edge: float) -> float:
    """How much of a long edge a ring keeps, in mm, to its last point on it."""
    sides = zip(ring, ring[1:] + ring[:1], strict=True)
    return sum(abs(b[0] - a[0]) for a, b in sides if abs(a[1] - edge) <= ON and abs(b[1] - edge) <= ON)


def too_small(part: Polygon, board: Placed, limit: float) -> bool:
    """Too narrow or too short to hold without glue, as in the list of pieces; ``limit`` in mm."""
    width = least_width(convex_hull(board.frame.ring_to_board(part[0])))
    return min(width, sizes_of(part, board).long_point) < limit

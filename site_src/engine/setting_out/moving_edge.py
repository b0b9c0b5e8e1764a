"""How a range of phases moves any board past an edge of the floor."""

from typing import NamedTuple

from msgspec import Struct

from engine.geometry.shapes import Point
from engine.setting_out.edge_line import EdgeLine
from engine.setting_out.phase import PhaseCell


class Reach(NamedTuple):
    """A range of phases: its middle, and how far it reaches to either side, as parts of a cell."""

    along: float
    across: float
    half_along: float
    half_across: float


class Move(NamedTuple):
    """How a range of phases moves any point in an edge's frame.

    By (``x``, ``y``) for its middle, from there by up to ``along`` along the edge, ``up``
    across it, and by up to ``rise`` in its height over the edge; all mm.
    """

    x: float
    y: float
    along: float
    up: float
    rise: float


class MovingEdge(Struct, frozen=True):
    """An edge of the floor, and how the two phases move a board along and across it (mm a whole cell)."""

    line: EdgeLine
    place: Point
    row: Point

    def move(self, reach: Reach) -> Move:
        """How a range of phases moves a board past this edge."""
        (place_x, place_y), (row_x, row_y) = self.place, self.row
        u, v, a, b = reach
        least, most = self.line.slopes
        by_place, by_row = self.rises((least + most) / 2)
        along = a * abs(place_x) + b * abs(row_x)
        rise = a * abs(by_place) + b * abs(by_row) + (most - least) / 2 * along
        up = a * abs(place_y) + b * abs(row_y)
        return Move(u * place_x + v * row_x, u * place_y + v * row_y, along, up, rise)

    def rises(self, slope: float) -> tuple[float, float]:
        """By how much a board rises over the edge where that has a slope, a whole cell along and across."""
        return self.place[1] - slope * self.place[0], self.row[1] - slope * self.row[0]


def moving_edge(line: EdgeLine, cell: PhaseCell) -> MovingEdge:
    """The edge as the pattern of a cell moves past it."""
    x, y = line.frame.x, line.frame.y
    place, row = (line.frame.to_board((x + way[0], y + way[1])) for way in (cell.place, cell.row))
    return MovingEdge(line, place, row)

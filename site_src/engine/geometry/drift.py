"""How a laid pattern lies against its plan: shifted, turned, and drawn out along and across its rows."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import degrees, radians

from engine.geometry.frame import Frame, cos_sin
from engine.geometry.shapes import Point


@dataclass(frozen=True, kw_only=True, slots=True)
class Drift:
    """Where the boards lie that were meant to lie elsewhere.

    ``about`` is a point of the planned pattern in room mm and ``axis`` the
    heading of its row axis in degrees. There the pattern lies ``ahead`` mm
    along the axis and ``left`` mm to the left of it, turned by ``turn`` degrees
    counter-clockwise; from there on it gains ``creep_along`` and
    ``creep_across`` mm for each mm along and across the rows. Boards keep their
    measures: only their middles move apart.
    """

    about: Point
    axis: float
    ahead: float = 0.0
    left: float = 0.0
    turn: float = 0.0
    creep_along: float = 0.0
    creep_across: float = 0.0

    @property
    def values(self) -> tuple[float, float, float, float, float]:
        """Ahead and left in mm, the turn in radians, creep along and across in mm for each mm."""
        return self.ahead, self.left, radians(self.turn), self.creep_along, self.creep_across

    def with_values(self, values: Sequence[float]) -> "Drift":
        """The same pattern with other values, in the order of ``values``."""
        ahead, left, turn, along, across = values
        return Drift(
            about=self.about,
            axis=self.axis,
            ahead=ahead,
            left=left,
            turn=degrees(turn),
            creep_along=along,
            creep_across=across,
        )

    @property
    def _planned(self) -> Frame:
        return Frame(self.about[0], self.about[1], self.axis)

    @property
    def _laid(self) -> Frame:
        x, y = self._planned.to_room((self.ahead, self.left))
        return Frame(x, y, self.axis + self.turn)

    def moved(self, point: Point) -> Point:
        """Where a point of the planned pattern lies, were boards to stretch as the pattern does."""
        u, v = self._planned.to_board(point)
        return self._laid.to_room((u * (1 + self.creep_along), v * (1 + self.creep_across)))

    def planned(self, point: Point) -> Point:
        """The point of the plan that lies at ``point``: the way back from ``moved``."""
        u, v = self._laid.to_board(point)
        return self._planned.to_room((u / (1 + self.creep_along), v / (1 + self.creep_across)))

    def moved_with(self, middle: Point, point: Point) -> Point:
        """Where a point of the board with that middle lies: the board moves as a stiff whole."""
        cosine, sine = cos_sin(self.turn)
        (x, y), (u, v) = self.moved(middle), (point[0] - middle[0], point[1] - middle[1])
        return x + cosine * u - sine * v, y + sine * u + cosine * v

    def moved_frame(self, middle: Point, frame: Frame) -> Frame:
        """The frame of the board with that middle, where it lies."""
        x, y = self.moved_with(middle, (frame.x, frame.y))
        return Frame(x, y, frame.angle + self.turn)

    def slopes(self, middle: Point, point: Point) -> tuple[Point, Point, Point, Point, Point]:
        """How a point of a board moves in the room with each of the ``values``."""
        (shift_x, shift_y), (x_way, y_way) = cos_sin(self.axis), cos_sin(self.axis + self.turn)
        (u, v), (x, y) = self._planned.to_board(middle), self.moved_with(middle, point)
        laid = self._laid
        return (
            (shift_x, shift_y),
            (-shift_y, shift_x),
            (laid.y - y, x - laid.x),
            (u * x_way, u * y_way),
            (-v * y_way, v * x_way),
        )

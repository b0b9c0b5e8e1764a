"""How a laid pattern lies against its plan: shifted, turned, and drawn out along and across its rows."""

from collections.abc import Sequence
from itertools import pairwise
from math import degrees, radians
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from engine.geometry.frame import Frame, cos_sin
from engine.geometry.shapes import Point, Ring

Way = Literal["along", "across"]


class CreepChange(Struct, frozen=True, kw_only=True):
    """From ``at`` mm on the pattern gains ``by`` more mm for each mm.

    ``way`` is along or across the rows; ``at`` counts in the plan, from the drift's ``about``.
    """

    way: Way
    at: float
    by: float = 0.0


class Drift(Struct, frozen=True, kw_only=True):
    """Where the boards lie that were meant to lie elsewhere.

    ``about`` is a point of the planned pattern in room mm and ``axis`` the
    heading of its row axis in degrees. There the pattern lies ``ahead`` mm
    along the axis and ``left`` mm to the left of it, turned by ``turn`` degrees
    counter-clockwise; from there on it gains ``creep_along`` and
    ``creep_across`` mm for each mm along and across the rows, and from a
    ``change`` on more or less. Boards keep their measures: only their middles
    move apart.
    """

    about: Point
    axis: float
    ahead: float = 0.0
    left: float = 0.0
    turn: float = 0.0
    creep_along: float = 0.0
    creep_across: float = 0.0
    change: CreepChange | None = None

    @property
    def values(self) -> tuple[float, ...]:
        """Ahead and left in mm, turn in radians, creep along and across in mm for each mm; its change."""
        changed = () if self.change is None else (self.change.by,)
        return self.ahead, self.left, radians(self.turn), self.creep_along, self.creep_across, *changed

    def with_values(self, values: Sequence[float]) -> "Drift":
        """The same pattern with other values, in the order of ``values``."""
        ahead, left, turn, along, across, *changed = values
        return Drift(
            about=self.about,
            axis=self.axis,
            ahead=ahead,
            left=left,
            turn=degrees(turn),
            creep_along=along,
            creep_across=across,
            change=replace(self.change, by=changed[0]) if self.change else None,
        )

    def creep(self, way: Way) -> float:
        """What it gains along or across the rows before any change, mm for each mm."""
        return self.creep_along if way == "along" else self.creep_across

    def creep_at(self, point: Point) -> tuple[float, float]:
        """The same at a point of the plan, along and across, any change that lies before it counted."""
        own = self._planned.to_board(point)
        change = self.change
        more = change.by if change and self._beyond(own, change) > 0 else 0.0
        along = more if change and change.way == "along" else 0.0
        return self.creep_along + along, self.creep_across + more - along

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
        more_u, more_v = self._gained(u, v)
        u, v = u * (1 + self.creep_along) + more_u, v * (1 + self.creep_across) + more_v
        return self._laid.to_room((u, v))

    def planned(self, point: Point) -> Point:
        """The point of the plan that lies at ``point``: the way back from ``moved``."""
        u, v = self._laid.to_board(point)
        along, across = (self.change if self.change and self.change.way == way else None for way in WAYS)
        planned = _before(u, self.creep_along, along), _before(v, self.creep_across, across)
        return self._planned.to_room(planned)

    def split(self, ring: Ring) -> Ring:
        """A ring of the plan with points where the creep changes: between them ``moved`` is straight."""
        change = self.change
        if change is None:
            return ring
        beyond = [self._beyond(self._planned.to_board(point), change) for point in ring]
        points: list[Point] = []
        for ((ax, ay), (bx, by)), (here, there) in zip(
            pairwise((*ring, ring[0])), pairwise((*beyond, beyond[0])), strict=True
        ):
            points.append((ax, ay))
            if here * there < 0:
                share = here / (here - there)
                points.append((ax + share * (bx - ax), ay + share * (by - ay)))
        return tuple(points)

    def moved_with(self, middle: Point, point: Point) -> Point:
        """Where a point of the board with that middle lies: the board moves as a stiff whole."""
        cosine, sine = cos_sin(self.turn)
        (x, y), (u, v) = self.moved(middle), (point[0] - middle[0], point[1] - middle[1])
        return x + cosine * u - sine * v, y + sine * u + cosine * v

    def moved_frame(self, middle: Point, frame: Frame) -> Frame:
        """The frame of the board with that middle, where it lies."""
        x, y = self.moved_with(middle, (frame.x, frame.y))
        return Frame(x, y, frame.angle + self.turn)

    def slopes(self, middle: Point, point: Point) -> tuple[Point, ...]:
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
            *self._slope_of_change((u, v), (x_way, y_way)),
        )

    def _slope_of_change(self, own: Point, way: Point) -> tuple[Point, ...]:
        if self.change is None:
            return ()
        beyond = max(self._beyond(own, self.change), 0.0)
        x, y = way if self.change.way == "along" else (-way[1], way[0])
        return ((beyond * x, beyond * y),)

    def _gained(self, u: float, v: float) -> Point:
        """What a change of the creep adds at a planned point, along and across."""
        if self.change is None:
            return 0.0, 0.0
        more = self.change.by * max(self._beyond((u, v), self.change), 0.0)
        return (more, 0.0) if self.change.way == "along" else (0.0, more)

    @staticmethod
    def _beyond(own: Point, change: CreepChange) -> float:
        return (own[0] if change.way == "along" else own[1]) - change.at


WAYS: tuple[Way, Way] = ("along", "across")


def _before(drawn: float, creep: float, change: CreepChange | None) -> float:
    """The planned length that creep drew out to ``drawn``."""
    if change is None or drawn <= change.at * (1 + creep):
        return drawn / (1 + creep)
    return change.at + (drawn - change.at * (1 + creep)) / (1 + creep + change.by)

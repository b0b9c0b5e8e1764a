"""The frame of a board: where it lies in the room, and back."""

from collections.abc import Iterable
from math import cos, radians, sin

from msgspec import Struct
from msgspec.structs import force_setattr

from engine.geometry.shapes import Point, Ring

_QUARTERS = {0.0: (1.0, 0.0), 90.0: (0.0, 1.0), 180.0: (-1.0, 0.0), 270.0: (0.0, -1.0)}


def cos_sin(angle: float) -> tuple[float, float]:
    """Give cosine and sine of an angle in degrees, exact at quarter turns."""
    whole = angle % 360.0
    return _QUARTERS.get(whole) or (cos(radians(whole)), sin(radians(whole)))


class Frame(Struct, frozen=True):
    """A place (x, y) in room mm and the direction of the frame's x axis in degrees counter-clockwise."""

    x: float
    y: float
    angle: float
    # Cosine and sine of the angle, worked out once: boards and pieces are turned by the thousand.
    _turn: tuple[float, float] = (1.0, 0.0)

    def __post_init__(self) -> None:
        force_setattr(self, "_turn", cos_sin(self.angle))

    def to_room(self, point: Point) -> Point:
        """Bring a point of this frame into the room."""
        cosine, sine = self._turn
        u, v = point
        return self.x + cosine * u - sine * v, self.y + sine * u + cosine * v

    def to_board(self, point: Point) -> Point:
        """Bring a point of the room into this frame."""
        cosine, sine = self._turn
        u, v = point[0] - self.x, point[1] - self.y
        return cosine * u + sine * v, cosine * v - sine * u

    def ring_to_room(self, ring: Iterable[Point]) -> Ring:
        """Bring a ring of this frame into the room."""
        # As ``to_room``, without a call for each of many thousand points.
        (cosine, sine), x, y = self._turn, self.x, self.y
        return tuple([(x + cosine * u - sine * v, y + sine * u + cosine * v) for u, v in ring])

    def ring_to_board(self, ring: Iterable[Point]) -> Ring:
        """Bring a ring of the room into this frame."""
        # As ``to_board``, without a call for each of many thousand points.
        (cosine, sine), x, y = self._turn, self.x, self.y
        from_here = [(u - x, v - y) for u, v in ring]
        return tuple([(cosine * u + sine * v, cosine * v - sine * u) for u, v in from_here])

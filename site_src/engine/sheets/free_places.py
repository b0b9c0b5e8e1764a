"""Where a short text can stand on a drawing, on no line and no other text. Millimetres on paper."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import pairwise
from math import cos, radians, sin

from msgspec import Struct

from engine.geometry.shapes import Point, Ring
from engine.sheets.pdf_text import POINTS, width_of

# So far a text stays off whatever else there is.
CLEAR = 0.4

_Box = tuple[float, float, float, float]
_Shape = tuple[_Box, Sequence[Point]]


class TextPlace(Struct, frozen=True, kw_only=True):
    """A text with its middle on ``at``; ``size`` in points, ``turn`` in degrees counter-clockwise."""

    at: Point
    text: str
    size: float
    turn: float = 0.0

    @property
    def box(self) -> Ring:
        """The box about it, a little larger than its letters."""
        half, up = width_of(self.text, self.size) / 2 + CLEAR, self.size / POINTS / 2
        (x, y), cosine, sine = self.at, cos(radians(self.turn)), sin(radians(self.turn))
        corners = ((-half, -up), (half, -up), (half, up), (-half, up))
        return tuple((x + a * cosine - b * sine, y + a * sine + b * cosine) for a, b in corners)


class Taken:
    """What of a drawing is taken: lines and convex shapes, and whatever is put between them."""

    def __init__(self, lines: Iterable[Sequence[Point]] = (), shapes: Iterable[Ring] = ()) -> None:
        self._shapes: list[_Shape] = []
        for shape in (*(part for line in lines for part in pairwise(line)), *shapes):
            self._take(shape)

    def put(self, places: Iterable[TextPlace]) -> TextPlace | None:
        """The first of some places that is free, which then is taken; None where none is."""
        for place in places:
            box = place.box
            around = _around(box)
            if not any(_may_overlap(around, other) and _overlap(box, shape) for other, shape in self._shapes):
                self._take(box)
                return place
        return None

    def _take(self, shape: Sequence[Point]) -> None:
        self._shapes.append((_around(shape), shape))


def _around(shape: Sequence[Point]) -> _Box:
    xs, ys = zip(*shape, strict=True)
    return min(xs), min(ys), max(xs), max(ys)


def _may_overlap(one: _Box, other: _Box) -> bool:
    """Do the boxes about two shapes overlap? Asked first, for it is quick."""
    return one[0] <= other[2] and other[0] <= one[2] and one[1] <= other[3] and other[1] <= one[3]


def _overlap(one: Sequence[Point], other: Sequence[Point]) -> bool:
    """Do two convex shapes overlap? Not when a line along an edge of either parts them."""
    for nx, ny in (*_normals(one), *_normals(other)):
        first = [x * nx + y * ny for x, y in one]
        second = [x * nx + y * ny for x, y in other]
        if max(first) <= min(second) or max(second) <= min(first):
            return False
    return True


def _normals(shape: Sequence[Point]) -> Iterator[Point]:
    for (ax, ay), (bx, by) in zip(shape, (*shape[1:], shape[0]), strict=True):
        yield by - ay, ax - bx

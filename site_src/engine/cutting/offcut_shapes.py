"""What a piece takes of a board: where on the board it may lie, and how near another piece may come.

Two pieces from one board are parted by a straight cut along an edge of one of
them, with all of the other beyond it by the spacing (kerf and allowance). So
mitred ends nest, and what is asked of a notch or a curve is its convex hull.
Pieces move along the board only: a long edge stays a long edge.
"""

from collections.abc import Iterator, Sequence
from math import hypot

from msgspec import Struct

from engine.geometry.board import BoardSize, Side, side_lengths
from engine.geometry.hull import convex_hull
from engine.geometry.shapes import Polygon, Ring, signed_area

# A corner this near to an end of the board lies on it, mm.
AT_END = 0.01
# Lengths that agree to this fit each other, mm: far above rounding, far below a saw.
FIT = 1e-6
# The direction of an edge shorter than this is noise, mm.
SHORTEST = 0.01
# Heights across the board, as a part of its width, at which lengths are added up.
HEIGHTS = (0.0, 0.5, 1.0)
SIDES: tuple[Side, ...] = ("left", "right", "start", "far")


class Edge(Struct, frozen=True, kw_only=True):
    """A side of a convex piece: unit normal pointing out of it, and how far the piece reaches that way."""

    x: float
    y: float
    reach: float

    def beyond(self, ring: Ring) -> tuple[float, float]:
        """The least and the greatest distance beyond its line of a ring's points; negative on this side."""
        distances = [self.x * x + self.y * y - self.reach for x, y in ring]
        return min(distances), max(distances)


class PieceShape(Struct, frozen=True, kw_only=True):
    """One piece as a convex ring in the frame of its own board, mm.

    ``kept`` are the board's edges that stay on it, ``starts`` and ``fars`` from
    where to where across the board it has those ends. ``slide`` are the least
    and the greatest way it may be moved along the board: 0 both when it keeps
    an end. ``slices`` are its lengths along the board at ``HEIGHTS``, None
    where it does not reach.
    """

    name: str
    hull: Ring
    edges: tuple[Edge, ...]
    kept: tuple[Side, ...]
    starts: tuple[float, float] | None
    fars: tuple[float, float] | None
    slide: tuple[float, float]
    area: float
    x: tuple[float, float]
    y: tuple[float, float]
    slices: tuple[float | None, ...]

    @property
    def is_fixed(self) -> bool:
        """Does it keep an end of the board?"""
        return self.starts is not None or self.fars is not None


def piece_shape(name: str, outline: Polygon, size: BoardSize, allowance: float = 0.0) -> PieceShape:
    """What a piece takes of its board; ``outline`` in that board's frame.

    A piece that keeps no end stays off both by the ``allowance``, where the board is long enough.
    """
    hull = convex_hull(outline[0])
    lengths = side_lengths(outline[0], size)
    kept = tuple(side for side in SIDES if lengths[side] > 0)
    along = [size.along(point) for point in hull]
    is_fixed = "start" in kept or "far" in kept
    return PieceShape(
        name=name,
        hull=hull,
        edges=tuple(sorted(_edges(hull), key=_direction)),
        kept=kept,
        starts=_end(hull, along, 0.0) if "start" in kept else None,
        fars=_end(hull, along, size.length) if "far" in kept else None,
        slide=(0.0, 0.0) if is_fixed else _slide(along, size.length, allowance),
        area=signed_area(hull),
        x=(min(x for x, _ in hull), max(x for x, _ in hull)),
        y=(min(y for _, y in hull), max(y for _, y in hull)),
        slices=tuple(_slice(hull, part * size.width) for part in HEIGHTS),
    )


def _direction(edge: Edge) -> tuple[float, float]:
    """Noise in the last digit must not choose which edge comes first."""
    return round(edge.x, 5), round(edge.y, 5)


def _slide(along: Sequence[float], length: float, allowance: float) -> tuple[float, float]:
    least, most = allowance - min(along), length - allowance - max(along)
    return (least, most) if least <= most else ((least + most) / 2, (least + most) / 2)


def _edges(hull: Ring) -> Iterator[Edge]:
    for (ax, ay), (bx, by) in zip(hull, hull[1:] + hull[:1], strict=True):
        length = hypot(bx - ax, by - ay)
        if length >= SHORTEST:
            x, y = (by - ay) / length, (ax - bx) / length
            yield Edge(x=x, y=y, reach=max(x * u + y * v for u, v in hull))


def _end(hull: Ring, along: list[float], place: float) -> tuple[float, float]:
    """From where to where across the board a piece reaches one of its ends."""
    heights = [point[1] for point, at in zip(hull, along, strict=True) if abs(at - place) < AT_END]
    return (min(heights), max(heights)) if heights else (0.0, 0.0)


def _slice(hull: Ring, height: float) -> float | None:
    """The length of a convex ring on a line along the board; None where the line misses it."""
    crossings: list[float] = []
    for (ax, ay), (bx, by) in zip(hull, hull[1:] + hull[:1], strict=True):
        a, b = ay - height, by - height
        if abs(a) < FIT:
            crossings.append(ax)
        elif a * b < 0 and abs(b) >= FIT:
            crossings.append(ax + a / (a - b) * (bx - ax))
    return max(crossings) - min(crossings) if crossings else None


class Nesting:
    """Boards of one size and how near two pieces of one board may come; what was worked out is kept."""

    def __init__(self, size: BoardSize, spacing: float) -> None:
        self.size = size
        self.spacing = spacing
        self._apart: dict[tuple[str, str], bool] = {}
        self._stretches: dict[tuple[str, str], tuple[float, float] | None] = {}

    def forbidden(self, first: PieceShape, second: PieceShape) -> tuple[float, float] | None:
        """The open stretch in which ``second``, moved along the board against ``first``, comes too near.

        None when they pass each other side by side, as the two halves of a ripped board do.
        """
        names = (first.name, second.name)
        if names not in self._stretches:
            self._stretches[names] = _forbidden(first, second, self.spacing)
        return self._stretches[names]

    def are_apart(self, first: PieceShape, second: PieceShape) -> bool:
        """Can two pieces that stay where they are on the board be parted by one straight cut?"""
        names = (first.name, second.name)
        if names not in self._apart:
            self._apart[names] = self._find_apart(first, second)
        return self._apart[names]

    def _find_apart(self, first: PieceShape, second: PieceShape) -> bool:
        if first.x[1] + self.spacing <= second.x[0] or second.x[1] + self.spacing <= first.x[0]:
            return True
        if self.are_too_long((first, second)):
            return False
        stretch = self.forbidden(first, second)
        return stretch is None or not stretch[0] + FIT < 0 < stretch[1] - FIT

    def lengths(self, piece: PieceShape) -> tuple[float, ...]:
        """What a piece takes of each line along a board, with the spacing; 0 where the line misses it."""
        return tuple([0.0 if at is None else at + self.spacing for at in piece.slices])

    def are_too_long(self, pieces: Sequence[PieceShape]) -> bool:
        """Are some pieces longer in all than a board, on one of the lines along it? Sure where it says yes.

        Parted pieces are apart by the spacing in every direction, so also along each line.
        """
        for i in range(len(HEIGHTS)):
            total = -self.spacing
            for piece in pieces:
                at = piece.slices[i]
                if at is not None:
                    total += at + self.spacing
            if total > self.size.length + FIT:
                return True
        return False


def _forbidden(first: PieceShape, second: PieceShape, spacing: float) -> tuple[float, float] | None:
    if first.y[1] + spacing <= second.y[0] + FIT or second.y[1] + spacing <= first.y[0] + FIT:
        return None
    return -_clear_of(second, first, spacing), _clear_of(first, second, spacing)


def _clear_of(first: PieceShape, second: PieceShape, spacing: float) -> float:
    """The least way that brings ``second`` clear of ``first`` on its far side."""
    least = spacing + first.x[1] - second.x[0]
    for edge in first.edges:
        if edge.x > FIT:
            near = min(edge.x * x + edge.y * y for x, y in second.hull)
            least = min(least, (spacing + edge.reach - near) / edge.x)
    for edge in second.edges:
        if edge.x < -FIT:
            near = min(edge.x * x + edge.y * y for x, y in first.hull)
            least = min(least, (spacing + edge.reach - near) / -edge.x)
    return least

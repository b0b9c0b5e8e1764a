"""Where a ring in the board's frame runs along the board's own edges, and where the saw has been.

In its own frame a board is [0, L] × [0, W] with its start end at x = 0, its far
end at x = L, its right long edge at y = 0 and its left long edge at y = W.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Literal

from engine.geometry.shapes import Point, Ring

Side = Literal["right", "far", "left", "start"]

# Ten times the rounding of the overlay grid, seen through the turn into the board's frame.
ON_EDGE = 0.002


@dataclass(frozen=True, slots=True)
class BoardSize:
    """Length and width of a whole board in mm."""

    length: float
    width: float

    @property
    def ring(self) -> Ring:
        """The whole board in its own frame, counter-clockwise."""
        return ((0.0, 0.0), (self.length, 0.0), (self.length, self.width), (0.0, self.width))

    def side_of(self, point: Point) -> Side | None:
        """The side a point lies on, or None inside the board; at a corner either of the two."""
        distances: dict[Side, float] = {
            "right": abs(point[1]),
            "far": abs(point[0] - self.length),
            "left": abs(point[1] - self.width),
            "start": abs(point[0]),
        }
        side = min(distances, key=lambda name: distances[name])
        return side if distances[side] <= ON_EDGE else None

    def edge_side(self, start: Point, end: Point) -> Side | None:
        """The side along which an edge runs, or None for an edge made by a cut."""
        if abs(start[1]) <= ON_EDGE and abs(end[1]) <= ON_EDGE:
            return "right"
        if abs(start[1] - self.width) <= ON_EDGE and abs(end[1] - self.width) <= ON_EDGE:
            return "left"
        if abs(start[0]) <= ON_EDGE and abs(end[0]) <= ON_EDGE:
            return "start"
        if abs(start[0] - self.length) <= ON_EDGE and abs(end[0] - self.length) <= ON_EDGE:
            return "far"
        return None

    def walk(self, start: Point, end: Point) -> tuple[Point, ...]:
        """The board's corners passed when going counter-clockwise along its rim from one point to another."""
        rim = 2 * (self.length + self.width)
        first, last = self._rim_position(start), self._rim_position(end)
        if last <= first:
            last += rim
        positions = (0.0, self.length, self.length + self.width, 2 * self.length + self.width)
        corners = zip(positions + tuple(position + rim for position in positions), self.ring * 2, strict=True)
        return tuple(corner for position, corner in corners if first + ON_EDGE < position < last - ON_EDGE)

    def _rim_position(self, point: Point) -> float:
        x, y = point
        match self.side_of(point):
            case "right":
                return x
            case "far":
                return self.length + y
            case "left":
                return 2 * self.length + self.width - x
            case "start":
                return 2 * (self.length + self.width) - y
            case None:
                raise ValueError(f"{point} does not lie on the rim of the board")


@dataclass(frozen=True, slots=True)
class Run:
    """A stretch of a ring: along the board's rim, or cut. ``points`` holds both its ends."""

    points: tuple[Point, ...]
    is_cut: bool
    is_closed: bool = False

    @property
    def edges(self) -> tuple[tuple[Point, Point], ...]:
        """Its edges in order."""
        return tuple(zip(self.points, self.points[1:], strict=False))


def runs_of(ring: Ring, size: BoardSize) -> tuple[Run, ...]:
    """A counter-clockwise ring as alternating runs along the rim and cut runs.

    A ring that never touches the rim is one closed cut run; a whole board is
    one closed run along the rim.
    """
    count = len(ring)
    is_cut = [size.edge_side(ring[i], ring[(i + 1) % count]) is None for i in range(count)]
    if all(is_cut) or not any(is_cut):
        return (Run((*ring, ring[0]), is_cut[0], is_closed=True),)
    first = next(i for i in range(count) if is_cut[i] != is_cut[i - 1])
    return tuple(_collect(ring[first:] + ring[:first], is_cut[first:] + is_cut[:first]))


def _collect(ring: Ring, is_cut: Sequence[bool]) -> list[Run]:
    """Edges gathered while they are of one sort; the ring starts where the sort changes."""
    runs: list[Run] = []
    points = [ring[0]]
    for i, cut in enumerate(is_cut):
        points.append(ring[(i + 1) % len(ring)])
        if i + 1 == len(is_cut) or is_cut[i + 1] != cut:
            runs.append(Run(tuple(points), cut))
            points = [points[-1]]
    return runs


def side_lengths(ring: Ring, size: BoardSize) -> dict[Side, float]:
    """How much of each side of the board is left on a ring, in mm."""
    lengths: dict[Side, float] = {"right": 0.0, "far": 0.0, "left": 0.0, "start": 0.0}
    for (ax, ay), (bx, by) in zip(ring, ring[1:] + ring[:1], strict=True):
        side = size.edge_side((ax, ay), (bx, by))
        if side is not None:
            lengths[side] += abs(bx - ax) + abs(by - ay)
    return lengths

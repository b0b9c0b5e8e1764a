"""What a phase is worth by true clipping: the pieces along the edges that matter, and the smallest."""

from collections.abc import Iterator, Mapping, Sequence
from math import hypot, inf
from typing import NamedTuple

from msgspec import Struct

from engine.geometry.board import BoardSize
from engine.geometry.frame import Frame
from engine.geometry.kernel import kernel
from engine.geometry.plane import comes_within
from engine.geometry.shapes import Point, Polygon, Region, Ring
from engine.model.setting_out import Measure
from engine.setting_out.corner_wedge import depths_in
from engine.setting_out.edge_line import EdgeLine
from engine.setting_out.inner_round import InnerRound
from engine.setting_out.measures import Placed, Sizes, sizes_of
from engine.setting_out.searched_edge import CLEAR, TOUCH

PieceKey = tuple[int, int, str]
"""A board's number, which of its parts, and the edge that it lies along."""


class PlacedBoard(NamedTuple):
    """A board where a phase puts it."""

    frame: Frame
    size: BoardSize


class NamedEdge(Struct, frozen=True):
    """An edge that matters: every stretch of the floor's rim along one wall, and how much it weighs.

    ``rounds`` are those about the inner corners in which the wall ends.
    """

    name: str
    weight: float
    lines: tuple[EdgeLine, ...]
    rounds: tuple[InnerRound, ...] = ()

    def touches(self, part: Polygon) -> bool:
        """Does a part of a board come to within ``TOUCH`` of this edge's gap line?"""
        if any(_comes_to(ring, line) for line in self.lines for ring in part):
            return True
        # A side may pass by the edge's end with no corner near.
        return any(each.is_touched_by(ring, TOUCH) for each in self.rounds for ring in part) or any(
            comes_within(ring, end, TOUCH) for line in self.lines for end in line.ends for ring in part
        )

    def may_touch(self, ring: Sequence[Point]) -> bool:
        """Does a board reach over this edge, or end just short of it?"""
        return any(_may_touch(ring, line) for line in self.lines) or any(
            each.is_met_by(ring, TOUCH) for each in self.rounds
        )

    def is_within(self, reach: float, point: Point) -> bool:
        """May anything of this edge lie within some mm of a point? Never denied where it does."""
        return any(_may_lie_within(reach, point, line) for line in self.lines) or any(
            each.is_near(point, reach) for each in self.rounds
        )

    def ends_short(self, ring: Sequence[Point]) -> bool:
        """Does a board end so little short of this edge or its ends that it might as well reach over?"""
        return any(
            -CLEAR < max(map(line.height, ring)) <= CLEAR and _is_beside(ring, line) for line in self.lines
        ) or any(_just_misses(ring, end) for line in self.lines for end in line.ends)


class Rated(Struct, frozen=True):
    """The pieces along the edges that matter, their sizes, and the smallest by one measure over its weight.

    Without any piece along them the value is infinite.
    """

    value: float
    pieces: Mapping[PieceKey, Sizes]

    @property
    def smallest(self) -> dict[str, Sizes]:
        """The smallest of each edge, by each measure on its own."""
        found: dict[str, Sizes] = {}
        for (_, _, edge), sizes in self.pieces.items():
            found[edge] = sizes.least(found[edge]) if edge in found else sizes
        return dict(sorted(found.items()))


def moved(boards: Mapping[int, Placed], way: Point) -> dict[int, PlacedBoard]:
    """Boards moved in the room, mm."""
    dx, dy = way
    return {
        number: PlacedBoard(Frame(board.frame.x + dx, board.frame.y + dy, board.frame.angle), board.size)
        for number, board in boards.items()
    }


def outlines(boards: Mapping[int, Placed]) -> dict[int, Ring]:
    """The outlines of boards in the room."""
    return {number: board.frame.ring_to_room(board.size.ring) for number, board in boards.items()}


def rate(
    lay_area: Region, boards: Mapping[int, Placed], edges: Sequence[NamedEdge], measure: Measure
) -> Rated:
    """Rate boards where they lie."""
    near = {number: found for number, ring in outlines(boards).items() if (found := _near(ring, edges))}
    regions = kernel().clip(lay_area, [each.ring for each in near.values()])
    pieces: dict[PieceKey, Sizes] = {}
    value = inf
    for (number, (ring, close)), region in zip(near.items(), regions, strict=True):
        if not region and any(edge.ends_short(ring) for edge in close):
            value = 0.0
        for part, edge, sizes in _along(region, boards[number], close):
            value = min(value, sizes.by(measure) / edge.weight)
            pieces[number, part, edge.name] = sizes
    return Rated(value, pieces)


class _Near(NamedTuple):
    """The outline of a board in the room, and the edges that it reaches over or ends just short of."""

    ring: Ring
    edges: Sequence[NamedEdge]


def _near(ring: Ring, edges: Sequence[NamedEdge]) -> _Near | None:
    """A board that comes to some edges; None where it comes to none of them."""
    close = [edge for edge in edges if edge.may_touch(ring)]
    return _Near(ring, close) if close else None


def _along(
    region: Region, board: Placed, edges: Sequence[NamedEdge]
) -> Iterator[tuple[int, NamedEdge, Sizes]]:
    for number, part in enumerate(region):
        touched = [edge for edge in edges if edge.touches(part)]
        if touched:
            sizes = sizes_of(part, board)
            yield from ((number, edge, sizes) for edge in touched)


def _comes_to(ring: Ring, line: EdgeLine) -> bool:
    """Does a corner of a piece lie on an edge?"""
    start, end = line.stations[0] - TOUCH, line.stations[-1] + TOUCH
    return any(
        abs(across - line.offset(station)) <= TOUCH
        for station, across in line.frame.ring_to_board(ring)
        if start <= station <= end
    )


def _may_touch(ring: Sequence[Point], line: EdgeLine) -> bool:
    (ax, ay), (cx, cy), (bx, by), (dx, dy) = ring
    # A leaning board is longer from one pair of corners to the other than between the others.
    reach = max(hypot(bx - ax, by - ay), hypot(dx - cx, dy - cy)) / 2 + line.most_sag + 1
    # Most boards are far from the edge: their middle tells.
    if abs(line.height(((ax + bx) / 2, (ay + by) / 2))) > reach * line.widening:
        return False
    heights = [line.height(point) for point in ring]
    # Between two corners of a board the edge may bulge in.
    near = max(heights) > -line.most_sag - CLEAR and min(heights) <= line.most_sag + TOUCH
    return near and _is_beside(ring, line)


def _just_misses(ring: Sequence[Point], point: Point) -> bool:
    """Does a convex board end just short of a point?"""
    return -CLEAR < min(depth for _, depth in depths_in(ring, point)) <= CLEAR


def _may_lie_within(reach: float, point: Point, line: EdgeLine) -> bool:
    station = line.frame.to_board(point)[0]
    # A board counts as near while its corners are off the edge by no more than that sags.
    is_level = abs(line.height(point)) <= (reach + line.most_sag) * line.widening
    return is_level and line.stations[0] - reach <= station <= line.stations[-1] + reach


def _is_beside(ring: Sequence[Point], line: EdgeLine) -> bool:
    stations = [line.frame.to_board(point)[0] for point in ring]
    return max(stations) >= line.stations[0] - TOUCH and min(stations) <= line.stations[-1] + TOUCH

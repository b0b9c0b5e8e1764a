"""Where the pattern will end at each wall as it lies now, and what becomes of the smallest pieces there."""

from collections.abc import Iterator, Mapping, Sequence
from math import dist

from msgspec import Struct

from engine.geometry.board import side_lengths
from engine.geometry.frame import Frame
from engine.geometry.hull import convex_hull, least_width
from engine.geometry.kernel import kernel
from engine.geometry.plane import nearest_on_polyline
from engine.geometry.shapes import Point, Polygon, Region, centroid, polygon_area
from engine.patterns.pattern import LaidBoard
from engine.planning.floor_as_it_lies import board_of, middle_of
from engine.planning.pieces import Piece
from engine.setting_out.as_laid import LaidFit
from engine.survey.outline import WallLine

# Within wider bounds than this (± mm) any small piece may become a sliver: that is no warning.
TELLING = 10.0


class WallEnd(Struct, frozen=True, kw_only=True):
    """One wall and the pieces along it that are still to be fitted. All in mm.

    ``off`` is how far the pattern will lie towards the wall there (below 0:
    short of it), ± ``bound`` at 95 %, where that is most; ``at`` is that place
    in the plan and ``outwards`` the direction to the wall. ``at_corners`` is
    the same at the wall's two ends. A piece's size is the smaller of its least
    width and its long point: ``planned`` the smallest as planned, ``now`` as the
    floor lies, ``least`` and ``most`` within the bound. ``slivers`` become too
    small, ``doubtful`` may.
    """

    wall: str
    off: float
    bound: float
    at: Point
    outwards: Point
    at_corners: tuple[float, float]
    pieces: int
    planned: float
    now: float
    least: float
    most: float
    slivers: tuple[str, ...]
    doubtful: tuple[str, ...]


class _Place(Struct, frozen=True, kw_only=True):
    """A piece still to be fitted, where it lies: offset towards a wall, and its sizes within the bound."""

    wall: str
    piece: Piece
    at: Point
    outwards: Point
    off: float
    bound: float
    least: float
    most: float


def wall_ends(
    fit: LaidFit,
    walls: Sequence[WallLine],
    planned: Sequence[Piece],
    lying: Sequence[Piece],
    boards: Mapping[str, LaidBoard],
    lay_area: Region,
    limit: float,
) -> tuple[WallEnd, ...]:
    """``planned`` and ``lying`` are the pieces still to be fitted in either state; ``limit`` the sliver's.

    A crumb that can be left out is no piece that anybody fits.
    """
    planned, lying = ([piece for piece in some if not piece.can_be_left_out] for some in (planned, lying))
    lines = {wall.name: wall for wall in walls}
    places = _places(fit, lines, lying, boards, lay_area)
    before = {piece.id: piece for piece in planned}
    return tuple(
        _wall_end(fit, line, here, [piece for piece in planned if name in _along(piece)], before, limit)
        for name, line in lines.items()
        if (here := [place for place in places if place.wall == name])
    )


def _wall_end(
    fit: LaidFit,
    line: WallLine,
    here: Sequence[_Place],
    planned: Sequence[Piece],
    before: Mapping[str, Piece],
    limit: float,
) -> WallEnd:
    worst = max(here, key=lambda place: (abs(place.off), place.piece.id))
    smallest = min(here, key=lambda place: (size_of(place.piece), place.piece.id))
    new = [p for p in here if p.piece.is_sliver and not _was_sliver(p.piece, before)]
    doubtful = [
        p
        for p in here
        if p.least < limit and p.bound <= TELLING and not (p.piece.is_sliver or _was_sliver(p.piece, before))
    ]
    return WallEnd(
        wall=line.name,
        off=worst.off,
        bound=worst.bound,
        at=worst.at,
        outwards=worst.outwards,
        at_corners=(
            fit.offset(line.start, _outwards_of(line)),
            fit.offset(line.end, _outwards_of(line)),
        ),
        pieces=len(here),
        planned=min((size_of(piece) for piece in planned), default=size_of(smallest.piece)),
        now=size_of(smallest.piece),
        least=min(place.least for place in here),
        most=min(place.most for place in here),
        slivers=tuple(place.piece.id for place in new),
        doubtful=tuple(place.piece.id for place in doubtful),
    )


def _was_sliver(piece: Piece, before: Mapping[str, Piece]) -> bool:
    return piece.id in before and before[piece.id].is_sliver


def size_of(piece: Piece) -> float:
    """What makes a sliver: the smaller of least width and long point, mm."""
    return min(piece.sawn.least_width, max(piece.sawn.left, piece.sawn.right))


def _along(piece: Piece) -> set[str]:
    """The walls and things that the piece is cut for."""
    return {cut.barrier.name for cut in piece.sawn.cuts}


def _places(
    fit: LaidFit,
    lines: Mapping[str, WallLine],
    lying: Sequence[Piece],
    boards: Mapping[str, LaidBoard],
    lay_area: Region,
) -> list[_Place]:
    pairs = [
        (name, piece)
        for piece in lying
        for name in sorted(_along(piece) & lines.keys())
        if board_of(piece.id) in boards
    ]
    names, cut = [name for name, _ in pairs], [piece for _, piece in pairs]
    ways = [_outwards(piece, lines[name]) for name, piece in pairs]
    spots = [middle_of(boards[board_of(piece.id)]) for piece in cut]
    bounds = [fit.offset_bound(spot, way) for spot, way in zip(spots, ways, strict=True)]
    moved = [
        _pushed(piece.board, way, sign * bound)
        for sign in (0.0, 1.0, -1.0)
        for piece, way, bound in zip(cut, ways, bounds, strict=True)
    ]
    clipped = kernel().clip(lay_area, [frame.ring_to_room(ring) for frame, ring in moved])
    sizes = [
        _nominal_size(region, frame, index % len(cut), cut)
        for index, (region, (frame, _)) in enumerate(zip(clipped, moved, strict=True))
    ]
    return list(_with_sizes(fit, names, cut, ways, spots, bounds, sizes))


def _with_sizes(
    fit: LaidFit,
    names: Sequence[str],
    cut: Sequence[Piece],
    ways: Sequence[Point],
    spots: Sequence[Point],
    bounds: Sequence[float],
    sizes: Sequence[float],
) -> Iterator[_Place]:
    """The saw takes a little more or less than the nominal: only the difference is taken from that."""
    count = len(cut)
    for i, piece in enumerate(cut):
        changes = [sizes[i + count] - sizes[i], sizes[i + 2 * count] - sizes[i], 0.0]
        yield _Place(
            wall=names[i],
            piece=piece,
            at=spots[i],
            outwards=ways[i],
            off=fit.offset(spots[i], ways[i]),
            bound=bounds[i],
            least=max(size_of(piece) + min(changes), 0.0),
            most=size_of(piece) + max(changes),
        )


def _pushed(board: LaidBoard, way: Point, by: float) -> tuple[Frame, tuple[Point, ...]]:
    """The board's frame moved, and its outline in that."""
    frame = board.frame
    return Frame(frame.x + by * way[0], frame.y + by * way[1], frame.angle), board.size.ring


def _nominal_size(region: Region, frame: Frame, index: int, cut: Sequence[Piece]) -> float:
    """The size of what is left of a pushed board: of its parts the one that is the piece; 0 for none."""
    if not region:
        return 0.0
    piece = cut[index]
    middle = centroid(piece.ideal[0])
    part = min(region, key=lambda polygon: dist(centroid(polygon[0]), middle))
    return _size(part, frame, piece) if polygon_area(part) > 0 else 0.0


def _size(part: Polygon, frame: Frame, piece: Piece) -> float:
    ring = frame.ring_to_board(part[0])
    sides = side_lengths(ring, piece.board.size)
    return min(least_width(convex_hull(ring)), max(sides["left"], sides["right"]))


def _outwards(piece: Piece, line: WallLine) -> Point:
    """The direction from a piece to the wall."""
    middle = centroid(piece.ideal[0])
    near = nearest_on_polyline(middle, line.points)
    away = near.distance or 1.0
    return (near.point[0] - middle[0]) / away, (near.point[1] - middle[1]) / away


def _outwards_of(line: WallLine) -> Point:
    """Square to the straight line between the corners, out of the room (corners run counter-clockwise)."""
    (ax, ay), (bx, by) = line.start, line.end
    return (by - ay) / line.chord, (ax - bx) / line.chord

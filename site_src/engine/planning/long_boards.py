"""The boards that a long straight cut goes through, and the corners of laid boards to measure from."""

from collections.abc import Iterable, Iterator, Sequence

from msgspec import Struct

from engine.cutting.half_plane import cut_off
from engine.cutting.long_cut import LongCutLine
from engine.geometry.frame import Frame
from engine.geometry.hull import convex_hull, least_width
from engine.geometry.shapes import Point, Ring
from engine.geometry.tolerances import ON_EDGE
from engine.model.job import CountFrom, Floor
from engine.patterns import find_pattern
from engine.patterns.lattice import boards_over
from engine.patterns.pattern import LaidBoard
from engine.planning.numbering import board_id
from engine.planning.pieces import Piece

# A board that lies over the cut by less than this is not crossed, mm.
CROSSED = 0.05
# Corners of the pattern are offered to measure from when they lie at least this far behind the cut, mm.
BEHIND = 10.0
# and at most this part of a board's length: a rule reaches no farther.
REACHED = 0.75


class CrossedBoard(Struct, frozen=True, kw_only=True):
    """A board that the cut goes through. ``rough`` is what to lay of it in mm, measured from ``end``.

    ``end`` is the end that stays; None: take the whole board. ``also`` names
    the other walls and things at which it is cut too. ``is_sliver``: what
    stays of it is too small to hold without glue.
    """

    id: str
    board: LaidBoard
    rough: float
    end: str | None
    also: tuple[str, ...]
    is_sliver: bool


class LaidCorner(Struct, frozen=True, kw_only=True):
    """A corner of a whole board: ``at`` in the room, ``station`` along the wall, ``distance`` to the cut."""

    at: Point
    board: str
    station: float
    distance: float


class BoardsAlong(Struct, frozen=True, kw_only=True):
    """The boards along one cut: the cut in its wall's frame, the floor, and its pieces by their board."""

    line: LongCutLine
    frame: Frame
    floor: Floor
    count_from: CountFrom
    pieces: dict[str, list[Piece]]

    def crossed(self, wall: str, allowance: float, sliver: float) -> Iterator[CrossedBoard]:
        """Each board that the cut goes through, from its start to its end."""
        boards = [(board, ring) for board, ring in self._near() if self._is_crossed(ring)]
        for board, ring in sorted(boards, key=lambda pair: sum(u for u, _ in pair[1])):
            name = board_id(board, self.count_from)
            kept = board.frame.ring_to_board(self.frame.ring_to_room(cut_off(ring, self.line.as_cut())))
            end, rough = _rough(board, kept, allowance)
            others = (cut.barrier.name for piece in self.pieces.get(name, ()) for cut in piece.sawn.cuts)
            yield CrossedBoard(
                id=name,
                board=board,
                rough=rough,
                end=end,
                also=tuple(dict.fromkeys(other for other in others if other != wall)),
                is_sliver=least_width(convex_hull(kept)) < sliver,
            )

    def corners(self) -> Iterator[LaidCorner]:
        """Of each whole board near the cut the corner nearest to it, one a board's width along the wall."""
        nearest: dict[int, LaidCorner] = {}
        for board, ring in self._near():
            corner = self._corner(board, ring)
            if corner is None:
                continue
            place = int(corner.station // board.width)
            if place not in nearest or corner.distance < nearest[place].distance:
                nearest[place] = corner
        yield from (corner for _, corner in sorted(nearest.items()))

    def _corner(self, board: LaidBoard, ring: Ring) -> LaidCorner | None:
        cut, (start, end) = self.line.as_cut(), self.line.ends
        name = board_id(board, self.count_from)
        near = min(ring, key=cut.side)
        if (
            not all(piece.sawn.kind == "whole" for piece in self.pieces.get(name, ()))
            or name not in self.pieces
        ):
            return None
        is_in_reach = BEHIND <= cut.side(near) <= REACHED * board.length
        if not is_in_reach or not start[0] <= near[0] <= end[0]:
            return None
        return LaidCorner(at=self.frame.to_room(near), board=name, station=near[0], distance=cut.side(near))

    def _near(self) -> Iterator[tuple[LaidBoard, Ring]]:
        """Every board that can reach the cut or the strip behind it, with its ring in the wall's frame."""
        (au, av), (bu, bv) = self.line.ends
        behind = self.floor.board.length
        points = self.frame.ring_to_room(((au, av), (bu, bv), (bu, bv + behind), (au, av + behind)))
        for planned in boards_over(find_pattern(self.floor.pattern), self.floor, points):
            # Where the floor was taken as it lies, its boards lie a little beside the pattern.
            pieces = self.pieces.get(board_id(planned, self.count_from))
            board = pieces[0].board if pieces else planned
            yield board, self.frame.ring_to_board(board.ring)

    def _is_crossed(self, ring: Ring) -> bool:
        """Does the cut, from its start to its end, run through the board?"""
        cut, (start, end) = self.line.as_cut(), self.line.ends
        sides = [cut.side(point) for point in ring]
        if max(sides) <= CROSSED or min(sides) >= -CROSSED:
            return False
        on_cut = tuple(_chord(ring, sides))
        return min(on_cut) < end[0] - CROSSED and max(on_cut) > start[0] + CROSSED


def by_board(pieces: Iterable[Piece]) -> dict[str, list[Piece]]:
    """The pieces at each place of the pattern, by its name; a second part adds a dot and a number to it."""
    boards: dict[str, list[Piece]] = {}
    for piece in pieces:
        boards.setdefault(piece.id.partition(".")[0], []).append(piece)
    return boards


def _rough(board: LaidBoard, kept: Ring, allowance: float) -> tuple[str | None, float]:
    """The end to measure from and the length to lay, the allowance in it; no end: the whole board."""
    along = [board.size.along(point) for point in kept]
    has_start, has_far = min(along) < ON_EDGE, max(along) > board.length - ON_EDGE
    rough = max(along) - min(along) + allowance
    if has_start == has_far or rough >= board.length:
        return None, board.length
    return ("start" if has_start else "far"), rough


def _chord(ring: Sequence[Point], sides: Sequence[float]) -> Iterator[float]:
    """The stations at which the cut meets the outline of a board."""
    for i, point in enumerate(ring):
        before, after = sides[i - 1], sides[i]
        if (before > 0) != (after > 0):
            yield ring[i - 1][0] + before / (before - after) * (point[0] - ring[i - 1][0])

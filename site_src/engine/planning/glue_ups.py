"""Small pieces that would not hold by themselves: which boards to join first, and one cut for all.

Each board of a glue-up (``glue_groups``) is taken long enough to reach past the cut; then one straight cut is
made through all of them. It lies inside the gap band of every one, wherever such a line is. Once glue-ups are
chosen that is the cut that the pieces have (``cut_as_one``).
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import pairwise
from math import dist

from msgspec import Struct
from msgspec.structs import replace

from engine.cutting.common_cut import gaps_along
from engine.cutting.corridor import CutLine
from engine.cutting.gap_field import GapField
from engine.cutting.half_plane import cut_off
from engine.cutting.joined_cut import line_in
from engine.geometry.barrier import Barrier
from engine.geometry.board import BoardSize, Side
from engine.geometry.shapes import Point, Ring
from engine.geometry.tolerances import ON_EDGE
from engine.planning.glue_groups import (
    barriers_of,
    common_line,
    cut_here,
    glued_already,
    line_made,
    small_groups,
    stretches_along,
)
from engine.planning.joints import PieceJoints
from engine.planning.pieces import Piece
from engine.planning.rough_blanks import RoughBlank, rough_blank

# A blank reaches past the cut by so much, mm (common practice, no source).
PAST_CUT = 20.0
# A corner of a cut board this near to the cut lies on it, mm.
ON_CUT = 1e-6
# The cut meets the edges of two joined boards in one place when they are no farther apart than this, mm.
ONE_PLACE = 1.0
_RIGHT: Side | None = "right"


class CutMark(Struct, frozen=True, kw_only=True):
    """Where the common cut meets the rim of one board: on its ``side``, at a ``distance`` in mm.

    On a long edge it is measured from the end that stays (``start`` or ``far``), or from where the blank
    begins (``blank``); on an end of the board from the ``right`` long edge.
    """

    piece: str
    at: Point
    side: Side
    distance: float
    measured_from: Side | None


class CommonCut(Struct, frozen=True, kw_only=True):
    """The cut of a glue-up along one wall or thing, in the room; the ``ends`` are None where no line holds.

    ``marks`` are met in this order; the line through the first and the last is the cut.
    ``gap_least`` and ``gap_most`` in mm, along all boards.
    """

    along: str
    pieces: tuple[str, ...]
    ends: tuple[Point, Point] | None = None
    gap_least: float | None = None
    gap_most: float | None = None
    marks: tuple[CutMark, ...] = ()


class GlueUp(Struct, frozen=True, kw_only=True):
    """Pieces to be glued to one blank before they are cut, the largest first, and what to take for each.

    ``blanks`` has those that are cut, by piece id; a whole board stays whole.
    """

    pieces: tuple[str, ...]
    blanks: dict[str, RoughBlank]
    cuts: tuple[CommonCut, ...]

    @property
    def along(self) -> tuple[str, ...]:
        """The walls and things that it is cut along."""
        return tuple(cut.along for cut in self.cuts)

    def taken_of(self, piece: str, size: BoardSize) -> Ring:
        """What is taken of a piece's board, in the board's frame."""
        return self.blanks[piece].ring(size) if piece in self.blanks else size.ring


def glue_ups(
    pieces: Sequence[Piece], joints: Mapping[str, PieceJoints], barriers: Sequence[Barrier]
) -> tuple[GlueUp, ...]:
    """Which small pieces to join to which neighbours, or which are; one left out is not asked for."""
    groups = tuple(glued_already(pieces) or small_groups(pieces, joints))
    field = GapField(barriers) if groups else None
    return tuple(_glue_up(group, field) for group in groups if field)


def glued_rings(groups: Iterable[GlueUp], pieces: Sequence[Piece]) -> dict[str, Ring]:
    """Piece id → what is taken of its board, in the board's frame, for each piece that is glued and cut."""
    sizes = {piece.id: piece.board.size for piece in pieces}
    return {name: group.taken_of(name, sizes[name]) for group in groups for name in group.blanks}


def _glue_up(together: Sequence[Piece], field: GapField) -> GlueUp:
    found = [_common_cut(together, barrier, field) for barrier in barriers_of(together)]
    blanks = {piece.id: _blank(piece, found) for piece in together if piece.sawn.cuts}
    return GlueUp(
        pieces=tuple(piece.id for piece in together),
        blanks=blanks,
        cuts=tuple(_with_marks(cut, line, together, blanks) for cut, line in found),
    )


Found = tuple[CommonCut, CutLine | None]


def _common_cut(together: Sequence[Piece], barrier: Barrier, field: GapField) -> Found:
    here = cut_here(together, barrier)
    names = tuple(piece.id for piece in here)
    glued = together[0].glued
    line = common_line(together, barrier, field) if glued is None else line_made(here, barrier)
    gaps = gaps_along(line, stretches_along(here, barrier, field), barrier, field) if line else ()
    if not gaps or not all(gap.is_inside_band for gap in gaps):
        return CommonCut(along=barrier.name, pieces=names), None
    distances = [gap.distance for gap in gaps]
    found = CommonCut(along=barrier.name, pieces=names, gap_least=min(distances), gap_most=max(distances))
    return found, line


def _blank(piece: Piece, found: Sequence[Found]) -> RoughBlank:
    """What the common cuts leave of the board, or its own where there is none, and some more."""
    return blank_of(piece, [line for cut, line in found if piece.id in cut.pieces])


def blank_of(piece: Piece, lines: Sequence[CutLine | None]) -> RoughBlank:
    """What cuts in the room leave of a piece's board, and some more; with its own cut for each None."""
    frame, size = piece.board.frame, piece.board.size
    kept = size.ring
    for line in lines:
        kept = cut_off(kept, line_in(line, frame)) if line else kept
    if not all(lines) or not kept:
        kept = ()
    return rough_blank((*kept, *piece.sawn.outline[0]), size, PAST_CUT)


def _with_marks(
    cut: CommonCut, line: CutLine | None, together: Sequence[Piece], blanks: Mapping[str, RoughBlank]
) -> CommonCut:
    """The same with where the cut meets the boards' rims, and from where to where it runs."""
    if line is None:
        return cut
    dx, dy = line.direction
    met = [
        mark for piece in together if piece.id in cut.pieces for mark in _marks(piece, line, blanks[piece.id])
    ]
    met.sort(key=lambda mark: dx * mark.at[0] + dy * mark.at[1])
    marks = tuple(_one_mark(place) for place in _by_place(met))
    if len(marks) < 2:
        return CommonCut(along=cut.along, pieces=cut.pieces)
    return replace(cut, marks=marks, ends=(marks[0].at, marks[-1].at))


def _by_place(met: Sequence[CutMark]) -> Iterator[list[CutMark]]:
    """Marks in order, those of two joined boards that lie in one place together."""
    starts = [i for i, mark in enumerate(met) if i == 0 or dist(mark.at, met[i - 1].at) > ONE_PLACE]
    return (list(met[start:end]) for start, end in pairwise([*starts, len(met)]))


def _one_mark(place: Sequence[CutMark]) -> CutMark:
    """Of those in one place the one measured from an end that stays; never by the last digits of where."""
    return min(place, key=lambda mark: (mark.measured_from is None, mark.piece, mark.side))


def _marks(piece: Piece, line: CutLine, blank: RoughBlank) -> Iterator[CutMark]:
    frame, size = piece.board.frame, piece.board.size
    cut = line_in(line, frame)
    for point in cut_off(size.ring, cut):
        side = size.side_of(point)
        along = size.along(point)
        if (
            abs(cut.side(point)) > ON_CUT
            or side is None
            or not blank.begin - ON_EDGE < along < blank.end + ON_EDGE
        ):
            continue
        distance, measured_from = point[1], _RIGHT
        if side in ("left", "right"):
            measured_from = blank.measured_from or ("start" if blank.begin == 0.0 else None)
            distance = size.length - along if measured_from == "far" else along - blank.begin
        yield CutMark(
            piece=piece.id,
            at=frame.to_room(point),
            side=side,
            distance=distance,
            measured_from=measured_from,
        )

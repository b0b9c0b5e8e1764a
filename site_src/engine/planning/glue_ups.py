"""Small pieces that would not hold by themselves: which boards to join first, and one cut for all.

A piece that keeps no edge that locks, or is a sliver, is glued to the neighbour with
which it shares most, before the cut. Each board of such a glue-up is taken long enough to
reach past the cut; then one straight cut is made through all of them. It lies inside the
gap band of every one, wherever such a line is.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import pairwise
from math import dist

from msgspec import Struct
from msgspec.structs import replace

from engine.cutting.board_edges import runs_of
from engine.cutting.common_cut import common_cut, edges_along, gaps_along
from engine.cutting.corridor import CutLine
from engine.cutting.gap_field import GapField
from engine.cutting.half_plane import cut_off
from engine.geometry.barrier import Barrier
from engine.geometry.board import Side
from engine.geometry.frame import Frame
from engine.geometry.shapes import Point, Ring
from engine.geometry.tolerances import ON_EDGE
from engine.planning.joints import PieceJoints
from engine.planning.neighbours import Neighbour, neighbours
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


def glue_ups(
    pieces: Sequence[Piece], joints: Mapping[str, PieceJoints], barriers: Sequence[Barrier]
) -> tuple[GlueUp, ...]:
    """Which small pieces to join to which neighbours; a piece that may be left out is not asked for."""
    groups = tuple(_groups(pieces, joints))
    field = GapField(barriers) if groups else None
    return tuple(_glue_up(group, field) for group in groups if field)


def glued_rings(groups: Iterable[GlueUp], pieces: Sequence[Piece]) -> dict[str, Ring]:
    """Piece id → what is taken of its board, in the board's frame, for each piece that is glued and cut."""
    sizes = {piece.id: piece.board.size for piece in pieces}
    return {name: blank.ring(sizes[name]) for group in groups for name, blank in group.blanks.items()}


def _groups(pieces: Sequence[Piece], joints: Mapping[str, PieceJoints]) -> Iterator[tuple[Piece, ...]]:
    small = [
        piece
        for piece in pieces
        if (piece.is_sliver or joints[piece.id].must_be_glued) and not piece.can_be_left_out
    ]
    to = {piece.id: name for piece, beside in neighbours(small, pieces) if (name := _most_shared(beside))}
    by_id = {piece.id: piece for piece in pieces}
    groups: dict[str, list[str]] = {}
    for name in sorted(to):
        groups.setdefault(_end_of(name, to), []).append(name)
    for end, names in groups.items():
        yield by_id[end], *(by_id[name] for name in names if name != end)


def _end_of(name: str, to: Mapping[str, str]) -> str:
    """The piece that a chain of small pieces hangs on; of a ring of them the first by name."""
    seen = [name]
    while seen[-1] in to and to[seen[-1]] not in seen:
        seen.append(to[seen[-1]])
    return min(seen[seen.index(to[seen[-1]]) :]) if seen[-1] in to else seen[-1]


def _most_shared(beside: Iterable[Neighbour]) -> str | None:
    """The neighbour with which a piece shares most of its edges, if it has any."""
    shared: dict[str, float] = {}
    for each in beside:
        shared[each.piece.id] = shared.get(each.piece.id, 0.0) + each.shared
    return max(shared, key=lambda name: (shared[name], name), default=None)


def _glue_up(together: Sequence[Piece], field: GapField) -> GlueUp:
    barriers = {
        (cut.barrier.path, cut.barrier.name): cut.barrier for piece in together for cut in piece.sawn.cuts
    }
    found = [_common_cut(together, barrier, field) for barrier in barriers.values()]
    blanks = {piece.id: _blank(piece, found) for piece in together if piece.sawn.cuts}
    return GlueUp(
        pieces=tuple(piece.id for piece in together),
        blanks=blanks,
        cuts=tuple(_with_marks(cut, line, together, blanks) for cut, line in found),
    )


Found = tuple[CommonCut, CutLine | None]


def _common_cut(together: Sequence[Piece], barrier: Barrier, field: GapField) -> Found:
    cut_here = [piece for piece in together if any(cut.barrier == barrier for cut in piece.sawn.cuts)]
    names = tuple(piece.id for piece in cut_here)
    none = CommonCut(along=barrier.name, pieces=names), None
    stretches = [
        stretch
        for piece in cut_here
        for curve in _curves(piece)
        for stretch in edges_along(curve, barrier, field)
    ]
    if not stretches:
        return none
    whole = [piece for piece in together if piece.sawn.kind == "whole"]
    line = common_cut(
        stretches,
        [point for piece in whole for point in piece.outline[0]],
        (
            [point for piece in together if piece not in whole for point in piece.ideal[0]],
            [point for piece in cut_here for point in _beyond(piece, barrier, field)],
        ),
        barrier.tolerance,
    )
    if line is None:
        return none
    gaps = gaps_along(line, stretches, barrier, field)
    if not gaps or not all(gap.is_inside_band for gap in gaps):
        return none
    distances = [gap.distance for gap in gaps]
    found = CommonCut(along=barrier.name, pieces=names, gap_least=min(distances), gap_most=max(distances))
    return found, line


def _curves(piece: Piece) -> Iterator[tuple[Point, ...]]:
    """Where the nominal piece is cut, in the room."""
    frame = piece.board.frame
    for run in runs_of(frame.ring_to_board(piece.ideal[0]), piece.board.size):
        if run.is_cut:
            yield frame.ring_to_room(run.points)


def _beyond(piece: Piece, barrier: Barrier, field: GapField) -> Iterator[Point]:
    """The board's corners that only this barrier's cut takes off, in the room."""
    frame, size = piece.board.frame, piece.board.size
    for run in runs_of(frame.ring_to_board(piece.ideal[0]), size):
        curve = frame.ring_to_room(run.points)
        if run.is_cut and not run.is_closed and edges_along(curve, barrier, field) == (curve,):
            yield from frame.ring_to_room(size.walk(run.points[0], run.points[-1]))


def _blank(piece: Piece, found: Sequence[Found]) -> RoughBlank:
    """What the common cuts leave of the board, or its own where there is none, and some more."""
    frame, size = piece.board.frame, piece.board.size
    own = [(cut, line) for cut, line in found if piece.id in cut.pieces]
    kept = size.ring
    for _, line in own:
        kept = cut_off(kept, _in_frame(line, frame)) if line else kept
    if not all(line for _, line in own) or not kept:
        kept = ()
    return rough_blank((*kept, *piece.sawn.outline[0]), size, PAST_CUT)


def _in_frame(line: CutLine, frame: Frame) -> CutLine:
    x, y = line.at
    ahead = frame.to_board((x + line.direction[0], y + line.direction[1]))
    at = frame.to_board(line.at)
    return CutLine(at=at, direction=(ahead[0] - at[0], ahead[1] - at[1]), departure=line.departure)


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
    cut = _in_frame(line, frame)
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

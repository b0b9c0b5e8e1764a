"""Which small pieces are joined to which neighbours before the cut, and the one line through all of them.

A piece that keeps no edge that locks, or is a sliver, is glued to the neighbour with which it shares most.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from math import dist

from engine.cutting.board_edges import runs_of
from engine.cutting.common_cut import common_cut, edges_along, gaps_along
from engine.cutting.corridor import CutLine
from engine.cutting.gap_field import GapField
from engine.geometry.barrier import Barrier
from engine.geometry.shapes import Point
from engine.planning.joints import PieceJoints
from engine.planning.neighbours import Neighbour, neighbours
from engine.planning.pieces import BarrierKey, Piece


def glued_already(pieces: Sequence[Piece]) -> tuple[tuple[Piece, ...], ...]:
    """The groups of pieces that are cut as one."""
    by_id = {piece.id: piece for piece in pieces}
    groups = dict.fromkeys(piece.glued.pieces for piece in pieces if piece.glued)
    return tuple(
        tuple(by_id[name] for name in names)
        for names in groups
        if all(name in by_id and _names(by_id[name]) == names for name in names)
    )


def _names(piece: Piece) -> tuple[str, ...] | None:
    return piece.glued.pieces if piece.glued else None


def small_groups(pieces: Sequence[Piece], joints: Mapping[str, PieceJoints]) -> Iterator[tuple[Piece, ...]]:
    """Each small piece with what it hangs on, the largest first; one that may be left out is in none."""
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


def key_of(barrier: Barrier) -> BarrierKey:
    """What tells it from others of its name."""
    return barrier.path, barrier.name


def barriers_of(together: Iterable[Piece]) -> tuple[Barrier, ...]:
    """Whatever some pieces are cut along, each once."""
    found = {key_of(cut.barrier): cut.barrier for piece in together for cut in piece.sawn.cuts}
    return tuple(found.values())


def cut_here(together: Iterable[Piece], barrier: Barrier) -> list[Piece]:
    """Those of some pieces that are cut along a barrier."""
    return [piece for piece in together if any(cut.barrier == barrier for cut in piece.sawn.cuts)]


def stretches_along(
    here: Iterable[Piece], barrier: Barrier, field: GapField
) -> tuple[tuple[Point, ...], ...]:
    """Where the nominal pieces run along a barrier, in the room."""
    return tuple(
        stretch
        for piece in here
        for curve in _curves(piece)
        for stretch in edges_along(curve, barrier, field)
    )


def line_made(here: Iterable[Piece], barrier: Barrier) -> CutLine | None:
    """The straight cut that pieces which are cut as one have along a barrier, in the room."""
    found = [
        piece.board.frame.ring_to_room(cut.points)
        for piece in here
        if piece.glued and key_of(barrier) in piece.glued.along
        for cut in piece.sawn.cuts
        if cut.barrier == barrier and len(cut.points) == 2
    ]
    if not found:
        return None
    # The longest says best how it runs.
    start, end = max(found, key=lambda points: round(dist(*points), 6))
    length = dist(start, end)
    direction = ((end[0] - start[0]) / length, (end[1] - start[1]) / length)
    return CutLine(at=start, direction=direction, departure=0.0)


def common_line(
    together: Sequence[Piece], barrier: Barrier, field: GapField, saw_error: float = 0.0
) -> CutLine | None:
    """The best straight cut along a barrier through all pieces that are cut there, in the room."""
    here = cut_here(together, barrier)
    stretches = stretches_along(here, barrier, field)
    if not stretches:
        return None
    whole = [piece for piece in together if piece.sawn.kind == "whole"]
    line = common_cut(
        stretches,
        [point for piece in whole for point in piece.outline[0]],
        (
            [point for piece in together if piece not in whole for point in piece.ideal[0]],
            [point for piece in here for point in _beyond(piece, barrier, field)],
        ),
        barrier.leeway,
        saw_error,
    )
    if line is None or not all(gap.is_inside_band for gap in gaps_along(line, stretches, barrier, field)):
        return None
    return line


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

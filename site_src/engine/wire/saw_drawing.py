"""A piece as it lies on the saw, with what is taken of its board."""

from collections.abc import Iterator
from math import hypot

import msgspec

from engine.cutting.at_fence import KeptSide
from engine.cutting.corridor import CutLine
from engine.cutting.cuts import Cut
from engine.cutting.half_plane import cut_off
from engine.drawing.paths import line_path, polygon_path, ring_path, spot, view_box
from engine.geometry.board import BoardSize, side_lengths
from engine.geometry.shapes import Point, Ring
from engine.model.job import Cutting
from engine.planning.boards import Source
from engine.planning.edge_names import as_marked
from engine.planning.floor_plan import FloorPlan
from engine.planning.measured_at_wall import SIDES, along_edge, planned_length
from engine.planning.on_saw import Lie, lies_of
from engine.planning.pieces import Piece
from engine.wire.card_figures import turn_keys
from engine.wire.drawings import Label, SawDrawing
from engine.wire.figures import Writer
from engine.wire.saw_lie import fence_path, lie_words, stop_path
from engine.wire.saw_places import SawPlace

# Room for the lengths above and below the board on the saw drawing, mm.
SAW_MARGIN = 46.0
# Distance of a length from the edge it belongs to on the saw drawing, mm.
TEXT_OFF = 24.0


def saw_drawing(
    piece: Piece, taken_from: tuple[Ring, Source], lie: Lie, place: SawPlace, plan: FloorPlan, writer: Writer
) -> SawDrawing:
    """One turn of the saw: a piece in what it is ``taken_from``, with fence, stop and cut."""
    sawn, size, (blank, source), cutting = piece.sawn, piece.board.size, taken_from, plan.job.cutting
    glued = dict(_glued_boards(piece, plan))
    blank = glued.pop(piece.id, blank)
    taken, keep = lie.ring(_without_end(blank, lie.first)), tuple(lie.ring(ring) for ring in sawn.outline)
    labels = (
        *_saw_labels(piece, cutting, writer),
        *_end_labels(blank, source, size, gone=lie.at.end if lie.first and lie.at else None),
        *(_beyond(name, ring, size) for name, ring in glued.items()),
    )
    return SawDrawing(
        number=place.number,
        setting=place.setting,
        stop_text=place.stop,
        stop_length="" if lie.stop is None else writer.length(lie.stop),
        figures=turn_keys(piece, lie),
        view_box=view_box(
            [point for ring in (size.ring, *glued.values()) for point in lie.ring(ring)],
            SAW_MARGIN + (TEXT_OFF if glued else 0.0),
        ),
        board=ring_path(taken),
        keep=polygon_path(keep),
        waste=ring_path(taken) + polygon_path(keep),
        joined=tuple(ring_path(lie.ring(ring)) for ring in glued.values()),
        cuts=tuple(line_path(lie.ring(cut.points)) for cut in _shown(piece, lie, cutting)),
        labels=tuple(msgspec.structs.replace(label, at=_seen(label.at, lie)) for label in labels),
        fence=fence_path(lie),
        stop=stop_path(lie),
        words=lie_words(lie, cutting),
    )


def _without_end(blank: Ring, first: Cut | None) -> Ring:
    """What a first cut across has left of a blank."""
    if first is None:
        return blank
    (ax, ay), (bx, by) = first.points[0], first.points[-1]
    length = hypot(bx - ax, by - ay)
    direction = ((bx - ax) / length, (by - ay) / length)
    return cut_off(blank, CutLine(at=(ax, ay), direction=direction, departure=0.0))


def _glued_boards(piece: Piece, plan: FloorPlan) -> Iterator[tuple[str, Ring]]:
    """What is taken of each board of a glue-up, in the frame of the piece that stands for it."""
    if piece.glued is None or piece.glued.leads != piece.id:
        return
    boards = {each.id: each.board for each in plan.pieces}
    for group in plan.glue_ups:
        for name in group.pieces if piece.id in group.pieces else ():
            ring = group.taken_of(name, boards[name].size)
            yield name, piece.board.frame.ring_to_board(boards[name].frame.ring_to_room(ring))


def _beyond(name: str, ring: Ring, size: BoardSize) -> Label:
    """A joined board's name beyond its far side, clear of the lengths at the edges."""
    xs, ys = [x for x, _ in ring], [y for _, y in ring]
    past = min(*ys, -TEXT_OFF) - TEXT_OFF, max(*ys, size.width + TEXT_OFF) + TEXT_OFF
    is_below = sum(ys) / len(ys) < size.width / 2
    return Label(text=name, at=spot((sum(xs) / len(xs), past[0] if is_below else past[1])))


def _shown(piece: Piece, lie: Lie, cutting: Cutting) -> Iterator[Cut]:
    """The cuts to draw: those on the mitre saw have a picture each."""
    others = [other.cut for other in lies_of(piece, cutting) if other.cut != lie.cut]
    return (cut for cut in piece.sawn.cuts if cut not in others)


def _seen(at: Point, lie: Lie) -> Point:
    """Where a label stands on the board as it lies. Drawings have y downwards, boards upwards."""
    return spot(lie.point((at[0], -at[1])))


def _saw_labels(piece: Piece, cutting: Cutting, writer: Writer) -> Iterator[Label]:
    """Each long edge's name and length at the middle of what stays of it."""
    width = piece.board.width
    for side in SIDES:
        y = width + TEXT_OFF if side == "left" else -TEXT_OFF
        along, length = along_edge(piece, side), planned_length(piece, side)
        if along and length > 0:
            text = f"{as_marked(side, cutting)} {writer.length(length)}"
            yield Label(text=text, at=spot(((along[0] + along[1]) / 2, y)))


def _end_labels(blank: Ring, source: Source, size: BoardSize, gone: KeptSide | None) -> Iterator[Label]:
    """The names of the board's ends that what it is cut from still has; one may be ``gone`` with a cut."""
    has, along = side_lengths(source.blank, size), [size.along(point) for point in blank]
    middle = size.lean / 2
    if has["start"] > 0 and gone != "start":
        yield Label(text="start", at=spot((middle + min(along) - TEXT_OFF, size.width / 2)), turn=-90)
    if has["far"] > 0 and gone != "far":
        yield Label(text="far", at=spot((middle + max(along) + TEXT_OFF, size.width / 2)), turn=90)

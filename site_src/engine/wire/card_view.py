"""One piece to cut, as its card shows it."""

from collections.abc import Iterable, Iterator, Sequence
from itertools import groupby, pairwise
from math import ceil, floor

import msgspec
from msgspec.structs import replace

from engine.cutting.cuts import Cut, Kind
from engine.cutting.legs import legs_of
from engine.drawing.board_shapes import piece_shape
from engine.drawing.paths import line_path, polygon_path, ring_path, spot, view_box
from engine.geometry.board import BoardSize, side_lengths
from engine.geometry.plane import nearest_on_polyline
from engine.geometry.shapes import Point, Ring
from engine.geometry.tolerances import ON_EDGE
from engine.model.job import Cutting, PieceProgress
from engine.planning.blanks import on_its_blank
from engine.planning.boards import Source
from engine.planning.edge_names import as_marked
from engine.planning.floor_plan import FloorPlan
from engine.planning.measured_at_wall import SIDES, MeasuredPiece, Side, planned_length
from engine.planning.neighbours import Neighbour, neighbours
from engine.planning.on_saw import Lie, lies_of
from engine.planning.pieces import Piece
from engine.planning.saw_order import is_at_fence
from engine.wire.board_pictures import board_picture
from engine.wire.board_words import joint_flags, source_text
from engine.wire.card_beside import card_neighbours, laying_numbers, long_flags, spoken
from engine.wire.card_words import flags, steps
from engine.wire.drawings import Card, Figure, Label, Mark, PlannedLength, SawDrawing
from engine.wire.figures import Writer, figure
from engine.wire.glue_words import glue_flag, glue_offer, glued_to
from engine.wire.measured_words import measured_flags
from engine.wire.piece_words import (
    END_TEXT,
    KIND_TEXT,
    LongSide,
    as_measured,
    board_text,
    measured_end,
    side_name,
    sides_as_marked,
)
from engine.wire.saw_lie import fence_path, lie_words, stop_path
from engine.wire.saw_places import SawPlace, saw_places

# What is seen of the floor around a piece on its card, mm beyond it.
AROUND = 450.0
# Distance of marks along a curve, mm along the board or across it.
MARK_ALONG, MARK_ACROSS = 50.0, 15.0
# Room for the lengths above and below the board on the saw drawing, mm.
SAW_MARGIN = 46.0
# Distance of a length from the edge it belongs to on the saw drawing, mm.
TEXT_OFF = 24.0


def cards(plan: FloorPlan, writer: Writer) -> tuple[Card, ...]:
    """A card for each piece to cut, in the order in which one meets them along the walls and fixed things."""
    to_cut = [piece for piece in plan.pieces if piece.sawn.kind != "whole"]
    # By place in the file, too: two things may bear one name.
    order = {(barrier.path, barrier.name): number for number, barrier in enumerate(plan.room.barriers)}

    def place(piece: Piece) -> tuple[int, float]:
        barrier = piece.sawn.cuts[0].barrier
        return order[barrier.path, barrier.name], nearest_on_polyline(piece.middle, barrier.points).station

    beside = {piece.id: found for piece, found in neighbours(to_cut, plan.pieces)}
    laying, sawing = laying_numbers(plan), saw_places(plan, writer)
    return tuple(
        _card(piece, plan, beside[piece.id], laying.get(piece.id, len(laying) + 1), sawing[piece.id], writer)
        for piece in sorted(to_cut, key=place)
    )


def _card(
    piece: Piece,
    plan: FloorPlan,
    beside: Iterable[Neighbour],
    laying: int,
    sawing: Sequence[SawPlace],
    writer: Writer,
) -> Card:
    progress = plan.job.progress.get(piece.id, PieceProgress())
    measured = plan.measured.get(piece.id, MeasuredPiece(planned=piece, piece=piece, lengths={}))
    source, joints = plan.supply.sources[piece.id], plan.joints[piece.id]
    laid = measured.piece
    now, blank = on_its_blank(laid, source)
    measured = replace(measured, piece=now)
    walls = tuple(dict.fromkeys(cut.barrier.name for cut in piece.sawn.cuts))
    cutting = plan.job.cutting
    figures = tuple(_figures(measured, cutting, writer))
    groups = [group for group in plan.glue_ups if piece.id in group.pieces]
    return Card(
        id=piece.id,
        title=f"Row {piece.row}, place {piece.place}",
        hand=piece.board.hand,
        kind=now.sawn.kind,
        kind_text=f"{board_text(piece.board).capitalize()}, {KIND_TEXT[now.sawn.kind]}{glued_to(now)}",
        wall=walls[0],
        place_text=f"at {' and '.join(walls)}",
        board_text=source_text(source),
        board=source.board,
        figures=figures,
        steps=steps(measured, source, joints, cutting, writer),
        flags=(
            *measured_flags(measured, cutting, writer),
            *([glue_flag(now)] if now.glued else []),
            *flags(measured, cutting, plan.unsure.get(piece.id), writer),
            *joint_flags(now, joints, cutting, writer),
            *long_flags(piece.id, plan, writer),
        ),
        marks=tuple(_marks(now, cutting, writer)),
        saws=tuple(
            _saw_drawing(now, (blank, source), lie, place, plan, writer)
            for lie, place in zip(lies_of(now, cutting), sawing, strict=True)
        ),
        near=view_box(piece.outline[0], AROUND),
        lies=board_picture(piece_shape(laid, plan.job.floor), laid.id),
        planned=tuple(
            PlannedLength(
                side=side,
                name=side_name(side, cutting).capitalize(),
                text=writer.length(planned_length(piece, side)),
            )
            for side in sides_as_marked(cutting)
        ),
        neighbours=tuple(card_neighbours(beside, cutting)),
        laying=laying,
        spoken=spoken(figures),
        together=_together(piece, plan),
        glue_offer=next((glue_offer(piece.id, group) for group in groups), ""),
        cut=progress.cut,
        fitted=progress.fitted,
    )


def _together(piece: Piece, plan: FloorPlan) -> tuple[str, ...]:
    """All pieces that are cut with this one, itself among them."""
    names = piece.glued.pieces if piece.glued else (piece.id,)
    whole = {each.id for each in plan.pieces if each.sawn.kind == "whole"}
    return tuple(name for name in names if name not in whole)


def _figures(measured: MeasuredPiece, cutting: Cutting, writer: Writer) -> Iterator[Figure]:
    piece = measured.piece
    sawn, board = piece.sawn, piece.board
    whole = ("whole board", f"{writer.length(board.length)} × {writer.mm(board.width)}")
    yield from (_length_figure(measured, side, cutting, whole, writer) for side in sides_as_marked(cutting))
    yield from _begin_figures(piece, cutting, writer, whole)
    yield from _cut_figures(piece, cutting, writer)
    if any(cut.kind in ("rip", "taper") for cut in sawn.cuts):
        ends = side_lengths(sawn.outline[0], board.size)
        yield figure("start width", "Width at start", writer.length(ends["start"]), "mm", "end width", whole)
        yield figure("far width", "Width at far end", writer.length(ends["far"]), "mm", "end width", whole)
    yield from _round_figures(sawn.cuts, writer)
    if sawn.gaps:
        yield _gap_figure(piece, writer)


def _length_figure(
    measured: MeasuredPiece, side: Side, cutting: Cutting, whole: tuple[str, str], writer: Writer
) -> Figure:
    """One of the two lengths to cut: as measured at the wall, else as worked out."""
    key, name = as_marked(side, cutting), side_name(side, cutting).capitalize()
    text = writer.length(planned_length(measured.piece, side))
    end = ("measured from", END_TEXT[measured_end(measured.piece)])
    if measured.fault is not None or side not in measured.lengths:
        return figure(key, name, text, "mm", "edge length", whole, end)
    plan = ("planned", writer.mm(planned_length(measured.planned, side)))
    return figure(key, f"{name} as measured", text, "mm", "measured length", plan, whole, end)


def _cut_figures(piece: Piece, cutting: Cutting, writer: Writer) -> Iterator[Figure]:
    """The saw's angle for each cut, and where the stop stands where there is one."""
    lengths = [(side_name(s, cutting), writer.mm(planned_length(piece, s))) for s in sides_as_marked(cutting)]
    if piece.board.size.lean:
        lengths.append(("the ends lean by", writer.mm(abs(piece.board.size.lean))))
    angled = [cut for cut in _angled(piece.sawn.cuts) if is_at_fence(piece, cut)]
    for number, cut in enumerate(angled, 1):
        where = "" if len(angled) == 1 else f" at {cut.barrier.name}"
        long: LongSide = "right" if cut.angle > 0 else "left"
        farther = "farther" if piece.board.size.lean else "longer"
        longer = "" if cut.kind == "crosscut" else f", {as_marked(long, cutting)} {farther}"
        angle = writer.angle(abs(cut.angle))
        yield figure(f"angle {number}", f"Saw angle{where}{longer}", angle, "°", "saw angle", *lengths)
        lie = next((each for each in lies_of(piece, cutting) if each.cut is cut), None)
        if lie is not None and lie.at is not None and lie.stop is not None:
            at_fence: LongSide = "right" if lie.at.is_right else "left"
            inputs = (*lengths, ("saw angle", f"{angle}°"), ("at the fence", as_marked(at_fence, cutting)))
            yield figure(_stop_key(number), f"Stop{where}", writer.length(lie.stop), "mm", "stop", *inputs)


def _stop_key(number: int) -> str:
    return "stop" if number == 1 else f"stop {number}"


def _begin_figures(
    piece: Piece, cutting: Cutting, writer: Writer, whole: tuple[str, str]
) -> Iterator[Figure]:
    """Where the long edges begin, when no end of the board stays that their lengths could start from."""
    if piece.sawn.kept_end != "neither":
        return
    for side in sides_as_marked(cutting):
        along = _along_edge(piece, side)
        if along:
            y = piece.board.width if side == "left" else 0.0
            begin = writer.length(piece.board.size.along((along[0], y)))
            name = f"{side_name(side, cutting).capitalize()} begins at"
            yield figure(f"{as_marked(side, cutting)} begin", name, begin, "mm", "edge begin", whole)


def _along_edge(piece: Piece, side: str) -> tuple[float, float] | None:
    """From where to where a long edge stays, in mm along the board's frame; None when none of it does."""
    y = piece.board.width if side == "left" else 0.0
    along = [x for x, other in piece.sawn.outline[0] if abs(other - y) < ON_EDGE]
    return (min(along), max(along)) if along else None


def _angled(cuts: tuple[Cut, ...]) -> tuple[Cut, ...]:
    """The cuts that the saw is turned for."""
    return tuple(cut for cut in cuts if cut.kind in ("crosscut", "mitre", "corner"))


def _round_figures(cuts: tuple[Cut, ...], writer: Writer) -> Iterator[Figure]:
    for cut in cuts:
        for thing in cut.drilled:
            radius = thing.radius or 0.0
            yield figure(
                f"hole {thing.name}",
                "Drill Ø",
                writer.length(2 * (radius + thing.gap)),
                "mm",
                "hole",
                (thing.name, f"Ø {writer.mm(2 * radius)}"),
                ("gap", writer.mm(thing.gap)),
            )


def _gap_figure(piece: Piece, writer: Writer) -> Figure:
    least, most = piece.sawn.gap_least or 0.0, piece.sawn.gap_most or 0.0
    same = writer.length(least) == writer.length(most)
    text = writer.length(least) if same else f"{writer.length(least)} – {writer.length(most)}"
    wanted = (
        (cut.barrier.name, f"{writer.length(cut.barrier.gap)} ± {writer.mm(cut.barrier.tolerance)}")
        for cut in piece.sawn.cuts
    )
    return figure("gap", "Gap", text, "mm", "gap at the wall", *dict.fromkeys(wanted))


def _marks(piece: Piece, cutting: Cutting, writer: Writer) -> Iterator[Mark]:
    """Where to mark the curves that no straight cut can follow."""
    for cut in piece.sawn.cuts:
        if cut.is_drilled_only:
            continue
        points = [as_measured(piece, point, cutting) for point in cut.points]
        marks = (
            Mark(along=writer.length(x), across=writer.length(y)) for x, y in _marked_points(cut.kind, points)
        )
        # What is read as one place is one mark.
        yield from (mark for mark, _ in groupby(marks))


def _marked_points(kind: Kind, points: Sequence[Point]) -> Iterator[Point]:
    """A notch or an opening by the ends of its legs, a curve at every step; a drilled round needs none."""
    legs = legs_of(points)
    if kind in ("notch", "hole") and len(legs) > 1:
        yield from (leg.points[0] for leg in legs)
        yield points[-1]
    elif kind == "scribe":
        for leg in legs:
            yield from _stations(leg.points)
        yield points[-1]


def _stations(points: tuple[Point, ...]) -> Iterator[Point]:
    """The leg's start, and a point at every whole step in the direction in which it runs most."""
    (ax, ay), (bx, by) = points[0], points[-1]
    axis, step = (0, MARK_ALONG) if abs(bx - ax) >= abs(by - ay) else (1, MARK_ACROSS)
    yield points[0]
    for start, end in pairwise(points):
        low, high = sorted((start[axis], end[axis]))
        marks = [n * step for n in range(ceil(low / step), floor(high / step) + 1)]
        for mark in marks if start[axis] < end[axis] else reversed(marks):
            part = (mark - start[axis]) / (end[axis] - start[axis]) if high > low else 0.0
            yield (start[0] + part * (end[0] - start[0]), start[1] + part * (end[1] - start[1]))


def _saw_drawing(
    piece: Piece, taken_from: tuple[Ring, Source], lie: Lie, place: SawPlace, plan: FloorPlan, writer: Writer
) -> SawDrawing:
    sawn, size, (blank, source), cutting = piece.sawn, piece.board.size, taken_from, plan.job.cutting
    glued = dict(_glued_boards(piece, plan))
    blank = glued.pop(piece.id, blank)
    taken, keep = lie.ring(blank), tuple(lie.ring(ring) for ring in sawn.outline)
    labels = (
        *_saw_labels(piece, cutting, writer),
        *_end_labels(blank, source, size),
        *(_beyond(name, ring, size) for name, ring in glued.items()),
    )
    return SawDrawing(
        number=place.number,
        setting=place.setting,
        stop_text=place.stop,
        stop_length="" if lie.stop is None else writer.length(lie.stop),
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


def _glued_boards(piece: Piece, plan: FloorPlan) -> Iterator[tuple[str, Ring]]:
    """What is taken of each board of a glue-up, in the frame of the piece that stands for it."""
    if piece.glued is None or piece.glued.leads != piece.id:
        return
    boards = {each.id: each.board for each in plan.pieces}
    for group in plan.glue_ups:
        for name in group.pieces if piece.id in group.pieces else ():
            size = boards[name].size
            ring = group.blanks[name].ring(size) if name in group.blanks else size.ring
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
        along, length = _along_edge(piece, side), planned_length(piece, side)
        if along and length > 0:
            text = f"{as_marked(side, cutting)} {writer.length(length)}"
            yield Label(text=text, at=spot(((along[0] + along[1]) / 2, y)))


def _end_labels(blank: Ring, source: Source, size: BoardSize) -> Iterator[Label]:
    """The names of the board's ends that what it is cut from still has."""
    has, along = side_lengths(source.blank, size), [size.along(point) for point in blank]
    middle = size.lean / 2
    if has["start"] > 0:
        yield Label(text="start", at=spot((middle + min(along) - TEXT_OFF, size.width / 2)), turn=-90)
    if has["far"] > 0:
        yield Label(text="far", at=spot((middle + max(along) + TEXT_OFF, size.width / 2)), turn=90)

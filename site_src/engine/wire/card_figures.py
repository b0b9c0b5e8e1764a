"""The figures of a card: the two lengths, the saw's angle and stop, holes, and the gap that is left."""

from collections.abc import Iterator

from engine.cutting.cuts import Cut
from engine.geometry.board import side_lengths
from engine.model.job import Cutting
from engine.planning.edge_names import as_marked
from engine.planning.measured_at_wall import MeasuredPiece, Side, along_edge, planned_length
from engine.planning.on_saw import Lie, lies_of
from engine.planning.pieces import Piece
from engine.planning.saw_order import is_at_fence
from engine.wire.drawings import Figure
from engine.wire.figures import Writer, figure
from engine.wire.piece_words import (
    END_TEXT,
    LongSide,
    measured_end,
    side_name,
    sides_as_marked,
)


def card_figures(measured: MeasuredPiece, cutting: Cutting, writer: Writer) -> Iterator[Figure]:
    """What a card says in numbers, the lengths first."""
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
    angled = _at_fence(piece)
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
            against = () if lie.at.tip is None else (("against the stop", "the end sawn first"),)
            inputs = (
                *lengths,
                ("saw angle", f"{angle}°"),
                ("at the fence", as_marked(at_fence, cutting)),
                *against,
            )
            yield figure(_stop_key(number), f"Stop{where}", writer.length(lie.stop), "mm", "stop", *inputs)


def turn_keys(piece: Piece, lie: Lie) -> tuple[str, ...]:
    """The keys of the figures for one turn of the saw: angle and stop, none where there is no stop."""
    if lie.stop is None:
        return ()
    number = next(number for number, cut in enumerate(_at_fence(piece), 1) if cut is lie.cut)
    return (f"angle {number}", _stop_key(number))


def _at_fence(piece: Piece) -> list[Cut]:
    return [cut for cut in _angled(piece.sawn.cuts) if is_at_fence(piece, cut)]


def _stop_key(number: int) -> str:
    return "stop" if number == 1 else f"stop {number}"


def _begin_figures(
    piece: Piece, cutting: Cutting, writer: Writer, whole: tuple[str, str]
) -> Iterator[Figure]:
    """Where the long edges begin, when no end of the board stays that their lengths could start from."""
    if piece.sawn.kept_end != "neither":
        return
    for side in sides_as_marked(cutting):
        along = along_edge(piece, side)
        if along:
            y = piece.board.width if side == "left" else 0.0
            begin = writer.length(piece.board.size.along((along[0], y)))
            name = f"{side_name(side, cutting).capitalize()} begins at"
            yield figure(f"{as_marked(side, cutting)} begin", name, begin, "mm", "edge begin", whole)


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
        (cut.barrier.name, writer.band(cut.barrier.gap, cut.barrier.tolerance)) for cut in piece.sawn.cuts
    )
    return figure("gap", "Gap", text, "mm", "gap at the wall", *dict.fromkeys(wanted))

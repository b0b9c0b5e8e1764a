"""What to do with one piece, in sentences in the order of the work."""

from collections.abc import Iterator

from engine.cutting.saw_error import off_by
from engine.model.job import Cutting
from engine.planning.boards import Source
from engine.planning.edge_names import is_on_back
from engine.planning.joints import PieceJoints
from engine.planning.measured_at_wall import SIDES, MeasuredPiece
from engine.planning.pieces import Piece
from engine.planning.saw_order import turned_cuts
from engine.planning.tools import mitre_saw
from engine.planning.uncertainty import left_of_band
from engine.wire.board_words import keep_steps, take_step
from engine.wire.figures import Writer
from engine.wire.measured_words import measured_steps
from engine.wire.piece_words import board_text, measured_end, side_name
from engine.wire.tool_words import blade_sentence, safe_way, tool_sentences


def steps(
    measured: MeasuredPiece, source: Source, joints: PieceJoints, cutting: Cutting, writer: Writer
) -> tuple[str, ...]:
    """The steps for one piece, beginning with the board to take."""
    piece = measured.piece
    taken = take_step(piece, source, board_text(piece.board), measured_end(piece))
    return (
        *([] if piece.glued else [taken]),
        *_named_from_back(cutting),
        *keep_steps(joints, cutting),
        *tool_sentences(piece, cutting, writer),
        *measured_steps(measured, writer),
        blade_sentence(cutting, writer),
    )


def _named_from_back(cutting: Cutting) -> Iterator[str]:
    """Boards marked on the back are read there."""
    if is_on_back(cutting):
        yield "Turn it over: left and right are as seen from its back, the start end towards you."


def flags(
    measured: MeasuredPiece, cutting: Cutting, doubt: tuple[str, float] | None, writer: Writer
) -> Iterator[str]:
    """What to watch with this piece."""
    piece = measured.piece
    if piece.can_be_left_out:
        yield "May be left out: the gap stays inside its tolerance without it."
    elif piece.is_sliver and piece.glued is None:
        yield "Sliver: glue it to its neighbour. Never hold a small piece by hand at the saw; clamp it."
    yield from safe_way(piece, cutting, writer)
    for cut in turned_cuts(piece, mitre_saw(cutting)):
        if cut.is_set:
            continue
        yield (
            f"No step of the saw keeps the gap along {cut.barrier.name}: set it between steps, to "
            f"{writer.degrees(abs(cut.angle))}."
        )
    yield from _saw_error(piece, cutting, writer)
    if doubt is not None:
        what = _to_measure(measured, cutting)
        yield f"Measure {what} at the wall: {doubt[0]} is known only to ±{writer.mm(doubt[1])} here."
    if not piece.sawn.is_inside_band:
        yield "The gap leaves its tolerance here: measure this piece at the wall."


def _to_measure(measured: MeasuredPiece, cutting: Cutting) -> str:
    """The piece, or the length that is missing where one was measured."""
    if measured.fault is not None or not measured.lengths:
        return "this one"
    missing = (f"the {side_name(side, cutting)} length" for side in SIDES if side not in measured.lengths)
    return f"{' and '.join(missing)} too"


def _saw_error(piece: Piece, cutting: Cutting, writer: Writer) -> Iterator[str]:
    """Cuts whose gap may leave its tolerance when the saw is off by as much as it may be."""
    if not piece.sawn.gaps:
        return
    for cut in turned_cuts(piece, mitre_saw(cutting)):
        off = off_by(cut.points, piece.board.size, cutting.saw_error)
        if off > left_of_band(piece, cut.barrier.name):
            yield (
                f"The saw's error of ±{writer.degrees(cutting.saw_error)} may move an end of the cut along "
                f"{cut.barrier.name} by {writer.mm(off)}, more than the gap's tolerance leaves here: cut it "
                "a little long, try it, and set the saw anew."
            )

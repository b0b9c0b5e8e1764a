"""What to do with one piece, in sentences in the order of the work."""

from collections.abc import Iterator
from typing import Literal

from engine.cutting.cuts import Cut, Kind
from engine.cutting.legs import legs_of
from engine.cutting.straight_cut import SAW_REACH
from engine.geometry.barrier import Barrier
from engine.geometry.board import side_lengths
from engine.geometry.shapes import Point
from engine.geometry.tolerances import ON_EDGE
from engine.patterns.pattern import LaidBoard
from engine.planning.measured_at_wall import MeasuredPiece
from engine.planning.pieces import Piece
from engine.wire.figures import Writer
from engine.wire.measured_words import measured_steps

KIND_TEXT: dict[Kind, str] = {
    "whole": "whole board",
    "crosscut": "crosscut",
    "mitre": "mitre",
    "corner": "corner cut",
    "rip": "rip",
    "taper": "taper rip",
    "notch": "notch",
    "hole": "hole",
    "scribe": "scribe",
}
# A drill's centre nearer to the board's edge than this breaks out, mm.
CENTRED = 5.0
HAND_TEXT = {"L": "left", "R": "right"}
END_TEXT = {"start": "start end", "far": "far end"}


def board_text(board: LaidBoard) -> str:
    """What to take: a left or a right board, or just a board where there is one kind only."""
    return f"{HAND_TEXT[board.hand]} board" if board.is_handed else "board"


def measured_end(piece: Piece) -> Literal["start", "far"]:
    """The end of the board from which its lengths and marks are read: the one that stays, or stays wider."""
    ends = side_lengths(piece.sawn.outline[0], piece.board.size)
    return "far" if ends["far"] > ends["start"] + ON_EDGE else "start"


def as_measured(piece: Piece, point: Point) -> Point:
    """A point of the board's frame as it is measured: along it from that end, across from the right edge."""
    along = piece.board.size.along(point)
    return (piece.board.length - along if measured_end(piece) == "far" else along, point[1])


def steps(measured: MeasuredPiece, kerf: float, writer: Writer) -> tuple[str, ...]:
    """The steps for one piece, beginning with the board to take."""
    piece = measured.piece
    return (
        _take(piece),
        *(step for cut in piece.sawn.cuts for step in _cut_steps(cut, piece, writer)),
        *measured_steps(measured, writer),
        f"Keep the blade on the waste side of the line: it takes {writer.mm(kerf)}.",
    )


def _take(piece: Piece) -> str:
    board, end = board_text(piece.board), END_TEXT[measured_end(piece)]
    match piece.sawn.kept_end:
        case "start" | "far":
            return f"Take a {board}; its {end} stays. Measure from that end."
        case "both":
            return f"Take a {board}; both its ends stay. Measure from the {end}."
        case "neither":
            return (
                f"Take a {board}; neither end stays. Mark where each long edge begins, "
                f"measured from the {end}, and each length from there."
            )


def _cut_steps(cut: Cut, piece: Piece, writer: Writer) -> Iterator[str]:
    if cut.drilled:
        yield from _drill_steps(cut, piece, writer)
        if not cut.is_drilled_only:
            yield "Saw the rest by the table."
    elif cut.kind == "hole":
        yield f"Cut out the opening for {cut.barrier.name} by the table."
    elif cut.kind == "notch":
        yield from _notch_steps(cut, writer)
    elif cut.kind == "scribe":
        yield (
            f"No straight cut keeps the gap along {cut.barrier.name}: mark the curve by the table, "
            "saw along it."
        )
    else:
        yield _straight_step(cut, writer)


def _straight_step(cut: Cut, writer: Writer) -> str:
    match cut.kind:
        case "crosscut":
            return f"Square cut along {cut.barrier.name}: set the saw to {writer.degrees(cut.angle)}."
        case "rip" | "taper":
            return f"Rip along {cut.barrier.name} from end to end, between the widths given."
    if abs(cut.angle) > SAW_REACH:
        return (
            f"{KIND_TEXT[cut.kind].capitalize()} along {cut.barrier.name}: too slanted for the saw's swing; "
            "mark its two ends and saw from one to the other."
        )
    edge = "right" if cut.angle > 0 else "left"
    return (
        f"{KIND_TEXT[cut.kind].capitalize()} along {cut.barrier.name}: turn the saw "
        f"{writer.degrees(abs(cut.angle))} from square, the {edge} long edge staying longer."
    )


def _drill_steps(cut: Cut, piece: Piece, writer: Writer) -> Iterator[str]:
    for thing in cut.drilled:
        yield from _drill_step(thing, piece, writer)
    if len(cut.drilled) > 1:
        names = " and ".join(thing.name for thing in cut.drilled)
        yield f"The holes for {names} run into each other: saw out what is left between them."
    if cut.kind == "hole":
        yield "If it cannot be taken off, saw across through the hole and glue the cut-off piece behind it."


def _drill_step(thing: Barrier, piece: Piece, writer: Writer) -> Iterator[str]:
    assert thing.centre is not None
    assert thing.radius is not None
    along, across = as_measured(piece, piece.board.frame.to_board(thing.centre))
    yield (
        f"Drill Ø {writer.mm(2 * (thing.radius + thing.gap))} for {thing.name}: centre {writer.mm(along)} "
        f"from the {END_TEXT[measured_end(piece)]}, {writer.mm(across)} from the right long edge."
    )
    if min(along, piece.board.length - along, across, piece.board.width - across) < CENTRED:
        yield "Clamp a waste board tight against the edge first: the drill's centre has no hold there."


def _notch_steps(cut: Cut, writer: Writer) -> Iterator[str]:
    if any(leg.is_round for leg in legs_of(cut.points)):
        diameter = writer.mm(2 * cut.barrier.gap)
        yield f"Notch at {cut.barrier.name}: drill the inner corner Ø {diameter} first."
    yield "Saw both legs up to the inner corner by the table; do not saw past it."


def flags(piece: Piece, doubt: tuple[str, float] | None, writer: Writer) -> Iterator[str]:
    """What to watch with this piece."""
    if piece.can_be_left_out:
        yield "May be left out: the gap stays inside its tolerance without it."
    elif piece.is_sliver:
        yield "Sliver: glue it to its neighbour. Never hold a small piece by hand at the saw; clamp it."
    for cut in piece.sawn.cuts:
        if cut.is_set:
            continue
        yield (
            f"No step of the saw keeps the gap along {cut.barrier.name}: set it between steps, to "
            f"{writer.degrees(abs(cut.angle))}."
        )
    if doubt is not None:
        yield f"Measure this one at the wall: {doubt[0]} is known only to ±{writer.mm(doubt[1])} here."
    if not piece.sawn.is_inside_band:
        yield "The gap leaves its tolerance here: measure this piece at the wall."

"""What to do with one piece, in sentences in the order of the work."""

from collections.abc import Iterator

from engine.cutting.cuts import Cut, Kind
from engine.cutting.legs import legs_of
from engine.geometry.barrier import Barrier
from engine.planning.pieces import Piece
from engine.wire.figures import Writer

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
HAND_TEXT = {"L": "left", "R": "right"}
END_TEXT = {
    "start": "start end",
    "far": "far end",
    "both": "start end",
    "neither": "start end of the whole board",
}


def steps(piece: Piece, barriers: dict[str, Barrier], kerf: float, writer: Writer) -> tuple[str, ...]:
    """The steps for one piece, beginning with the board to take."""
    return (
        _take(piece),
        *(step for cut in piece.sawn.cuts for step in _cut_steps(cut, piece, barriers, writer)),
        f"Keep the blade on the waste side of the line: it takes {writer.mm(kerf)}.",
    )


def _take(piece: Piece) -> str:
    hand = HAND_TEXT[piece.board.hand]
    match piece.sawn.kept_end:
        case "start" | "far" as end:
            return f"Take a {hand} board; its {END_TEXT[end]} stays. Measure from that end."
        case "both":
            return f"Take a {hand} board; both its ends stay."
        case "neither":
            return f"Take a {hand} board; neither end stays. Measure from its start end."


def _cut_steps(cut: Cut, piece: Piece, barriers: dict[str, Barrier], writer: Writer) -> Iterator[str]:
    barrier = barriers[cut.barrier]
    if cut.kind == "hole" or (cut.kind == "notch" and barrier.radius is not None):
        yield from _round_steps(cut, piece, barrier, writer)
    elif cut.kind == "notch":
        yield from _notch_steps(cut, barrier, writer)
    elif cut.kind == "scribe":
        yield f"No straight cut keeps the gap along {cut.barrier}: mark the curve by the table, saw along it."
    else:
        yield _straight_step(cut, writer)


def _straight_step(cut: Cut, writer: Writer) -> str:
    match cut.kind:
        case "crosscut":
            return f"Square cut along {cut.barrier}: set the saw to {writer.degrees(cut.angle)}."
        case "rip" | "taper":
            return f"Rip along {cut.barrier} from end to end, between the widths given."
    edge = "right" if cut.angle > 0 else "left"
    return (
        f"{KIND_TEXT[cut.kind].capitalize()} along {cut.barrier}: turn the saw "
        f"{writer.degrees(abs(cut.angle))} from square, the {edge} long edge staying longer."
    )


def _round_steps(cut: Cut, piece: Piece, barrier: Barrier, writer: Writer) -> Iterator[str]:
    if barrier.radius is None or barrier.centre is None:
        yield f"Cut out the opening for {barrier.name} by the table."
        return
    along, across = piece.board.frame.to_board(barrier.centre)
    if piece.sawn.kept_end == "far":
        along = piece.board.length - along
    diameter = 2 * (barrier.radius + barrier.gap)
    yield (
        f"Drill Ø {writer.mm(diameter)} for {barrier.name}: centre {writer.mm(along)} from the "
        f"{END_TEXT[piece.sawn.kept_end]}, {writer.mm(across)} from the right long edge."
    )
    if cut.kind == "hole":
        yield "If it cannot be taken off, saw across through the hole and glue the cut-off piece behind it."


def _notch_steps(cut: Cut, barrier: Barrier, writer: Writer) -> Iterator[str]:
    rounds = [leg for leg in legs_of(cut.points) if leg.is_round]
    if rounds:
        yield f"Notch at {cut.barrier}: drill the inner corner Ø {writer.mm(2 * barrier.gap)} first."
    yield "Saw both legs up to the inner corner by the table; do not saw past it."


def flags(piece: Piece, doubt: tuple[str, float] | None, writer: Writer) -> Iterator[str]:
    """What to watch with this piece."""
    if piece.can_be_left_out:
        yield "May be left out: the gap stays inside its tolerance without it."
    elif piece.is_sliver:
        yield "Sliver: glue it to its neighbour. Never hold a small piece by hand at the saw; clamp it."
    unset = [cut for cut in piece.sawn.cuts if not cut.is_set]
    for cut in unset:
        yield (
            f"No step of the saw keeps the gap along {cut.barrier}: set it between steps, to "
            f"{writer.degrees(abs(cut.angle))}."
        )
    if doubt is not None:
        yield f"Measure this one at the wall: {doubt[0]} is known only to ±{writer.mm(doubt[1])} here."
    if not piece.sawn.is_inside_band:
        yield "The gap leaves its tolerance here: measure this piece at the wall."

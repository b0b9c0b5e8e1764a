"""What is said of a piece that was measured at the wall: on its card, and before the lengths are taken."""

from collections.abc import Iterator

from engine.model.job import Cutting
from engine.planning.measured_at_wall import SIDES, MeasuredPiece, planned_length
from engine.wire.figures import Writer
from engine.wire.piece_words import side_name

# What a tape cannot tell is no difference, mm.
SAME = 0.05
KEEPS_PLAN = (
    "Two lengths do not say all of this cut: its marks, angle and drawing are still the plan's. "
    "Draw the cut anew at the wall before sawing."
)


def measured_flags(measured: MeasuredPiece, cutting: Cutting, writer: Writer) -> Iterator[str]:
    """What to know of a measured piece at the saw; first of all that it is one."""
    if measured.fault is not None:
        yield writer.sentence(measured.fault.sentence)
    if measured.fault is not None or not measured.lengths:
        return
    lengths = (
        f"{side_name(side, cutting)} {writer.length(length)} instead of "
        f"{writer.length(planned_length(measured.planned, side))}"
        for side, length in measured.lengths.items()
    )
    yield f"Measured at the wall: {', '.join(lengths)}."
    if not measured.follows:
        yield KEEPS_PLAN


def measured_steps(measured: MeasuredPiece, writer: Writer) -> Iterator[str]:
    """How to place the blade where the saw's steps do not fit the line between the two lengths."""
    if measured.off >= SAME:
        yield (
            f"The saw's nearest step moves either end of the cut by {writer.mm(measured.off)}: "
            "let the blade meet your line half-way across the board."
        )


def differences(measured: MeasuredPiece, cutting: Cutting, writer: Writer) -> Iterator[str]:
    """How the lengths measured stand to the plan's, to be read before they are taken."""
    for side in SIDES:
        if side in measured.lengths:
            name = side_name(side, cutting).capitalize()
            yield _difference(name, measured.lengths[side], planned_length(measured.planned, side), writer)
    if measured.fault is None and measured.follows:
        now, before = (abs(piece.sawn.saw_angle) for piece in (measured.piece, measured.planned))
        same = writer.degrees(now) == writer.degrees(before)
        instead = "as planned" if same else f"instead of {writer.degrees(before)}"
        yield f"Saw angle {writer.degrees(now)}, {instead}."
    elif measured.fault is None:
        yield KEEPS_PLAN


def _difference(name: str, length: float, planned: float, writer: Writer) -> str:
    by, plan = length - planned, writer.mm(planned)
    if abs(by) < SAME:
        return f"{name} as planned, {plan}."
    return f"{name} {writer.mm(abs(by))} {'longer' if by > 0 else 'shorter'} than the planned {plan}."

"""The long straight cut in sentences: how the row is laid, struck, taken up and sawn."""

from collections.abc import Iterator

from engine.planning.long_boards import CrossedBoard
from engine.planning.long_cut import LongCutPlan
from engine.wire.figures import Writer
from engine.wire.piece_words import END_TEXT, board_text

CAUTIONS = (
    "Lift the whole unit off before you saw. Never cut over heating film, its cables or a finished "
    "floor: the blade goes deeper than the board.",
    "Saw on supports along both sides of the cut, guard on, with extraction and eye, ear and dust "
    "protection. Clamp the unit and the guide; hold neither by hand.",
    "Let no one stand where the strip falls, and clear it away only when the blade has come to rest.",
    "The seam takes all the movement of the floor on this side. Leave the other edges their full gap and "
    "fill the seam with a filler that stays elastic, by its maker’s instructions.",
)

AS_IT_LIES = (
    "The floor was taken as it lies: the picture and the rough lengths are still those set out. The marks "
    "are measured on the laid floor, so the cut itself follows it. Measure them after the last row lies."
)


def steps(plan: LongCutPlan, writer: Writer) -> Iterator[str]:
    """What to do, in the order of the work, once two marks are measured."""
    yield (
        f"Lay the last row along {plan.wall.name} long, each piece at its rough length, and close the "
        "joints. Glue what is too small to hold to its neighbour, and let it set."
    )
    yield (
        "Carry each mark across the joint onto the row. Take the row up as one unit: tape it across the "
        "joints and clamp two battens over it."
    )
    yield from _strike(plan, writer)
    yield from _guide(plan, writer)
    yield (
        f"Saw in one pass; the blade lies on the waste’s side. Lay the unit back: the gap is to be "
        f"{writer.mm(plan.line.gaps[0])} at {plan.wall.from_} and "
        f"{writer.mm(plan.line.gaps[-1])} at {plan.wall.to}."
    )


def _strike(plan: LongCutPlan, writer: Writer) -> Iterator[str]:
    """The two marks farthest apart make the line, the others prove it."""
    order = sorted(range(len(plan.stations)), key=lambda number: plan.stations[number])
    first, last, *others = (order[0], order[-1], *order[1:-1])
    ends = " and ".join(
        f"{writer.mm(plan.at_marks[number][0])} from mark {number + 1}" for number in (first, last)
    )
    yield f"Measure {ends} towards the tile or wall, square to the cut. The line through both is the cut."
    if others:
        checks = ", ".join(f"{writer.mm(plan.at_marks[n][0])} from mark {n + 1}" for n in others)
        yield f"Check it: it must pass {checks}."


def _guide(plan: LongCutPlan, writer: Writer) -> Iterator[str]:
    guide = plan.record.guide
    if guide is None:
        yield "Clamp the guide. Enter its offset, from saw plate to blade, and its line is given here too."
    elif plan.record.guide_on == "floor":
        yield f"Clamp the guide on the floor’s side, its edge {writer.mm(guide)} from the cut."
    else:
        off = writer.mm(guide + plan.kerf)
        yield f"Clamp the guide on the waste’s side, its edge {off} beyond the cut: saw plate and kerf."


def take(board: CrossedBoard, writer: Writer) -> str:
    """What to lay of one board."""
    kind = board_text(board.board)
    if board.end is None:
        return f"Whole {kind}"
    return f"{kind.capitalize()}, {writer.mm(board.rough)} from its {END_TEXT[board.end]}"


def board_flags(board: CrossedBoard) -> Iterator[str]:
    """What to know of one board before it is laid."""
    if board.is_sliver:
        yield "too small to hold alone: glue it to its neighbour before the cut"
    if board.also:
        yield f"cut it at {' and '.join(board.also)} first, by its own card"

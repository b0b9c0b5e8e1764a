"""What each tool does on a piece, in sentences in the order of the work."""

from collections.abc import Iterator, Sequence

from engine.cutting.cuts import Cut
from engine.model.job import Cutting
from engine.planning.edge_names import as_marked
from engine.planning.pieces import Glued, Piece
from engine.planning.saw_order import across_of, blade_side, keeps_start, turn_for
from engine.planning.tool_steps import Slot, ToolStep, is_hand_near, reach_of, tool_steps
from engine.planning.tools import mitre_saw
from engine.wire.board_words import EDGE_TEXT
from engine.wire.figures import Writer
from engine.wire.piece_words import END_TEXT, KIND_TEXT, as_measured, measured_end

# A drill's centre nearer to the board's edge than this breaks out, mm.
CENTRED = 5.0
BLADE = {
    "beyond the line": "Keep the blade on the waste side of the line: it takes {kerf}.",
    "half the line": "The blade runs on the middle of the line and takes {half} of the piece: "
    "mark each line {half} further on, on the waste side.",
}


def tool_sentences(piece: Piece, cutting: Cutting, writer: Writer) -> Iterator[str]:
    """The sentences for all steps on a piece."""
    steps = tool_steps(piece, cutting)
    for number, step in enumerate(steps):
        yield from _sentences(step, piece, cutting, writer)
        if step.work == "drill" and _is_last_of_drilled(steps, number):
            yield from _holes_that_meet(step)


def blade_sentence(cutting: Cutting, writer: Writer) -> str:
    """Where the blade runs against a line."""
    return BLADE[cutting.blade_takes].format(kerf=writer.mm(cutting.kerf), half=writer.mm(cutting.kerf / 2))


def safe_way(piece: Piece, cutting: Cutting, writer: Writer) -> Iterator[str]:
    """How to cut what is too short to be held by hand. Common practice, no source."""
    if not is_hand_near(piece, cutting):
        return
    long = writer.mm(reach_of(piece) + cutting.hand_clearance)
    has_stop = any(step.stop is not None for step in tool_steps(piece, cutting))
    stop = "Set it against the stop, clamp it, then take the stop away" if has_stop else "Use no stop"
    yield (
        f"Too short to hold by hand: a hand stays {writer.mm(cutting.hand_clearance)} from the blade. "
        f"Cut it off a whole board or an offcut at least {long} long, and clamp the long side. {stop}: "
        "a short piece caught between stop and blade is thrown. Let the blade stand still before you lift it."
    )


def _sentences(step: ToolStep, piece: Piece, cutting: Cutting, writer: Writer) -> Iterator[str]:
    where = step.cut.barrier.name
    match step.work:
        case "turn":
            yield from _turn(step, piece, cutting, writer)
        case "line":
            yield _line(step, piece, cutting, writer)
        case "rip":
            yield (
                f"Rip along {where} from end to end, between the widths given: {step.tool}"
                f"{_guided(step, cutting, writer)}."
            )
        case "drill":
            yield from _drill(step, piece, cutting, writer)
        case "slot":
            assert step.slot is not None
            yield _slot(step, step.slot, cutting, writer)
        case "inside":
            yield (
                "Saw the rest by the table."
                if step.cut.drilled
                else f"Cut out the opening for {where} by the table: {step.tool}."
            )
        case "legs":
            yield (
                "Saw the rest by the table."
                if step.cut.drilled
                else f"Saw both legs up to the inner corner by the table, with the {step.tool}; "
                "do not saw past it."
            )
        case "joined":
            assert piece.glued is not None
            yield _joined(piece.id, piece.glued, where)
        case "marks":
            yield (
                f"No straight cut keeps the gap along {where}: mark the curve by the table, "
                f"saw along it with the {step.tool}."
            )


def _turn(step: ToolStep, piece: Piece, cutting: Cutting, writer: Writer) -> Iterator[str]:
    """How the mitre saw is set, and how the board lies on it."""
    cut, where, lies = step.cut, step.cut.barrier.name, step.lies
    assert lies is not None
    at_fence = long_edge(lies.is_right, cutting)
    if step.turned == "square":
        yield f"Square cut along {where}: set the mitre saw to {writer.degrees(0.0)}."
    else:
        name, way = KIND_TEXT[cut.kind].capitalize(), writer.degrees(abs(cut.angle))
        edge = f"{long_edge(cut.angle > 0, cutting)} {longer(piece)}"
        yield f"{name} along {where}: turn the saw {way} from square to the {step.turned}, the {edge}."
    yield (
        f"Lay the board with its face {cutting.face}, its {at_fence} against the fence."
        f"{_at_stop(step, piece, cutting, writer)}"
    )
    if cut.kind == "corner" and lies.is_right != (cut.angle > 0):
        yield "What falls lies at the fence: let the blade stand still before you lift it."


def long_edge(is_right: bool, cutting: Cutting) -> str:
    """A long edge, as it is called where the board is marked."""
    return EDGE_TEXT[as_marked("right" if is_right else "left", cutting)]


def longer(piece: Piece) -> str:
    """What is said of the edge to whose side a cut leans: with leaning ends it need not be the longer."""
    return "reaching on past square" if piece.board.size.lean else "staying longer"


def _at_stop(step: ToolStep, piece: Piece, cutting: Cutting, writer: Writer) -> str:
    lies = step.lies
    assert lies is not None
    if step.stop is None:
        return f" {_no_stop(piece, cutting)}Cut to the marks.{_carried(cutting)}"
    if lies.tip is not None:
        return (
            f" Stop {writer.mm(step.stop)} to the {blade_side(lies)} of the blade, along the fence; "
            "the end just sawn goes against it. Let it only touch: pressed, a thin tip gives way."
        )
    end = END_TEXT["start" if keeps_start(step.cut) else "far"]
    beyond = ", farther than the board is long" if step.stop > piece.board.length else ""
    return (
        f" Stop {writer.mm(step.stop)} to the {blade_side(lies)} of the blade, along the fence{beyond}; "
        f"the {end} goes against it."
    )


def _no_stop(piece: Piece, cutting: Cutting) -> str:
    """Why no stop can be set for a cut."""
    if piece.sawn.kept_end == "neither":
        if any(step.stop is not None for step in tool_steps(piece, cutting)):
            return "First cut, no stop: neither end stays, and the other cut is measured from this one. "
        return "No stop: neither end stays. "
    if len(piece.sawn.cuts) > 1:
        return "No stop: the end or corner that would meet it falls. "
    return ""


def _carried(cutting: Cutting) -> str:
    """Marks on the side that lies underneath are not seen at the blade."""
    if (cutting.face == "up") == (cutting.marked_on == "face"):
        return ""
    return " They lie underneath: carry them over the edges first."


def _joined(name: str, glued: Glued, where: str) -> str:
    """What is said of a cut that goes through several pieces, on the card of one that is not at the fence."""
    if glued.fence is not None and name != glued.leads:
        return f"Along {where} it is cut as one with {glued.leads}, whose card has the saw’s setting."
    return f"Along {where} all are cut as one, by the glue-up’s marks."


def _line(step: ToolStep, piece: Piece, cutting: Cutting, writer: Writer) -> str:
    why = ", on the joined boards" if piece.glued else _not_on_saw(step.cut, piece, cutting, writer)
    return (
        f"{KIND_TEXT[step.cut.kind].capitalize()} along {step.cut.barrier.name}, "
        f"{writer.degrees(abs(step.cut.angle))} from square{why}: mark its two ends "
        f"and saw from one to the other with the {step.tool}{_guided(step, cutting, writer)}."
    )


def _not_on_saw(cut: Cut, piece: Piece, cutting: Cutting, writer: Writer) -> str:
    """Why a straight cut is not made on the mitre saw."""
    saw = mitre_saw(cutting)
    turn = turn_for(cut, saw)
    if "mitre saw" not in cutting.tools or saw.only(turn) is None:
        return ", which no mitre saw here does"
    return (
        f", {writer.mm(across_of(piece, cut, saw))} across, where the mitre saw turned so reaches "
        f"{writer.mm(saw.reach_at(turn))}"
    )


def _guided(step: ToolStep, cutting: Cutting, writer: Writer) -> str:
    """How a saw is led along a line."""
    match step.tool:
        case "track saw":
            where = f"{writer.mm(cutting.guide)} from the marks" if cutting.guide else "on the two marks"
            return f", its guide laid {where}, on the side that stays"
        case "table saw":
            return ", its fence set to the width"
        case _:
            return ", along a straightedge clamped on"


def _drill(step: ToolStep, piece: Piece, cutting: Cutting, writer: Writer) -> Iterator[str]:
    assert step.diameter is not None
    thing = step.drilled
    if thing is None or step.centre is None:
        yield f"Notch at {step.cut.barrier.name}: drill the inner corner Ø {writer.mm(step.diameter)} first."
        return
    along, across = as_measured(piece, step.centre, cutting)
    yield (
        f"Drill Ø {writer.mm(step.diameter)} for {thing.name}: centre {writer.mm(along)} "
        f"from the {END_TEXT[measured_end(piece)]}, {writer.mm(across)} from the right long edge."
    )
    if min(along, piece.board.length - along, across, piece.board.width - across) < CENTRED:
        yield "Clamp a waste board tight against the edge first: the drill's centre has no hold there."


def _is_last_of_drilled(steps: Sequence[ToolStep], number: int) -> bool:
    """Is it the last hole of its cut?"""
    return not any(step.work == "drill" and step.cut is steps[number].cut for step in steps[number + 1 :])


def _holes_that_meet(step: ToolStep) -> Iterator[str]:
    if len(step.cut.drilled) > 1:
        names = " and ".join(thing.name for thing in step.cut.drilled)
        yield f"The holes for {names} run into each other: saw out what is left between them."


def _slot(step: ToolStep, slot: Slot, cutting: Cutting, writer: Writer) -> str:
    assert step.drilled is not None
    edge = EDGE_TEXT[as_marked(slot.side, cutting)] if slot.side else "sawn edge"
    return (
        f"If {step.drilled.name} cannot be taken off: saw a slot as wide as the hole from the {edge}, "
        f"the nearest, {writer.mm(slot.length)} long; glue the slip back in behind {step.drilled.name}."
    )

"""The steps of cutting one piece, in order, and the tool for each.

Which tool makes which cut, of those the user has, is common practice, without a source.
"""

from collections.abc import Iterator
from typing import Literal

from msgspec import Struct

from engine.cutting.at_fence import AtFence
from engine.cutting.cuts import Cut
from engine.cutting.legs import legs_of
from engine.cutting.saw_angles import Saw
from engine.geometry.barrier import Barrier
from engine.geometry.board import Side
from engine.geometry.plane import nearest_on_polyline
from engine.geometry.shapes import Point
from engine.model.job import Cutting, Tool
from engine.planning.pieces import Piece
from engine.planning.saw_order import (
    Turned,
    in_order,
    is_as_one,
    is_on_saw,
    lies_at_fence,
    stop_for,
    turn_for,
    turned_cuts,
    way_turned,
)
from engine.planning.tools import mitre_saw

StepTool = Tool | Literal["drill", "hand saw"]
Work = Literal["turn", "line", "rip", "drill", "slot", "inside", "legs", "marks", "joined"]

# Which tool is taken first for each sort of cut; what is there in any case comes last.
STRAIGHT: tuple[StepTool, ...] = ("track saw", "jigsaw", "hand saw")
ALONG: tuple[StepTool, ...] = ("table saw", "track saw", "jigsaw", "hand saw")
CURVED: tuple[StepTool, ...] = ("jigsaw", "hand saw")


class Slot(Struct, frozen=True, kw_only=True):
    """The way in for a pipe that cannot be taken off: from which side, and how far that is (mm).

    ``side`` is None for an edge made by the saw.
    """

    side: Side | None
    length: float


class ToolStep(Struct, frozen=True, kw_only=True):
    """One step on a piece. Lengths in mm, angles in degrees, points in the board's frame.

    ``work``: the saw is turned, a line is followed, ripped from end to end, a hole drilled, a slot sawn to
    it, an opening sawn inside, the legs of a notch sawn, or marks followed; ``joined``: the piece is glued to
    others, and the one cut through all is made with them.
    On the mitre saw the board ``lies`` so.
    """

    tool: StepTool
    work: Work
    cut: Cut
    turn: float | None = None
    turned: Turned | None = None
    lies: AtFence | None = None
    stop: float | None = None
    centre: Point | None = None
    diameter: float | None = None
    drilled: Barrier | None = None
    slot: Slot | None = None


def tool_steps(piece: Piece, cutting: Cutting) -> tuple[ToolStep, ...]:
    """All steps of one piece, its cuts in their order; none for a whole board."""
    cuts = in_order(piece, mitre_saw(cutting))
    return tuple(step for cut in cuts for step in _cut_steps(cut, piece, cutting))


def is_hand_near(piece: Piece, cutting: Cutting) -> bool:
    """Is the piece so short that a hand that holds it comes nearer to the blade than it may?

    A piece that hangs on another is not held by itself.
    """
    if piece.glued and piece.glued.leads != piece.id:
        return False
    return piece.sawn.kind != "whole" and reach_of(piece) < cutting.hand_clearance


def reach_of(piece: Piece) -> float:
    """How much of the piece there is to hold, along the board (mm)."""
    along = [piece.board.size.along(point) for point in piece.sawn.outline[0]]
    return max(along) - min(along)


def _cut_steps(cut: Cut, piece: Piece, cutting: Cutting) -> Iterator[ToolStep]:
    if is_as_one(piece, cut) and cut not in turned_cuts(piece, mitre_saw(cutting)):
        has_fence = piece.glued is not None and piece.glued.fence is not None
        on_saw = has_fence and "mitre saw" in cutting.tools
        yield ToolStep(tool="mitre saw" if on_saw else _first(STRAIGHT, cutting), work="joined", cut=cut)
        return
    match cut.kind:
        case "crosscut" | "mitre" | "corner":
            yield _straight(cut, piece, mitre_saw(cutting), cutting)
        case "rip" | "taper":
            # A fence gives one width; two widths need a guide along the line.
            tools = ALONG if cut.kind == "rip" else STRAIGHT
            yield ToolStep(tool=_first(tools, cutting), work="rip", cut=cut)
        case "scribe":
            yield ToolStep(tool=_first(CURVED, cutting), work="marks", cut=cut)
        case _:
            yield from _opened(cut, piece, cutting)


def _straight(cut: Cut, piece: Piece, saw: Saw, cutting: Cutting) -> ToolStep:
    turn = turn_for(cut, saw)
    if "mitre saw" not in cutting.tools or not is_on_saw(piece, cut, saw):
        return ToolStep(tool=_first(STRAIGHT, cutting), work="line", cut=cut)
    return ToolStep(
        tool="mitre saw",
        work="turn",
        cut=cut,
        turn=turn,
        turned=way_turned(turn),
        lies=lies_at_fence(piece, cut, saw),
        stop=stop_for(piece, cut, saw),
    )


def _opened(cut: Cut, piece: Piece, cutting: Cutting) -> Iterator[ToolStep]:
    """A notch or an opening: what is round is drilled, the rest sawn up to it."""
    saw = _first(CURVED, cutting)
    for thing in cut.drilled:
        assert thing.centre is not None
        assert thing.radius is not None
        yield ToolStep(
            tool="drill",
            work="drill",
            cut=cut,
            centre=piece.board.frame.to_board(thing.centre),
            diameter=2 * (thing.radius + thing.gap),
            drilled=thing,
        )
        if cut.kind == "hole":
            yield ToolStep(tool=saw, work="slot", cut=cut, drilled=thing, slot=_slot(thing, piece))
    if cut.is_drilled_only:
        return
    if cut.kind == "notch" and not cut.drilled and any(leg.is_round for leg in legs_of(cut.points)):
        yield ToolStep(tool="drill", work="drill", cut=cut, diameter=2 * cut.barrier.gap)
    yield ToolStep(tool=saw, work="inside" if cut.kind == "hole" else "legs", cut=cut)


def _slot(thing: Barrier, piece: Piece) -> Slot:
    """The shortest way from an edge of the piece to the hole."""
    assert thing.centre is not None
    assert thing.radius is not None
    centre, ring = piece.board.frame.to_board(thing.centre), piece.sawn.outline[0]
    edges = list(zip(ring, (*ring[1:], ring[0]), strict=True))
    ways = [nearest_on_polyline(centre, edge).distance for edge in edges]
    least = min(range(len(ways)), key=lambda index: round(ways[index], 6))
    return Slot(
        side=piece.board.size.edge_side(*edges[least]),
        length=ways[least] - thing.radius - thing.gap,
    )


def _first(wanted: tuple[StepTool, ...], cutting: Cutting) -> StepTool:
    """The first of these tools that there is; a hand saw always is."""
    return next(tool for tool in wanted if tool == "hand saw" or tool in cutting.tools)

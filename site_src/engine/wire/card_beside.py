"""What a card says beside the cut itself: its neighbours, its turn in laying, and what a voice says of it."""

from collections.abc import Iterable, Iterator

from engine.drawing.paths import polygon_path, spot
from engine.geometry.board import Side
from engine.model.job import Cutting
from engine.planning.edge_names import is_on_back
from engine.planning.floor_plan import FloorPlan
from engine.planning.neighbours import Neighbour
from engine.planning.setting_out import plan_setting_out
from engine.wire.drawings import CardNeighbour, Figure, Label
from engine.wire.figures import Writer
from engine.wire.long_cut_words import take
from engine.wire.piece_words import KIND_TEXT, board_text

SIDE_TEXT: dict[Side, str] = {
    "right": "right long edge",
    "far": "far end",
    "left": "left long edge",
    "start": "start end",
}
# The figures that are set at the saw; the rest can be read.
SPOKEN = ("left", "right")


def card_neighbours(beside: Iterable[Neighbour], cutting: Cutting) -> Iterator[CardNeighbour]:
    """Each neighbour with the edge that it lies against, the board lying face up in its place."""
    seen = " of the face" if is_on_back(cutting) else ""
    for neighbour in beside:
        piece = neighbour.piece
        kind = KIND_TEXT[piece.sawn.kind]
        what = kind if piece.sawn.kind == "whole" else f"{board_text(piece.board)}, {kind}"
        yield CardNeighbour(
            id=piece.id,
            words=f"At the {SIDE_TEXT[neighbour.side]}{seen}: {piece.id}, {what}",
            path=polygon_path(piece.outline),
            label=Label(text=piece.id, at=spot(piece.middle)),
        )


def laying_numbers(plan: FloorPlan) -> dict[str, int]:
    """Each piece's place, from 1, in the order of laying."""
    return {piece.id: number for number, piece in enumerate(plan_setting_out(plan).steps, 1)}


def long_flags(piece: str, plan: FloorPlan, writer: Writer) -> Iterator[str]:
    """A piece of a row that is laid long is not cut by its card."""
    for cut in plan.long_cuts:
        if cut is None or cut.fit is None:
            continue
        for board in cut.boards:
            if board.id == piece:
                yield (
                    f"Laid long for the cut along {cut.wall.name}: {take(board, writer).lower()}, or an "
                    "offcut no shorter. Do not cut it to these lengths."
                )


def spoken(figures: Iterable[Figure]) -> str:
    """Lengths and angles, each with its name and unit, as sentences."""
    said = (shown for shown in figures if shown.key in SPOKEN or shown.key.startswith("angle"))
    return " ".join(f"{shown.label}: {shown.text} {shown.unit}".rstrip() + "." for shown in said)

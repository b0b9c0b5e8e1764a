"""The pieces, row numbers and setting-out lines as a page draws them over the room."""

from collections import Counter
from collections.abc import Iterator
from math import atan2, degrees

from engine.drawing.paths import line_path, polygon_path, region_path, spot
from engine.model.laid import ROW_AXIS, SQUARE_TO_IT
from engine.planning.boards import HANDS
from engine.planning.floor_plan import FloorPlan
from engine.planning.line_names import shown_name
from engine.planning.pieces import Piece
from engine.planning.setting_out import plan_setting_out
from engine.setting_out.strike_lines import StrikeLine
from engine.wire.drawings import Figure, FloorDrawing, Label, Line, PieceDrawing
from engine.wire.figures import Writer, figure
from engine.wire.piece_words import HAND_TEXT
from engine.wire.room_view import lay_area_figure

# How far from the end of its line the middle of a name stands, mm.
NAME_IN = 500.0


def floor_view(plan: FloorPlan) -> FloorDrawing:
    """The floor to scale."""
    return FloorDrawing(
        lay_area=region_path(plan.room.lay_area),
        pieces=tuple(_piece(piece) for piece in plan.pieces),
        rows=tuple(_rows(plan)),
        lines=tuple(_lines(plan)),
    )


def _piece(piece: Piece) -> PieceDrawing:
    return PieceDrawing(
        id=piece.id,
        path=polygon_path(piece.outline),
        hand=piece.board.hand,
        kind=piece.sawn.kind,
        sliver=piece.is_sliver,
        at=spot(piece.middle),
    )


def _rows(plan: FloorPlan) -> Iterator[Label]:
    """The number of each row, at its first place."""
    firsts: dict[int, Piece] = {}
    for piece in plan.pieces:
        first = firsts.setdefault(piece.row, piece)
        if piece.place < first.place:
            firsts[piece.row] = piece
    for row, piece in sorted(firsts.items()):
        yield Label(text=str(row), at=spot(piece.middle))


def _lines(plan: FloorPlan) -> Iterator[Line]:
    """The row axis and the line square to it, as they are struck: each one path, however many parts."""
    lines = plan_setting_out(plan).lines
    for name in (ROW_AXIS, SQUARE_TO_IT):
        parts = [line for line in lines if line.wanted.name == name]
        if parts:
            yield Line(
                path="".join(line_path((part.start.at, part.end.at)) for part in parts),
                label=_line_label(shown_name(name), max(parts, key=lambda part: part.length)),
            )


def _line_label(name: str, line: StrikeLine) -> Label:
    """Near the end of its own line: where they cross the two names would cover each other."""
    ux, uy = line.wanted.direction
    x, y = line.end.at
    # Downwards on the drawing is upwards in the room; no name stands on its head.
    turn = -degrees(atan2(uy, ux) if ux >= 0 else atan2(-uy, -ux))
    return Label(text=name, at=spot((x - NAME_IN * ux, y - NAME_IN * uy)), turn=turn)


def _boards(plan: FloorPlan, places: tuple[str, str], writer: Writer) -> Iterator[Figure]:
    """How many boards of either hand, or of any where the pattern has one kind only; bound and waste."""
    supply, least = plan.supply, "proven least"
    if any(piece.board.is_handed for piece in plan.pieces):
        for hand in HANDS:
            key, count, bound = HAND_TEXT[hand], str(supply.count(hand)), str(supply.bound[hand])
            name, spoiled = f"{key.capitalize()} boards", _spoiled(supply.spoiled(hand))
            yield figure(f"boards {key}", name, count, "", "boards", places, (least, bound), *spoiled)
    else:
        yield figure("boards", "Boards", str(len(supply.boards)), "", "boards", places)
    bound = str(sum(supply.bound.values()))
    spoiled = _spoiled(sum(supply.spoiled(hand) for hand in HANDS))
    yield figure("proven least", "Boards, least", bound, "", "proven least", places, *spoiled)
    offcuts = ("offcuts left", str(sum(len(board.offcuts) for board in supply.boards)))
    yield figure("waste", "Waste", writer.length(100 * supply.waste), "%", "waste", offcuts)


def _spoiled(count: int) -> Iterator[tuple[str, str]]:
    """What a number of boards holds of those spoiled; nothing where none is."""
    if count:
        yield "spoiled, one more each", str(count)


def summary(plan: FloorPlan, writer: Writer) -> tuple[Figure, ...]:
    """The figures that tell what the floor takes."""
    cut = [piece for piece in plan.pieces if piece.sawn.kind != "whole"]
    kinds = Counter(piece.sawn.kind for piece in cut)
    places = ("pieces in all", str(len(plan.pieces)))
    limit = ("sliver limit", writer.mm(plan.job.cutting.sliver))
    return (
        lay_area_figure(plan.room, writer),
        *_boards(plan, places, writer),
        figure(
            "pieces to cut",
            "To cut",
            str(len(cut)),
            "",
            "pieces",
            places,
            *((kind, str(count)) for kind, count in sorted(kinds.items())),
        ),
        figure("slivers", "Slivers", str(sum(p.is_sliver for p in cut)), "", "slivers", limit),
    )

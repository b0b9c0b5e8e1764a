"""The pieces, row numbers and setting-out lines as a page draws them over the room."""

from collections import Counter
from collections.abc import Iterator
from math import cos, inf, radians, sin

from engine.drawing.paths import line_path, polygon_path, region_path, spot
from engine.geometry.shapes import Point, Ring
from engine.planning.floor_plan import FloorPlan
from engine.planning.pieces import Piece
from engine.planning.plan_file import boards_needed
from engine.wire.drawings import Figure, FloorDrawing, Label, Line, PieceDrawing
from engine.wire.figures import Writer, figure
from engine.wire.room_view import lay_area_figure

# How far beyond the floor a struck line is drawn, mm.
BEYOND = 120.0
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
    """The row axis through the anchor, and the line square to it."""
    axis, anchor = plan.job.floor.axis, plan.job.floor.anchor
    for name, angle in (("row axis", axis), ("square to it", axis + 90)):
        direction = (cos(radians(angle)), sin(radians(angle)))
        first, last = _across(plan.room.outline.ring, anchor, direction)
        # Each name near the end of its own line: at the anchor the two would cover each other.
        named = (last[0] - NAME_IN * direction[0], last[1] - NAME_IN * direction[1])
        yield Line(
            path=line_path((first, last)),
            label=Label(text=name, at=spot(named), turn=-angle),
        )


def _across(ring: Ring, through: Point, direction: Point) -> tuple[Point, Point]:
    """The line through a point, from one end of the room to the other."""
    least, most = inf, -inf
    for x, y in ring:
        along = (x - through[0]) * direction[0] + (y - through[1]) * direction[1]
        least, most = min(least, along), max(most, along)
    ends = (least - BEYOND, most + BEYOND)
    first, last = ((through[0] + end * direction[0], through[1] + end * direction[1]) for end in ends)
    return first, last


def _boards(plan: FloorPlan, places: tuple[str, str]) -> Iterator[Figure]:
    """How many boards of either hand; of any, where the pattern has one kind only."""
    boards = boards_needed(plan)
    if any(piece.board.is_handed for piece in plan.pieces):
        yield figure("boards left", "Left boards", str(boards["left"]), "", "boards", places)
        yield figure("boards right", "Right boards", str(boards["right"]), "", "boards", places)
    else:
        yield figure("boards", "Boards", str(sum(boards.values())), "", "boards", places)


def summary(plan: FloorPlan, writer: Writer) -> tuple[Figure, ...]:
    """The figures that tell what the floor takes."""
    cut = [piece for piece in plan.pieces if piece.sawn.kind != "whole"]
    kinds = Counter(piece.sawn.kind for piece in cut)
    places = ("pieces in all", str(len(plan.pieces)))
    limit = ("sliver limit", writer.mm(plan.job.cutting.sliver))
    return (
        lay_area_figure(plan.room, writer),
        *_boards(plan, places),
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

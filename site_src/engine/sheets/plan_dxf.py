"""The plan as a CAD drawing: room coordinates, one unit a millimetre, a layer for each sort of thing."""

from collections.abc import Iterator, Sequence

from engine.model.plan import PlanLine
from engine.planning.floor_plan import FloorPlan
from engine.planning.line_names import shown_name
from engine.sheets.dxf import Group, dxf_file, polyline, text

BOARDS = {"L": "BOARDS_LEFT", "R": "BOARDS_RIGHT"}
LAYERS = ("ROOM", "LAY_AREA", "FIXED", *BOARDS.values(), "PIECE_NAMES", "WALL_NAMES", "STRIKE_LINES")
# How far a wall's name stands off it, mm.
NAME_OFF = 90.0


def plan_dxf(plan: FloorPlan, lines: Sequence[PlanLine]) -> str:
    """Every piece as sawn, and the lines to strike; holes are rings of their own on their piece's layer."""
    return dxf_file(LAYERS, (*_entities(plan), *_strike_lines(lines)))


def _strike_lines(lines: Sequence[PlanLine]) -> Iterator[Group]:
    for line in lines:
        yield from polyline("STRIKE_LINES", (line.from_, line.to), closed=False)
        yield from text("STRIKE_LINES", line.to, shown_name(line.name))


def _entities(plan: FloorPlan) -> Iterator[Group]:
    for wall in plan.room.outline.walls:
        yield from polyline("ROOM", wall.points, closed=False)
        off = wall.curve.offset(wall.chord / 2) - NAME_OFF
        yield from text("WALL_NAMES", wall.at(wall.chord / 2, off), wall.name)
    for part in plan.room.lay_area:
        for ring in part:
            yield from polyline("LAY_AREA", ring, closed=True)
    for barrier in plan.room.barriers:
        if barrier.solid:
            yield from polyline("FIXED", barrier.points[:-1], closed=True)
    for piece in plan.pieces:
        for ring in piece.outline:
            yield from polyline(BOARDS[piece.board.hand], ring, closed=True)
        if piece.sawn.kind != "whole":
            turn = (piece.board.frame.angle + 90) % 180 - 90
            yield from text("PIECE_NAMES", piece.middle, piece.id, turn=turn)

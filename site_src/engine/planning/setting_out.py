"""What is set out on the floor before the first board: the lines, the first boards, the order of laying."""

from collections.abc import Sequence
from dataclasses import dataclass
from math import dist

from engine.geometry.frame import cos_sin
from engine.geometry.shapes import Point
from engine.model.job import Floor
from engine.patterns import find_pattern
from engine.patterns.lattice import cell_boards
from engine.patterns.pattern import LaidBoard, Pattern
from engine.patterns.row_lines import RowLines, cell_of, cell_point, row_lines
from engine.planning.floor_plan import FloorPlan, RoomPlan
from engine.planning.kept import Kept
from engine.planning.pieces import Piece
from engine.setting_out.clear_line import Sight
from engine.setting_out.laying_steps import FieldPart, laying_steps
from engine.setting_out.square import SquareCheck, square_check
from engine.setting_out.strike_lines import StrikeLine, WantedLine, strike_lines

ROW_AXIS, SQUARE_LINE = "row axis", "square line"
PARALLELS = (("left parallel", 1), ("right parallel", -1))

_Key = tuple[int, int, str]


@dataclass(frozen=True, kw_only=True, slots=True)
class SettingOut:
    """The sheet for the floor.

    ``at`` is where the first boards meet and row axis and square line cross: the anchor, or where that
    lies off the floor the nearest place of the pattern that is on it. ``steps`` are the pieces in the
    order of laying, the first ``field`` of them before the cut pieces that can wait; ``first`` is what is
    laid first, ``apart`` what touches nothing laid before it.
    """

    at: Point
    rows: RowLines
    lines: tuple[StrikeLine, ...]
    square: SquareCheck | None
    first: tuple[Piece, ...]
    steps: tuple[Piece, ...]
    field: int
    apart: tuple[Piece, ...]


def plan_setting_out(plan: FloorPlan) -> SettingOut:
    """What to strike and in which order to lay."""
    job = plan.job
    inputs = (plan.room.record, job.floor, job.cutting, plan.count_from)
    return _kept.get(inputs, lambda: _setting_out(plan))


_kept: Kept[SettingOut] = Kept()


def _setting_out(plan: FloorPlan) -> SettingOut:
    floor, pattern = plan.job.floor, find_pattern(plan.job.floor.pattern)
    rows = row_lines(pattern, floor)
    row, place = _first_cell(pattern, floor, plan.pieces)
    at = cell_point(pattern, floor, row, place)
    wanted = _wanted_lines(at, rows)
    sight = _sight(plan.room)
    keys = {_key(board) for board in cell_boards(pattern, floor, row, place)}
    parts = tuple(_part(piece, pattern, floor) for piece in plan.pieces)
    first = [i for i, piece in enumerate(plan.pieces) if _is_whole(piece) and _key(piece.board) in keys]
    first.sort(key=lambda index: parts[index].order)
    steps = laying_steps(parts, first)
    return SettingOut(
        at=at,
        rows=rows,
        lines=strike_lines(wanted, plan.room.lay_area, _corners(plan.room), sight),
        square=square_check(wanted[0], wanted[1], plan.room.lay_area, sight),
        first=tuple(plan.pieces[index] for index in first),
        steps=tuple(plan.pieces[index] for index in steps.order),
        field=steps.field,
        apart=tuple(plan.pieces[index] for index in steps.apart),
    )


def _wanted_lines(at: Point, rows: RowLines) -> tuple[WantedLine, ...]:
    """Row axis, the line square to it, and the parallels, which run as the axis does."""
    ux, uy = cos_sin(rows.direction)
    axis = WantedLine(name=ROW_AXIS, through=at, direction=(ux, uy))
    square = WantedLine(name=SQUARE_LINE, through=at, direction=(-uy, ux))
    parallels = (
        WantedLine(
            name=name,
            through=(at[0] - side * rows.parallel * uy, at[1] + side * rows.parallel * ux),
            direction=(ux, uy),
        )
        for name, side in PARALLELS
    )
    return (axis, square, *parallels)


def _first_cell(pattern: Pattern, floor: Floor, pieces: Sequence[Piece]) -> tuple[int, int]:
    """The cell where laying begins: all its boards whole, in the anchor's row if that has one.

    Then as near as can be to the anchor; a floor too small for any takes the best cell it has.
    """
    whole = {_key(piece.board) for piece in pieces if _is_whole(piece)}
    cells = sorted({cell_of(pattern, floor, piece.board) for piece in pieces})
    size = len(pattern.cell(floor).boards)

    def rank(cell: tuple[int, int]) -> tuple[int, bool, float]:
        have = sum(_key(board) in whole for board in cell_boards(pattern, floor, *cell))
        return size - have, cell[0] != 0, dist(cell_point(pattern, floor, *cell), floor.anchor)

    return min(cells, key=rank)


def _key(board: LaidBoard) -> _Key:
    return board.row, board.place, board.hand


def _is_whole(piece: Piece) -> bool:
    return piece.sawn.kind == "whole"


def _part(piece: Piece, pattern: Pattern, floor: Floor) -> FieldPart:
    """A piece as the laying order sees it: what is left of its board's own edges."""
    board = piece.board
    sides = []
    for ring in piece.ideal:
        for start, end in zip(ring, ring[1:] + ring[:1], strict=True):
            side = board.size.edge_side(board.frame.to_board(start), board.frame.to_board(end))
            if side is not None:
                sides.append((side, start, end))
    return FieldPart(order=pattern.order(board, floor), is_whole=_is_whole(piece), sides=tuple(sides))


def _corners(room: RoomPlan) -> dict[str, Point]:
    return {corner.name: corner.at for corner in room.outline.corners}


def _sight(room: RoomPlan) -> Sight:
    """All that stands up: the walls, an opening's or threshold's line left out, and the solid things."""
    walls = (line.points for line in room.outline.walls if line.wall.face not in ("opening", "threshold"))
    return Sight((*walls, *(barrier.points for barrier in room.barriers if barrier.solid)))

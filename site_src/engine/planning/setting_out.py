"""What is set out on the floor before the first board: the lines, the first boards, the order of laying."""

from collections.abc import Sequence
from math import dist

from msgspec import Struct
from msgspec.structs import replace

from engine.geometry.frame import Frame, cos_sin
from engine.geometry.kernel import kernel
from engine.geometry.shapes import Point, Region
from engine.model.job import Floor
from engine.model.laid import ROW_AXIS, SQUARE_TO_IT
from engine.patterns import find_pattern
from engine.patterns.lattice import boards_over, cell_boards
from engine.patterns.pattern import LaidBoard, Pattern
from engine.patterns.row_lines import RowLines, cell_of, cell_point, row_lines
from engine.planning.floor_plan import FloorPlan, RoomPlan
from engine.planning.kept import Kept
from engine.planning.lines_as_they_lie import PARALLELS, fitted_pieces, lines_as_they_lie, parallel
from engine.planning.pieces import Piece
from engine.planning.taken_floor import taken_in_use
from engine.setting_out.clear_line import Sight
from engine.setting_out.laying_steps import FieldPart, LayingSteps, laying_steps
from engine.setting_out.square import SquareCheck, square_check
from engine.setting_out.strike_lines import StrikeLine, WantedLine, strike_lines

# Struck as well where rows do not run along the axis, and where the first boards do not lie at the anchor.
ALONG_ROWS, START_LINE = "along the rows", "start line"

# Lines nearer to each other than this, and than this turned, are one (mm; sine).
SAME = 1e-6

_Key = tuple[int, int, str]


class SettingOut(Struct, frozen=True, kw_only=True):
    """The sheet for the floor.

    ``at`` is where the first boards meet: the anchor, or where that lies off the floor the nearest place
    of the pattern that is on it. The lines named in ``crossing`` cross there. ``steps`` are the pieces in
    the order of laying, the first ``field`` of them before the cut pieces that can wait; ``first`` is what
    is laid first, ``apart`` what touches nothing laid before it. ``covered`` is what the whole boards of the
    field cover: where it ends the cutting begins.
    """

    at: Point
    crossing: tuple[str, str]
    rows: RowLines
    lines: tuple[StrikeLine, ...]
    square: SquareCheck | None
    first: tuple[Piece, ...]
    steps: tuple[Piece, ...]
    field: int
    apart: tuple[Piece, ...]
    covered: Region

    @property
    def whole_boards(self) -> tuple[Piece, ...]:
        """The whole boards of the field."""
        return tuple(filter(_is_whole, self.steps[: self.field]))


def plan_setting_out(plan: FloorPlan) -> SettingOut:
    """What to strike and in which order to lay."""
    job = plan.job
    taken = taken_in_use(job.laid, job.floor)
    fitted = fitted_pieces(plan) if plan.as_it_lies else frozenset()
    inputs = (plan.room.record, job.floor, job.cutting, plan.count_from, taken, fitted)
    return _kept.get(inputs, lambda: _setting_out(plan))


_kept: Kept[SettingOut] = Kept()


def _setting_out(plan: FloorPlan) -> SettingOut:
    floor, pattern, room = plan.job.floor, find_pattern(plan.job.floor.pattern), plan.room
    rows = row_lines(pattern, floor)
    row, place = _first_cell(pattern, floor, plan.pieces)
    at = cell_point(pattern, floor, row, place)
    wanted, crossing = _wanted_lines(at, floor, rows)
    wanted = (*wanted, *lines_as_they_lie(plan, at, rows))
    sight = sight_in(room)
    first, steps = _laid(plan, pattern, cell_boards(pattern, floor, row, place))
    whole = [plan.pieces[index] for index in steps.order[: steps.field] if _is_whole(plan.pieces[index])]
    return SettingOut(
        at=at,
        crossing=crossing,
        rows=rows,
        lines=_in_order(strike_lines(wanted, room.lay_area, _corners(room), sight), crossing),
        square=_square(wanted, crossing, at, room, sight),
        first=tuple(plan.pieces[index] for index in first),
        steps=tuple(plan.pieces[index] for index in steps.order),
        field=steps.field,
        apart=tuple(plan.pieces[index] for index in steps.apart),
        covered=kernel().unite([(piece.board.ring,) for piece in whole]),
    )


def _wanted_lines(at: Point, floor: Floor, rows: RowLines) -> tuple[tuple[WantedLine, ...], tuple[str, str]]:
    """The two lines through the anchor; those through the first boards where they differ; the parallels.

    And the names of the two that cross where the first boards meet.
    """
    axis = _line(ROW_AXIS, floor.anchor, floor.axis)
    lines = [axis, _line(SQUARE_TO_IT, floor.anchor, floor.axis + 90)]
    along, across = _line(ALONG_ROWS, at, rows.direction), _line(START_LINE, at, rows.direction + 90)
    if not _same(along, axis):
        lines.append(along)
    if not any(_same(across, line) for line in lines):
        lines.append(across)
    crossing = tuple(next(line.name for line in lines if _same(line, wanted)) for wanted in (along, across))
    lines += (parallel(along, name, side * rows.parallel) for name, side in PARALLELS.items())
    return tuple(lines), (crossing[0], crossing[1])


def _in_order(lines: Sequence[StrikeLine], crossing: tuple[str, str]) -> tuple[StrikeLine, ...]:
    """The order of striking: where the row axis misses the floor, those that place the first boards lead."""
    if any(line.wanted.name == ROW_AXIS for line in lines):
        return tuple(lines)

    def rank(line: StrikeLine) -> int:
        return crossing.index(line.wanted.name) if line.wanted.name in crossing else len(crossing)

    return tuple(sorted(lines, key=rank))


def _line(name: str, through: Point, angle: float) -> WantedLine:
    return WantedLine(name=name, through=through, direction=cos_sin(angle))


def _same(one: WantedLine, other: WantedLine) -> bool:
    """Do both lie on each other, whichever way they run?"""
    (ux, uy), (vx, vy) = one.direction, other.direction
    dx, dy = other.through[0] - one.through[0], other.through[1] - one.through[1]
    return abs(ux * vy - uy * vx) < SAME and abs(ux * dy - uy * dx) < SAME


def _square(
    lines: Sequence[WantedLine], crossing: tuple[str, str], at: Point, room: RoomPlan, sight: Sight
) -> SquareCheck | None:
    """On the two lines through the anchor; where there is no room, on those through the first boards."""
    named = {line.name: line for line in lines}
    for names, through in (((ROW_AXIS, SQUARE_TO_IT), named[ROW_AXIS].through), (crossing, at)):
        first, second = (replace(named[name], through=through) for name in names)
        check = square_check(first, second, room.lay_area, sight)
        if check is not None:
            return check
    return None


def _laid(plan: FloorPlan, pattern: Pattern, cell: Sequence[LaidBoard]) -> tuple[list[int], LayingSteps]:
    """Indices of the first pieces, those of a cell that are whole, and the order of all."""
    frames: dict[_Key, Frame] = {}
    if plan.as_it_lies is not None:
        # Boards that have drifted touch as they did when they were set out.
        points = [point for polygon in plan.room.lay_area for point in polygon[0]]
        frames = {_key(board): board.frame for board in boards_over(pattern, plan.job.floor, points)}
    parts = [
        _part(piece, frames.get(_key(piece.board), piece.board.frame), pattern, plan.job.floor)
        for piece in plan.pieces
    ]
    keys = {_key(board) for board in cell}
    first = [i for i, piece in enumerate(plan.pieces) if _is_whole(piece) and _key(piece.board) in keys]
    first.sort(key=lambda index: parts[index].order)
    return first, laying_steps(parts, first)


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


def _part(piece: Piece, frame: Frame, pattern: Pattern, floor: Floor) -> FieldPart:
    """A piece as the laying order sees it: what is left of its board's own edges, the board in ``frame``."""
    board = piece.board
    sides = []
    for ring in piece.ideal:
        own = board.frame.ring_to_board(ring)
        for start, end in zip(own, own[1:] + own[:1], strict=True):
            side = board.size.edge_side(start, end)
            if side is not None:
                sides.append((side, frame.to_room(start), frame.to_room(end)))
    return FieldPart(order=pattern.order(board, floor), is_whole=_is_whole(piece), sides=tuple(sides))


def _corners(room: RoomPlan) -> dict[str, Point]:
    return {corner.name: corner.at for corner in room.outline.corners}


def sight_in(room: RoomPlan) -> Sight:
    """All that stands up: the walls, but no opening or threshold, and the solid things."""
    is_open: dict[bool, list[tuple[Point, ...]]] = {False: [], True: []}
    for line in room.outline.walls:
        is_open[line.wall.face in ("opening", "threshold")].append(line.points)
    things = (barrier.points for barrier in room.barriers if barrier.solid)
    return Sight((*is_open[False], *things), ways_out=tuple(is_open[True]), room=room.outline.ring)

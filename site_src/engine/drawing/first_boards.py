"""The boards that are laid first where they lie, and each hand of board as it is held, to tell them apart."""

from msgspec import Struct

from engine.drawing.board_shapes import BoardShape, board_shape
from engine.geometry.board import BoardSize
from engine.geometry.shapes import Point
from engine.patterns import find_pattern
from engine.patterns.edge_roles import Role, edge_roles
from engine.patterns.pattern import Edge, Hand
from engine.planning.floor_plan import FloorPlan
from engine.planning.setting_out import SettingOut

# So many boards are shown where laying begins, the later ones as far as they come into the picture.
SHOWN = 12
# Distance between two boards held side by side, and of a name from its board, in widths.
APART, NAME_OFF = 2.2, 0.7


class HeldBoard(Struct, frozen=True, kw_only=True):
    """A board held upright, its start end below; ``below`` is where its name stands."""

    shape: BoardShape
    below: Point


def roles_of(plan: FloorPlan) -> dict[Edge, Role]:
    """Which edges go in and which take, for the plan's pattern."""
    return edge_roles(find_pattern(plan.job.floor.pattern))


def first_shapes(plan: FloorPlan, sheet: SettingOut) -> tuple[BoardShape, ...]:
    """The boards that are laid first, in their order."""
    roles = roles_of(plan)
    boards = [piece.board for piece in sheet.steps[:SHOWN]]
    return tuple(board_shape(board.hand, board.size, board.frame.to_room, roles) for board in boards)


def what_is_seen(sheet: SettingOut) -> tuple[Point, ...]:
    """Points that the picture of the first boards must hold."""
    return (*(point for piece in (sheet.first or sheet.steps[:1]) for point in piece.board.ring), sheet.at)


def held_boards(plan: FloorPlan) -> tuple[HeldBoard, ...]:
    """Each hand of board there is, left ones first, side by side."""
    roles, width = roles_of(plan), plan.job.floor.board.width
    sizes: dict[Hand, BoardSize] = {}
    for piece in plan.pieces:
        sizes.setdefault(piece.board.hand, piece.board.size)
    return tuple(
        _held(hand, sizes[hand], column * (1 + APART) * width, roles)
        for column, hand in enumerate(sorted(sizes))
    )


def _held(hand: Hand, size: BoardSize, off: float, roles: dict[Edge, Role]) -> HeldBoard:
    def upright(point: Point) -> Point:
        return off - point[1], point[0]

    below = (off - size.width / 2, min(0.0, size.lean) - NAME_OFF * size.width)
    return HeldBoard(shape=board_shape(hand, size, upright, roles), below=below)

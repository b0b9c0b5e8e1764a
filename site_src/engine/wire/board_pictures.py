"""A board face up with its heading, tongues and grooves, as a page draws it."""

from collections.abc import Mapping

from engine.drawing.board_shapes import BoardShape
from engine.drawing.paths import line_path, polygon_path, ring_path, spot
from engine.geometry.board import Side
from engine.geometry.shapes import Point
from engine.patterns.edge_roles import Role
from engine.patterns.pattern import Edge, Hand
from engine.wire.drawings import BoardPicture, Label


def board_picture(shape: BoardShape, name: str, at: Point | None = None) -> BoardPicture:
    """The picture of a board, its name ``at`` a point, else on the board."""
    return BoardPicture(
        hand=shape.hand,
        path=polygon_path(shape.outline),
        goes_in="".join(map(ring_path, shape.tongues)),
        takes="".join(map(line_path, shape.grooves)),
        heading="".join(map(line_path, shape.arrow)),
        label=Label(text=name, at=spot(at or shape.name_at)),
    )


def sides_of(roles: Mapping[Edge, Role], hand: Hand, role: Role) -> tuple[Side, ...]:
    """The sides of a hand that have a role, long edges first."""
    return tuple(side for side in ("left", "right", "start", "far") if roles.get((hand, side)) == role)

"""One board of 600 × 90 with walls round it, in its own frame, so that all can be worked out by hand."""

from math import hypot

from engine.cutting.gap_field import BoardGapField, GapField
from engine.cutting.sawn_piece import SawnPiece, plan_cuts, saw_piece
from engine.geometry.barrier import Barrier
from engine.geometry.board import BoardSize
from engine.geometry.frame import Frame
from engine.geometry.kernel import kernel
from engine.geometry.plane import circle
from engine.geometry.shapes import Point
from engine.geometry.tolerances import ARC
from engine.setting_out.lay_area import lay_area

SIZE = BoardSize(600.0, 90.0)
FAR = 5000.0


def wall(*points: Point, gap: float = 10.0, tolerance: float = 2.0, name: str = "wall") -> Barrier:
    """A wall along a line, the room on its left."""
    return Barrier(name=name, path="", points=points, gap=gap, tolerance=tolerance)


def pipe(x: float, y: float, diameter: float, gap: float = 8.0, tolerance: float = 2.0) -> Barrier:
    ring = circle((x, y), diameter / 2, ARC)
    return Barrier(
        name="pipe", path="", points=(*ring, ring[0]), gap=gap, tolerance=tolerance, solid=True,
        centre=(x, y), radius=diameter / 2,
    )  # fmt: skip


def block(*ring: Point, gap: float = 10.0, tolerance: float = 2.0) -> Barrier:
    """Something fixed with corners, counter-clockwise."""
    return Barrier(name="block", path="", points=(*ring, ring[0]), gap=gap, tolerance=tolerance, solid=True)


def wall_for(
    start: Point, end: Point, gap: float = 10.0, tolerance: float = 2.0, name: str = "wall"
) -> Barrier:
    """The straight wall, far longer than the board, whose nominal cut runs from ``start`` to ``end``."""
    (ax, ay), (bx, by) = start, end
    length = hypot(bx - ax, by - ay)
    ux, uy = (bx - ax) / length, (by - ay) / length
    off_x, off_y = uy * gap, -ux * gap
    first = (ax + off_x - 2000 * ux, ay + off_y - 2000 * uy)
    last = (bx + off_x + 2000 * ux, by + off_y + 2000 * uy)
    return wall(first, last, gap=gap, tolerance=tolerance, name=name)


def pieces(*barriers: Barrier, saw_step: float = 0.0, size: BoardSize = SIZE) -> list[SawnPiece]:
    """The pieces of the board, from its start end on, in a room bounded by the barriers and else far away."""
    open_to = lay_area(((-FAR, -FAR), (FAR, -FAR), (FAR, FAR), (-FAR, FAR)), barriers)
    behind = [(_behind(barrier),) for barrier in barriers if not barrier.solid]
    region = kernel().subtract(open_to, kernel().unite(behind))
    (parts,) = kernel().clip(region, [size.ring])
    field = BoardGapField(GapField(barriers), Frame(0.0, 0.0, 0.0))
    in_order = sorted(parts, key=lambda part: min(part[0]))
    planned = [plan_cuts(part, size, field, saw_step) for part in in_order]
    return [saw_piece(each, each.treatments)[0] for each in planned]


def piece(*barriers: Barrier, saw_step: float = 0.0, size: BoardSize = SIZE) -> SawnPiece:
    """The one piece of the board."""
    (only,) = pieces(*barriers, saw_step=saw_step, size=size)
    return only


def _behind(barrier: Barrier) -> tuple[Point, ...]:
    """What lies to the right of a wall's line, as deep as matters."""
    (ax, ay), (bx, by) = barrier.points[0], barrier.points[-1]
    length = hypot(bx - ax, by - ay)
    nx, ny = (by - ay) / length * 2000, -(bx - ax) / length * 2000
    return (*reversed(barrier.points), (ax + nx, ay + ny), (bx + nx, by + ny))

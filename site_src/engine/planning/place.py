"""The pattern where it is put by hand: quick enough to follow a finger."""

from msgspec import Struct
from msgspec.structs import replace

from engine.geometry.kernel import kernel
from engine.geometry.shapes import Point, Polygon, polygon_area
from engine.model.job import Floor, Job
from engine.planning.best_place import phase_cell
from engine.planning.moving_field import MovingField, field_edges, moving_field
from engine.planning.pieces import CRUMB
from engine.setting_out.measures import too_small
from engine.setting_out.rating import PlacedBoard, Rated, moved, outlines, rate


class Place(Struct, frozen=True, kw_only=True):
    """Where the pattern lies: the ``field`` moved by ``way`` in the room.

    ``phase`` counts from the room's own origin, so that it stays while the anchor moves by whole cells.
    """

    field: MovingField
    way: Point
    phase: tuple[float, float]


def place_of(job: Job) -> Place:
    """The place that the job gives the pattern. Raises Refused."""
    field = moving_field(job)
    phase = field.cell.phase_of(job.floor.anchor)
    return Place(field=field, way=field.cell.shift(*phase), phase=phase)


def rated_place(job: Job) -> Rated:
    """The pieces along the edges that matter, where the job puts the pattern. Raises Refused."""
    place = place_of(job)
    found = field_edges(job, place.field)
    return rate(place.field.lay_area, moved(found.boards, place.way), found.edges, job.wishes.measure)


def slivers_at(job: Job) -> int:
    """How many slivers lie along all edges, among the ideal pieces, where the job puts the pattern.

    Slower than the rest: all boards are clipped. Raises Refused.
    """
    place = place_of(job)
    boards = moved(place.field.boards, place.way)
    parts = kernel().clip(place.field.lay_area, list(outlines(boards).values()))
    return sum(
        _is_sliver(part, board, job.cutting.sliver)
        for board, region in zip(boards.values(), parts, strict=True)
        for part in region
    )


def _is_sliver(part: Polygon, board: PlacedBoard, limit: float) -> bool:
    """Narrower than the limit, or shorter, a part of a board has at most the area of a strip so wide."""
    most = limit * (board.size.length + board.size.end)
    return CRUMB < polygon_area(part) < most and too_small(part, board, limit)


def moved_to(floor: Floor, phase: tuple[float, float]) -> Floor:
    """The floor with its pattern moved the shortest way to a phase."""
    cell = phase_cell(floor)
    here = cell.phase_of(floor.anchor)
    dx, dy = cell.nearest(phase[0] - here[0], phase[1] - here[1])
    return replace(floor, anchor=(floor.anchor[0] + dx, floor.anchor[1] + dy))

"""The pattern where it is put by hand: quick enough to follow a finger."""

from collections.abc import Mapping

from msgspec import Struct
from msgspec.structs import replace

from engine.geometry.kernel import kernel
from engine.geometry.shapes import Region, Ring, polygon_area
from engine.model.job import Floor, Job
from engine.patterns import find_pattern
from engine.patterns.lattice import boards_over
from engine.patterns.pattern import LaidBoard
from engine.planning.best_place import phase_cell
from engine.planning.floor_edges import floor_edges
from engine.planning.floor_plan import plan_room
from engine.planning.pieces import CRUMB
from engine.setting_out.measures import too_small
from engine.setting_out.rating import Rated, near_edges, rate_parts


class Place(Struct, frozen=True, kw_only=True):
    """The pattern's boards as they lie, the pieces along the edges that matter, and where the phase is.

    Without edges that matter all walls are rated. ``slivers`` are counted along
    all edges, among the ideal pieces; None when nobody asked. ``phase`` counts from the
    room's own origin, so that it stays while the anchor moves by whole cells.
    """

    boards: tuple[Ring, ...]
    rated: Rated
    slivers: int | None
    phase: tuple[float, float]


def place_of(job: Job, *, counts: bool = False) -> Place:
    """The place that the job gives the pattern; ``counts`` its slivers too (slower). Raises Refused."""
    room, pattern, floor = plan_room(job), find_pattern(job.floor.pattern), job.floor
    edges, wishes = floor_edges(room, floor.board.length), job.wishes
    matter = edges.named(wishes) if wishes.edges else edges.walls()
    rim = [point for polygon in room.lay_area for point in polygon[0]]
    boards = dict(enumerate(boards_over(pattern, floor, rim)))
    near = near_edges(boards, matter)
    rings = {number: board.ring for number, board in boards.items()}
    to_clip = rings if counts else near
    parts = dict(zip(to_clip, kernel().clip(room.lay_area, list(to_clip.values())), strict=True))
    return Place(
        boards=tuple(rings.values()),
        rated=rate_parts(parts, near, boards, matter, wishes.measure),
        slivers=_slivers(parts, boards, job.cutting.sliver) if counts else None,
        phase=phase_cell(floor).phase_of(floor.anchor),
    )


def _slivers(parts: Mapping[int, Region], boards: Mapping[int, LaidBoard], limit: float) -> int:
    """How many parts of boards are too small.

    Narrower than the limit, or shorter, a part of a board has at most the area of a strip so wide.
    """
    return sum(
        too_small(part, board, limit)
        for number, board in boards.items()
        for part in parts[number]
        if CRUMB < polygon_area(part) < limit * (board.length + board.size.end)
    )


def moved_to(floor: Floor, phase: tuple[float, float]) -> Floor:
    """The floor with its pattern moved the shortest way to a phase."""
    cell = phase_cell(floor)
    here = cell.phase_of(floor.anchor)
    dx, dy = cell.nearest(phase[0] - here[0], phase[1] - here[1])
    return replace(floor, anchor=(floor.anchor[0] + dx, floor.anchor[1] + dy))

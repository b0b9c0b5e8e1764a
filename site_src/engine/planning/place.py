"""The pattern where it is put by hand: quick enough to follow a finger."""

from dataclasses import dataclass

from msgspec.structs import replace

from engine.geometry.shapes import Ring
from engine.model.job import Floor, Job
from engine.patterns import find_pattern
from engine.patterns.lattice import boards_over
from engine.planning.best_place import phase_cell
from engine.planning.floor_edges import floor_edges
from engine.planning.floor_plan import plan_room
from engine.setting_out.rating import Rated, rate


@dataclass(frozen=True, kw_only=True, slots=True)
class Place:
    """The pattern's boards as they lie, the pieces along the edges that matter, and where the phase is.

    Without edges that matter all walls are rated. ``phase`` counts from the
    room's own origin, so that it stays while the anchor moves by whole cells.
    """

    boards: tuple[Ring, ...]
    rated: Rated
    phase: tuple[float, float]


def place_of(job: Job) -> Place:
    """The place that the job gives the pattern. Raises Refused."""
    room, pattern, floor = plan_room(job), find_pattern(job.floor.pattern), job.floor
    edges, wishes = floor_edges(room, floor.board.length), job.wishes
    matter = edges.named(wishes) if wishes.edges else edges.walls()
    rim = [point for polygon in room.lay_area for point in polygon[0]]
    boards = tuple(boards_over(pattern, floor, rim))
    return Place(
        boards=tuple(board.ring for board in boards),
        rated=rate(room.lay_area, dict(enumerate(boards)), matter, wishes.measure),
        phase=phase_cell(floor).phase_of(floor.anchor),
    )


def moved_to(floor: Floor, phase: tuple[float, float]) -> Floor:
    """The floor with its pattern moved the shortest way to a phase."""
    cell = phase_cell(floor)
    here = cell.phase_of(floor.anchor)
    dx, dy = cell.nearest(phase[0] - here[0], phase[1] - here[1])
    return replace(floor, anchor=(floor.anchor[0] + dx, floor.anchor[1] + dy))

"""What stays as it is while the pattern is moved by hand: its boards in one place, to be shifted as they are.

At another phase the pattern is the same boards moved. Laid once over the floor
and a cell around it they need no laying again, neither to be drawn nor to
be rated, and those that come near no edge at any phase are rated at none.
"""

from collections.abc import Mapping
from math import dist, hypot

from msgspec import Struct
from msgspec.structs import replace

from engine.geometry.shapes import Region
from engine.model.job import Floor, Job
from engine.patterns.pattern import LaidBoard
from engine.planning.best_place import boards_at_every_phase, phase_cell, refuse_faults
from engine.planning.floor_edges import floor_edges
from engine.planning.floor_plan import plan_room
from engine.planning.kept import Kept
from engine.setting_out.phase import PhaseCell
from engine.setting_out.rating import NamedEdge

# A board so little farther off than it may come is looked at all the same, mm: no rounding may leave it out.
MORE = 1.0


class MovingField(Struct, frozen=True, kw_only=True, eq=False):
    """The boards that cover the floor at every phase, lying at phase 0; each field is its own key."""

    lay_area: Region
    cell: PhaseCell
    boards: Mapping[int, LaidBoard]


class FieldEdge(Struct, frozen=True, kw_only=True):
    """An edge that is rated, and the boards of a field, by their number, that may come near it."""

    edge: NamedEdge
    boards: Mapping[int, LaidBoard]


def moving_field(job: Job) -> MovingField:
    """The field to be moved for a job; the same one for every place that it leads to. Raises Refused."""
    return _fields.get(_inputs(job), lambda: _moving_field(job))


def field_edges(job: Job, field: MovingField) -> tuple[FieldEdge, ...]:
    """What is rated of a job's field; without edges that matter all walls are. Raises Refused."""
    return _edges.get((*_inputs(job), job.wishes.edges), lambda: _field_edges(job, field))


def moves_the_same_field(job: Job, floor: Floor) -> bool:
    """Does the field of a job hold the boards of another place of its floor too?"""
    return _at_phase_0(job.floor) == _at_phase_0(floor)


_fields: Kept[MovingField] = Kept()
_edges: Kept[tuple[FieldEdge, ...]] = Kept()


def _inputs(job: Job) -> tuple[object, ...]:
    return job.room, job.survey, _at_phase_0(job.floor), job.cutting.gap_tolerance


def _at_phase_0(floor: Floor) -> Floor:
    """The floor with its pattern at phase 0, as many whole rows on as make a difference."""
    cell = phase_cell(floor)
    return replace(floor, anchor=cell.shift(0.0, cell.rows_to(floor.anchor)), count_from=None)


def _moving_field(job: Job) -> MovingField:
    room, cell = plan_room(job), phase_cell(job.floor)
    rim = [point for polygon in room.lay_area for point in polygon[0]]
    boards = boards_at_every_phase(_at_phase_0(job.floor), rim, cell)
    return MovingField(lay_area=room.lay_area, cell=cell, boards=boards)


def _field_edges(job: Job, field: MovingField) -> tuple[FieldEdge, ...]:
    found, wishes = floor_edges(plan_room(job), job.floor.board.length), job.wishes
    if wishes.edges:
        refuse_faults(wishes, found)
    edges = found.named(wishes) if wishes.edges else found.walls()
    return tuple(FieldEdge(edge=edge, boards=_near(field, edge)) for edge in edges)


def _near(field: MovingField, edge: NamedEdge) -> dict[int, LaidBoard]:
    return {
        number: board for number, board in field.boards.items() if _may_come_near(board, field.cell, edge)
    }


def _may_come_near(board: LaidBoard, cell: PhaseCell, edge: NamedEdge) -> bool:
    """May a board come near an edge at any phase? It is taken for its round, and so is the cell."""
    ring = board.ring
    dx, dy = cell.shift(0.5, 0.5)
    middle = (ring[0][0] + ring[2][0]) / 2 + dx, (ring[0][1] + ring[2][1]) / 2 + dy
    reach = max(dist(ring[0], ring[2]), dist(ring[1], ring[3])) / 2 + MORE
    reach += max(hypot(*cell.shift(0.5, 0.5)), hypot(*cell.shift(0.5, -0.5)))
    return edge.is_within(reach, middle)

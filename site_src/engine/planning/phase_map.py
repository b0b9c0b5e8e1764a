"""The smallest piece over all places of the pattern: a map of its two phases."""

from math import hypot

from msgspec import Struct
from msgspec.structs import replace

from engine.model.job import Job
from engine.model.setting_out import Measure, SettingOut
from engine.planning.best_place import refuse_faults, sought_at
from engine.planning.floor_edges import floor_edges
from engine.planning.floor_plan import plan_room
from engine.setting_out.best_phase import straight_edges
from engine.slices import Slices, UnderWay, to_the_end

# So many places either way: more show nothing new on a phone, fewer miss the ridges.
ALONG, ACROSS = 32, 24


class PhaseMap(Struct, frozen=True):
    """``rows[i][j]``: the smallest piece at phase (i / ``ALONG``, j / ``ACROSS``) from the room's origin.

    As far as straight edges tell, by the job's measure over its weights; the
    last row is the first again. ``along`` and ``across`` are the
    lengths in mm that the phases go round.
    """

    measure: Measure
    rows: tuple[tuple[float, ...], ...]
    along: float
    across: float


def phase_map(job: Job) -> PhaseMap:
    """The map of a job's wishes. Raises Refused without edges that matter."""
    return to_the_end(_rows(_everywhere(job)))


def phase_map_slice(job: Job) -> PhaseMap | None:
    """The same a row at a time: None while there are more. Raises Refused."""
    job = _everywhere(job)
    inputs = (job.room, job.survey, job.floor, job.cutting.gap_tolerance, job.wishes)
    return _drawing.go_on(inputs, lambda: _rows(job))


_drawing: UnderWay[PhaseMap] = UnderWay()


def _everywhere(job: Job) -> Job:
    """The job without all that is of one place only."""
    floor = replace(job.floor, anchor=(0.0, 0.0), count_from=None)
    return replace(
        job, floor=floor, setting_out=SettingOut(edges=job.wishes.edges, measure=job.wishes.measure)
    )


def _rows(job: Job) -> Slices[PhaseMap]:
    room, wishes = plan_room(job), job.wishes
    edges = floor_edges(room, job.floor.board.length)
    refuse_faults(wishes, edges)
    sought = sought_at(room, job.floor, wishes, edges)
    asked = straight_edges(sought)
    values: list[tuple[float, ...]] = []
    for i in range(ALONG):
        if i:
            yield
        row = ((i / ALONG, j / ACROSS) for j in range(ACROSS + 1))
        values.append(tuple(max(asked.smallest(phase, asked.boards), 0.0) for phase in row))
    return PhaseMap(wishes.measure, (*values, values[0]), hypot(*sought.cell.place), hypot(*sought.cell.row))

"""The smallest piece over all places of the pattern: a map of its two phases."""

from math import hypot

from msgspec import Struct
from msgspec.structs import replace

from engine.model.job import Job
from engine.model.setting_out import Measure, SettingOut
from engine.planning.best_place import refuse_faults, sought_at
from engine.planning.floor_edges import floor_edges
from engine.planning.floor_plan import plan_room
from engine.planning.kept import Kept
from engine.setting_out.best_phase import straight_edges

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
    wishes = job.wishes
    floor = replace(job.floor, anchor=(0.0, 0.0), count_from=None)
    inputs = (job.room, job.survey, floor, job.cutting.gap_tolerance, wishes.edges, wishes.measure)
    return _kept.get(inputs, lambda: _phase_map(replace(job, floor=floor), wishes))


_kept: Kept[PhaseMap] = Kept()


def _phase_map(job: Job, wishes: SettingOut) -> PhaseMap:
    room = plan_room(job)
    edges = floor_edges(room, job.floor.board.length)
    refuse_faults(wishes, edges)
    sought = sought_at(room, job.floor, replace(wishes, through=()), edges)
    asked = straight_edges(sought)
    values = [
        [max(asked.smallest((i / ALONG, j / ACROSS), asked.boards), 0.0) for j in range(ACROSS + 1)]
        for i in range(ALONG)
    ]
    place, row = sought.cell.place, sought.cell.row
    return PhaseMap(
        wishes.measure,
        tuple(tuple(line) for line in (*values, values[0])),
        hypot(*place),
        hypot(*row),
    )

"""What one piece measured at the wall says of the wall itself, and what the pieces near it then become.

The end of a cut lies the gap away from its wall. A length that measures otherwise
puts the wall there otherwise, at one station for each length measured; readings
right beside that station, which say something else, are stood in for; a break of
the wall is left as it was read. Nothing is changed here: the floor is planned once
more with the wall so, for the difference to be seen before it is taken.
"""

from collections.abc import Callable, Collection, Iterator, Mapping
from math import hypot

from msgspec import Struct
from msgspec.structs import replace

from engine.cutting.recut import cut_line, is_cut_across
from engine.geometry.board import side_lengths
from engine.geometry.frame import Frame
from engine.geometry.shapes import Point
from engine.model.job import Job, Pair
from engine.model.readings import OffsetReading
from engine.planning.floor_plan import FloorPlan, plan_floor
from engine.planning.measured_at_wall import SIDES, Side, planned_length
from engine.planning.pieces import Piece
from engine.survey.from_readings import standing_readings
from engine.survey.outline import WallLine

# A reading nearer to the new one than this is stood in for: a curve through both would swing, mm.
BESIDE = 100.0
# A corner's own place is not corrected by a piece: the new reading keeps this far from it, mm.
FROM_CORNER = 20.0
# A length that changes by less than this is cut as it was, mm.
SAME = 0.3


class WallShot(Struct, frozen=True, kw_only=True):
    """Where the wall is by one length: ``offset`` at ``station``, and what the survey had there, mm."""

    station: float
    offset: float
    surveyed: float


class PieceChange(Struct, frozen=True, kw_only=True):
    """A piece that would be cut otherwise, by so many mm at the more; ``is_cut``: it is cut already."""

    id: str
    by: float
    is_cut: bool


class WallCorrection(Struct, frozen=True, kw_only=True):
    """``offsets`` are all of the wall's then, ``record`` is its place in the job.

    ``stands_in_for`` are the ids of the readings that would go.
    ``others`` counts pieces that only come under another setting of the saw.
    """

    wall: WallLine
    record: int
    shots: tuple[WallShot, ...]
    offsets: tuple[Pair, ...]
    stands_in_for: tuple[str, ...]
    changes: tuple[PieceChange, ...]
    others: int


def wall_correction(
    plan: FloorPlan, piece: str, lengths: Mapping[Side, float], report: Callable[[str, float], None]
) -> WallCorrection | None:
    """The correction that a piece's measured lengths lead to; None where they speak of no one wall."""
    found = next((each for each in plan.pieces if each.id == piece), None)
    wall = None if found is None or plan.as_it_lies is not None else _wall_of(found, plan)
    if found is None or wall is None or wall.record is None:
        return None
    shots = tuple(_shots(found, wall, lengths))
    if not shots:
        return None
    offsets = _offsets(wall, shots)
    then = plan_floor(_corrected_job(plan, wall.record, offsets), report)
    changes = tuple(_changes(plan, then, piece))
    return WallCorrection(
        wall=wall,
        record=wall.record,
        shots=shots,
        offsets=offsets,
        stands_in_for=tuple(_beside(plan.job, wall, shots)),
        changes=changes,
        others=_others(plan, then, {piece, *(change.id for change in changes)}),
    )


def _wall_of(piece: Piece, plan: FloorPlan) -> WallLine | None:
    """The wall that the piece's one straight cut runs along."""
    if not is_cut_across(piece.sawn):
        return None
    path = piece.sawn.cuts[0].barrier.path
    return next((wall for wall in plan.room.outline.walls if wall.path == path), None)


def _shots(piece: Piece, wall: WallLine, lengths: Mapping[Side, float]) -> Iterator[WallShot]:
    frame = Frame(wall.start[0], wall.start[1], wall.heading)
    both = {side: lengths.get(side, planned_length(piece, side)) for side in SIDES}
    ends = cut_line(piece.sawn, piece.board.size, both["left"], both["right"])
    for side in lengths:
        end = max(ends, key=lambda point: point[1]) if side == "left" else min(ends, key=lambda p: p[1])
        station, offset = _at_wall(frame.to_board(piece.board.frame.to_room(end)), wall)
        is_at_break = any(abs(station - at) < BESIDE for at in wall.wall.breaks)
        if FROM_CORNER <= station <= wall.chord - FROM_CORNER and not is_at_break:
            station = float(round(station))
            yield WallShot(station=station, offset=round(offset, 1), surveyed=wall.curve.offset(station))


def _at_wall(end: Point, wall: WallLine) -> Point:
    """From the end of a cut square to the wall, over its gap."""
    slope = wall.curve.slope(min(max(end[0], 0.0), wall.chord))
    length = hypot(1.0, slope)
    return end[0] + wall.wall.gap * slope / length, end[1] - wall.wall.gap / length


def _offsets(wall: WallLine, shots: tuple[WallShot, ...]) -> tuple[Pair, ...]:
    kept = (pair for pair in wall.wall.offsets if not _is_beside(pair[0], shots))
    return tuple(sorted((*kept, *((shot.station, shot.offset) for shot in shots))))


def _is_beside(station: float, shots: tuple[WallShot, ...]) -> bool:
    return any(abs(station - shot.station) < BESIDE for shot in shots)


def _beside(job: Job, wall: WallLine, shots: tuple[WallShot, ...]) -> Iterator[str]:
    for reading in standing_readings(job.survey) if job.survey else ():
        if not isinstance(reading, OffsetReading) or reading.check:
            continue
        if (reading.from_, reading.to) == (wall.from_, wall.to) and _is_beside(reading.station, shots):
            yield reading.id


def _corrected_job(plan: FloorPlan, record: int, offsets: tuple[Pair, ...]) -> Job:
    """The job with its readings worked into the room and the wall corrected there, every number kept."""
    room = plan.room.record
    walls = list(room.walls)
    walls[record] = replace(walls[record], offsets=offsets)
    fixed = tuple(replace(thing, by_lengths=False) for thing in room.fixed)
    return replace(
        plan.job,
        room=replace(room, walls=tuple(walls), fixed=fixed),
        floor=replace(plan.job.floor, count_from=plan.count_from),
        survey=None,
    )


def _changes(plan: FloorPlan, then: FloorPlan, piece: str) -> Iterator[PieceChange]:
    """The pieces not fitted yet that the wall itself changes at their nominal gap; most first."""
    changes = []
    for one, other in _both(plan, then):
        by = max(abs(a - b) for a, b in zip(_ideal_lengths(one), _ideal_lengths(other), strict=True))
        done = plan.job.progress.get(one.id)
        if by > SAME and one.id != piece and not (done and done.fitted):
            changes.append(PieceChange(id=one.id, by=by, is_cut=bool(done and done.cut)))
    yield from sorted(changes, key=lambda change: (-change.by, change.id))


def _others(plan: FloorPlan, then: FloorPlan, changed: Collection[str]) -> int:
    """Pieces that the wall leaves alone and that only come under another setting of the saw."""
    return sum(
        one.id not in changed
        and max(abs(one.sawn.left - other.sawn.left), abs(one.sawn.right - other.sawn.right)) > SAME
        for one, other in _both(plan, then)
    )


def _both(plan: FloorPlan, then: FloorPlan) -> Iterator[tuple[Piece, Piece]]:
    after = {piece.id: piece for piece in then.pieces}
    yield from ((piece, after[piece.id]) for piece in plan.pieces if piece.id in after)


def _ideal_lengths(piece: Piece) -> tuple[float, float]:
    lengths = side_lengths(piece.board.frame.ring_to_board(piece.ideal[0]), piece.board.size)
    return lengths["left"], lengths["right"]

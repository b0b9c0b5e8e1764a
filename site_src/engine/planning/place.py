"""The pattern where it is put by hand: quick enough to follow a finger."""

from collections.abc import Iterator
from math import inf

from msgspec import Struct
from msgspec.structs import replace

from engine.geometry.kernel import kernel
from engine.geometry.shapes import Point, Polygon, Region, polygon_area
from engine.model.job import Floor, Job
from engine.model.setting_out import Through
from engine.planning.best_place import phase_cell
from engine.planning.moving_field import MovingField, field_edges, moves_the_same_field, moving_field
from engine.planning.pieces import CRUMB
from engine.setting_out.measures import Sizes, too_small
from engine.setting_out.rating import PieceKey, PlacedBoard, Rated, moved, outlines, rate
from engine.slices import Slices, UnderWay, to_the_end

# An anchor is kept to a thousandth of a mm; a row axis is off by more than that may make of it, mm.
NOTHING = 0.01
# So many boards are clipped in one slice: a few milliseconds on a desk.
SLICE = 150


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


def taps_from(job: Job, step: float) -> Iterator[Job]:
    """The jobs that a step (mm) to each side leads to, as far as they move the same boards."""
    x, y = job.floor.anchor
    for dx, dy in ((-step, 0.0), (0.0, step), (0.0, -step), (step, 0.0)):
        floor = replace(job.floor, anchor=(_as_typed(x + dx), _as_typed(y + dy)))
        if moves_the_same_field(job, floor):
            yield replace(job, floor=floor)


def _as_typed(length: float) -> float:
    """Decimals as typed add up as typed, as they do on the page: 0.1 and 0.2 are 0.3."""
    return float(f"{length:.12g}")


def openings_missed(job: Job) -> Iterator[tuple[Through, float | None]]:
    """The openings off whose middle the nearest row axis runs by more than is allowed, and by how many mm.

    None where the rows run along the opening.
    """
    for opening in job.wishes.through:
        off = off_middle(job.floor, opening.from_, opening.to)
        if off is None or off > opening.within + NOTHING:
            yield opening, off


def off_middle(floor: Floor, start: Point, end: Point) -> float | None:
    """How far off an opening's middle the nearest row axis runs, mm; None where the rows run along it."""
    try:
        return phase_cell(floor).off_middle(floor.anchor, start, end)
    except ValueError:
        return None


def rated_place(job: Job) -> Rated:
    """The pieces along the edges that matter, where the job puts the pattern. Raises Refused."""
    return to_the_end(_rated(job))


def rated_slice(job: Job) -> Rated | None:
    """The same an edge at a time: None while there are more. Raises Refused."""
    return _rating.go_on((job,), lambda: _rated(job))


def slivers_at(job: Job) -> int:
    """How many slivers lie along all edges, among the ideal pieces, where the job puts the pattern.

    Slower than the rest: all boards are clipped. Raises Refused.
    """
    return to_the_end(_slivers(job))


def slivers_slice(job: Job) -> int | None:
    """The same some boards at a time: None while there are more. Raises Refused."""
    return _counting.go_on((job,), lambda: _slivers(job))


_rating: UnderWay[Rated] = UnderWay()
_counting: UnderWay[int] = UnderWay()


def _rated(job: Job) -> Slices[Rated]:
    place = place_of(job)
    value, pieces = inf, dict[PieceKey, Sizes]()
    for number, each in enumerate(field_edges(job, place.field)):
        if number:
            yield
        boards = moved(each.boards, place.way)
        rated = rate(place.field.lay_area, boards, (each.edge,), job.wishes.measure)
        value, pieces = min(value, rated.value), pieces | {**rated.pieces}
    return Rated(value, pieces)


def _slivers(job: Job) -> Slices[int]:
    place, count = place_of(job), 0
    boards = list(moved(place.field.boards, place.way).items())
    for start in range(0, len(boards), SLICE):
        if start:
            yield
        count += _count(dict(boards[start : start + SLICE]), place.field.lay_area, job.cutting.sliver)
    return count


def _count(boards: dict[int, PlacedBoard], lay_area: Region, limit: float) -> int:
    parts = kernel().clip(lay_area, list(outlines(boards).values()))
    return sum(
        _is_sliver(part, board, limit)
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

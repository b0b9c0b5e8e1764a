"""Where the pattern sits, as the screen shows it: by hand, at its best, and as a map of all its places."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from functools import lru_cache

from msgspec import json
from msgspec.structs import replace

from engine.drawing.contours import cells_path, contour_path
from engine.drawing.paths import move_text, ring_path
from engine.errors import Finding
from engine.geometry.shapes import Point
from engine.model.job import Floor, Job
from engine.model.setting_out import Measure
from engine.planning.best_place import BestPlace
from engine.planning.best_place_words import place_findings
from engine.planning.floor_plan import FloorPlan, RoomPlan
from engine.planning.kept import KEPT
from engine.planning.moving_field import MovingField
from engine.planning.phase_map import PhaseMap
from engine.planning.place import Place, moved_to, place_of, taps_from
from engine.setting_out.measures import Sizes
from engine.setting_out.rating import Rated
from engine.wire.drawings import EdgeRow, Figure, Label, Levels
from engine.wire.figures import Writer, figure, formulas_of, marked
from engine.wire.floor_view import summary
from engine.wire.opening_words import openings_missed_words
from engine.wire.replies import (
    BestPlaceReply,
    MovedReply,
    MovedTo,
    PlaceCountsReply,
    PlaceMapReply,
    PlaceReply,
    SliversReply,
)

# The map is drawn on a square of so many units either way.
SIDE = 300.0
# A level of the map for each of these parts of the best.
PARTS = (0.25, 0.5, 0.75, 0.9)
# Anchors are kept to a thousandth of a millimetre, axes to a hundred-thousandth of a degree.
ANCHOR_DECIMALS, AXIS_DECIMALS = 3, 5
# What is counted of a floor to be compared.
COUNTED = ("slivers", "boards", "boards left", "boards right", "pieces to cut")

PATTERN_LOCKED = Finding(
    path="setting_out.locked",
    code="pattern locked",
    level="warning",
    sentence="The pattern is locked, so it stays where it is and no better place was looked for. "
    "Unlock it to have it set out.",
)

_MEASURES: Mapping[Measure, tuple[str, str]] = {
    "long_point": ("edge long point", "Long point"),
    "short_side": ("edge short side", "Short side"),
    "area": ("edge area", "Area"),
}


def place_job(job: Job, at: Point | None) -> Job:
    """The job with its pattern moved to a point of the map."""
    if at is None:
        return job
    phase = 1 - at[1] / SIDE, at[0] / SIDE
    floor = moved_to(job.floor, phase)
    return replace(job, floor=replace(floor, anchor=_rounded(floor.anchor)))


def _rounded(anchor: Point) -> Point:
    """An anchor that a file can hold."""
    return (round(anchor[0], ANCHOR_DECIMALS) + 0.0, round(anchor[1], ANCHOR_DECIMALS) + 0.0)


def at_best(job: Job, best: BestPlace) -> Job:
    """The job with its pattern where it sits best; where it already does, nothing changes."""
    anchor, axis = _rounded(best.anchor), best.axis
    if axis != job.floor.axis:
        axis = round(axis, AXIS_DECIMALS)
    if (anchor, axis) == (job.floor.anchor, job.floor.axis):
        return job
    return replace(job, floor=replace(job.floor, anchor=anchor, axis=axis, count_from=None))


def set_out_text(document: Mapping[str, object], floor: Floor) -> str:
    """A job file with its pattern moved; all else in it stays, also what this version does not know."""
    section = document["floor"]
    assert isinstance(section, dict)
    place = {"anchor": floor.anchor, "axis": floor.axis}
    there = {key: value for key, value in section.items() if key != "count_from"} | place
    return json.format(json.encode({**document, "floor": there}), indent=1).decode() + "\n"


def moved_view(job: Job, place: Place, step: float) -> MovedReply:
    """The pattern where it was put, and a step (mm) to each side."""
    here = _moved(job, place)
    taps = (_moved(each, place_of(each)) for each in taps_from(job, step)) if step else ()
    return MovedReply(
        anchor=here.anchor, at=here.at, by=here.by, boards=_boards_path(place.field), taps=tuple(taps)
    )


def _moved(job: Job, place: Place) -> MovedTo:
    along, across = place.phase
    return MovedTo(
        anchor=job.floor.anchor,
        at=(round(across * SIDE, 2), round((1 - along) * SIDE, 2)),
        by=move_text(place.way),
    )


@lru_cache(maxsize=KEPT)
def _boards_path(field: MovingField) -> str:
    """All boards in one path: while the pattern is moved it stays, letter by letter."""
    return "".join(ring_path(board.ring) for board in field.boards.values())


def place_view(job: Job, rated: Rated, writer: Writer) -> PlaceReply:
    """What lies along the edges there, and which openings the row axis misses."""
    measure = job.wishes.measure
    edges = edge_rows(rated, measure, writer)
    worth = _worth("place worth", "Smallest piece", rated.value, measure, writer)
    return PlaceReply(
        worth=worth,
        edges=edges,
        missed=openings_missed_words(job, writer),
        formulas=formulas_of([worth, *_figures(edges)]),
    )


def slivers_view(count: int, limit: float, writer: Writer) -> SliversReply:
    """How many slivers lie along all edges there; their ``limit`` in mm."""
    inputs = ("sliver limit", writer.mm(limit))
    slivers = figure("slivers", "Slivers", str(count), "", "slivers ahead", inputs)
    return SliversReply(slivers=slivers, formulas=formulas_of([slivers]))


def best_place_view(
    job: Job, room: RoomPlan, best: BestPlace, rated: Rated, writer: Writer
) -> BestPlaceReply:
    """The best place beside the place as it is, which is rated too."""
    measure, floor = best.ranked_by, at_best(job, best).floor
    edges_now, edges = (edge_rows(each, measure, writer) for each in (rated, best.rated))
    worth = _worth("place worth", "Smallest piece", best.rated.value, measure, writer)
    bound = _worth("place bound", "No place can beat", best.bound, measure, writer)
    return BestPlaceReply(
        anchor=floor.anchor,
        axis=floor.axis,
        words=_moves(job.floor, floor, writer),
        worth=worth,
        bound=bound,
        edges_now=edges_now,
        edges=edges,
        formulas=formulas_of([worth, bound, *_figures(edges_now), *_figures(edges)]),
        findings=marked(place_findings(job, room, best), writer),
    )


def place_counts_view(plan: FloorPlan, writer: Writer) -> PlaceCountsReply:
    """What is counted of a floor to be compared."""
    counts = tuple(each for each in summary(plan, writer) if each.key in COUNTED)
    return PlaceCountsReply(counts=counts, formulas=formulas_of(counts))


def place_map_view(found: PhaseMap, writer: Writer) -> PlaceMapReply:
    """The map of all places: darker and with narrower lines where the smallest piece is larger."""
    most = max(max(row) for row in found.rows)
    bounds = [0.0, *(part * most for part in PARTS), most * 1.001]
    return PlaceMapReply(
        view_box=(0.0, 0.0, SIDE, SIDE),
        levels=tuple(_level(found, low, high, writer) for low, high in zip(bounds, bounds[1:], strict=False)),
        words=f"Across the map the pattern moves across its rows, {writer.length(found.across)} mm from edge "
        f"to edge; up the map along them, {writer.length(found.along)} mm. Then it repeats.",
    )


def edge_rows(rated: Rated, measure: Measure, writer: Writer) -> tuple[EdgeRow, ...]:
    """The smallest piece along each wall."""
    return tuple(
        EdgeRow(
            name=name,
            figures=tuple(_size_figures(name, sizes, writer)),
            decides=_MEASURES[measure][0],
        )
        for name, sizes in rated.smallest.items()
    )


def _size_figures(wall: str, sizes: Sizes, writer: Writer) -> Iterator[Figure]:
    for measure, (key, label) in _MEASURES.items():
        text, unit = _written(sizes.by(measure), measure, writer)
        yield figure(key, label, text, unit, key, ("wall", wall))


def _worth(formula: str, label: str, value: float, measure: Measure, writer: Writer) -> Figure:
    text, unit = _written(value, measure, writer)
    return figure(formula, label, text, unit, formula, ("measure", _MEASURES[measure][1].lower()))


def _written(value: float, measure: Measure, writer: Writer) -> tuple[str, str]:
    """A size with its unit; areas in cm², which say more of a small piece than m²."""
    if value == float("inf"):
        return "none", ""
    return (writer.length(value / 100), "cm²") if measure == "area" else (writer.length(value), "mm")


def _figures(rows: Iterable[EdgeRow]) -> list[Figure]:
    return [each for row in rows for each in row.figures]


def _moves(now: Floor, then: Floor, writer: Writer) -> str:
    """How far the pattern moves, as one would say it before the plan."""
    x, y = then.anchor[0] - now.anchor[0], then.anchor[1] - now.anchor[1]
    turn = then.axis - now.axis
    ways = [
        (f"{writer.mm(abs(x))} to the {'right' if x > 0 else 'left'}", abs(x)),
        (f"{writer.mm(abs(y))} {'up' if y > 0 else 'down'}", abs(y)),
    ]
    said = [words for words, far in ways if round(far, 1) > 0]
    turned = f"turn the rows {abs(turn):.2f}° to the {'left' if turn > 0 else 'right'}" if turn else ""
    if not said and not turned:
        return "It sits there already."
    moved = f"Move the pattern {' and '.join(said)}" if said else ""
    sentence = ", ".join(part for part in (moved, turned) if part) + "."
    return writer.sentence(sentence[:1].upper() + sentence[1:])


def _level(found: PhaseMap, low: float, high: float, writer: Writer) -> Levels:
    at = _where(found.rows, low, high)
    text, unit = _written(low, found.measure, writer)
    return Levels(
        label=Label(text=f"{text} {unit}" if low else "", at=at),
        cells=cells_path(found.rows, low, high, SIDE, SIDE),
        line=contour_path(found.rows, low, SIDE, SIDE) if low else "",
    )


def _where(rows: Sequence[Sequence[float]], low: float, high: float) -> Point:
    """The middle of the longest run of cells of a level: there its name has room."""
    best, at = 0, (SIDE / 2, SIDE / 2)
    down, right = len(rows) - 1, len(rows[0]) - 1
    for i in range(down):
        run = 0
        for j in range(right + 1):
            if j < right and low <= rows[i][j] < high:
                run += 1
                continue
            if run > best:
                best = run
                at = ((j - run / 2) / right * SIDE, SIDE - (i + 0.5) / down * SIDE)
            run = 0
    return round(at[0], 2), round(at[1], 2)

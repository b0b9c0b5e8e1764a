"""Where the pattern should sit: the job's wishes turned into a search, and the best place that it finds."""

from collections.abc import Callable, Iterator, Sequence
from math import dist, hypot, inf
from typing import NamedTuple

from msgspec import Struct
from msgspec.structs import replace

from engine.errors import Finding, Refused
from engine.geometry.plane import in_ring, nearest_on_polyline
from engine.geometry.shapes import Point, Ring
from engine.model.job import Floor, Job
from engine.model.setting_out import Measure, SettingOut, Through
from engine.patterns import find_pattern
from engine.patterns.lattice import boards_over, pattern_frame
from engine.patterns.pattern import Cell, LaidBoard
from engine.patterns.stagger import SAME
from engine.planning.floor_edges import FloorEdges, floor_edges
from engine.planning.floor_plan import RoomPlan, plan_room
from engine.planning.kept import Kept
from engine.planning.place_ties import settled
from engine.setting_out.best_phase import best_phase, enough
from engine.setting_out.phase import PhaseCell, Span, common
from engine.setting_out.phase_search import PART, SHORT_SIDE, SKETCH, WHOLE, Effort
from engine.setting_out.rating import Rated
from engine.setting_out.sought import Sought, Top
from engine.setting_out.straight_edges import NEAR, StraightEdges
from engine.slices import Slices, UnderWay, to_the_end

Report = Callable[[str, float], None]

# Of the turns that would make the pattern follow an edge, so many are tried besides none and the greatest.
FOLLOWED = 4
# Then the gaps to either side of the best are halved so often.
CLOSER = 2
# An opening farther outside the room is none of its openings, mm.
FAR = 1000.0
# An axis is turned only for a smallest piece that grows by more than this part.
LEAST_GAIN = 0.005


class BestPlace(Struct, frozen=True, kw_only=True):
    """The best place found for the pattern, how it is rated, and what no place can beat.

    ``ranked_by`` is the measure that decided: not the one asked for where every
    place leaves a triangle, whose short side is 0.
    """

    anchor: Point
    axis: float
    rated: Rated
    bound: float
    ranked_by: Measure


def best_place(job: Job, report: Report = lambda step, done: None) -> BestPlace:
    """The best place of all. Raises Refused when the wishes make no sense or cannot be met together."""
    return _kept.get(_inputs(job), lambda: to_the_end(_best_place(job, job.wishes, report)))


def best_place_slice(job: Job, report: Report = lambda step, done: None) -> BestPlace | None:
    """The same a part of the search at a time: None while there is more. Raises Refused."""
    inputs = _inputs(job)
    found = _kept.known(inputs) or _searching.go_on(inputs, lambda: _best_place(job, job.wishes, report))
    return _kept.put(inputs, found) if found else None


def _inputs(job: Job) -> tuple[object, ...]:
    return job.room, job.survey, job.floor, job.cutting.gap_tolerance, job.cutting.sliver, job.wishes


_kept: Kept[BestPlace] = Kept()
_searching: UnderWay[BestPlace] = UnderWay()


def _best_place(job: Job, wishes: SettingOut, report: Report) -> Slices[BestPlace]:
    room = plan_room(job)
    edges = floor_edges(room, job.floor.board.length)
    refuse_faults(wishes, edges)
    _refuse_far(wishes.through, room.outline.ring)
    asked = _Asked(room, job.floor, edges, job.cutting.sliver)
    axes = _axes(job.floor, wishes, edges)
    known = None
    if wishes.measure == "short_side":
        known = yield from asked.better(None, job.floor.axis, wishes, SHORT_SIDE)
        if known.top[0].value <= 0:
            # Somewhere there is always a triangle, which has no short side: the long points decide.
            known, wishes = None, replace(wishes, measure="long_point")
    found = yield from asked.best(known, axes, wishes, report)
    return asked.settled(found, wishes.measure)


class _Found(NamedTuple):
    """The best top of all axes, the floor at its axis, and what no place at each of them can beat."""

    sought: Sought
    edges: StraightEdges
    floor: Floor
    top: Top
    bounds: dict[float, float]

    @property
    def is_closed(self) -> bool:
        """Is it proved that no place at its axis is better by more than a search leaves undone?"""
        return self.bounds[self.floor.axis] <= self.top[0].value + enough(self.sought)


class _Asked(Struct, frozen=True):
    """The floor for which the best place is asked."""

    room: RoomPlan
    floor: Floor
    edges: FloorEdges
    sliver: float

    def best(
        self, known: _Found | None, axes: Sequence[float], wishes: SettingOut, report: Report
    ) -> Slices[_Found]:
        """The best place at any of the axes tried, or what is known.

        Of several the axis as it is and the first are searched, the others sketched, and the best searched.
        """
        if len(axes) == 1:
            return (yield from self.better(known, axes[0], wishes, WHOLE))
        best, tried = (yield from self.better(known, axes[0], wishes, PART)), list(axes)
        for number, axis in enumerate(axes[1:], 1):
            report("Looking for the best place", number / len(axes))
            best = yield from self.better(best, axis, wishes, PART if axis == self.floor.axis else SKETCH)
        searched = {axes[0], self.floor.axis}
        for _ in range(CLOSER):
            between = _beside(best.floor.axis, tried)
            tried += between
            for axis in between:
                best = yield from self.better(best, axis, wishes, SKETCH)
        if best.floor.axis in searched or best.is_closed:
            return best
        return (yield from self.better(best, best.floor.axis, wishes, WHOLE))

    def better(self, best: _Found | None, axis: float, wishes: SettingOut, effort: Effort) -> Slices[_Found]:
        """The best place at one more axis, unless what was found already is better."""
        if best is not None:
            yield
        floor = replace(self.floor, axis=axis)
        sought = sought_at(self.room, floor, wishes, self.edges)
        found = yield from best_phase(
            sought,
            self._beaten(best, axis),
            effort,
            best.top[1] if best else None,
            counts_here=axis == self.floor.axis,
        )
        known = best.bounds if best else {}
        bounds = known | {axis: min(found.bound, known.get(axis, inf))}
        if found.top is not None and found.top[0].value > self._beaten(best, axis):
            sought = sought.only(board.number for board in found.edges.boards)
            return _Found(sought, found.edges, floor, found.top, bounds)
        assert best is not None, "the first axis has nothing to beat"
        return best._replace(bounds=bounds)

    def _beaten(self, best: _Found | None, axis: float) -> float:
        """What a place at an axis must beat to be worth turning the pattern for, or turning it otherwise."""
        if best is None:
            return -inf
        value, is_turned = best.top[0].value, best.floor.axis != self.floor.axis
        if is_turned != (axis != self.floor.axis):
            return value / (1 + LEAST_GAIN) if is_turned else value * (1 + LEAST_GAIN)
        return value

    def settled(self, found: _Found, measure: Measure) -> BestPlace:
        """The place at one axis, of several as good the one that leaves least trouble elsewhere."""
        sought, edges, floor, top, bounds = found
        rim = [point for polygon in self.room.lay_area for point in polygon[0]]
        rated, phase = settled(
            sought, edges, top, lambda: boards_at_every_phase(floor, rim, sought.cell), self.sliver
        )
        bound = max(rated.value, *bounds.values())
        dx, dy = sought.cell.nearest(*phase)
        anchor = floor.anchor[0] + dx, floor.anchor[1] + dy
        return BestPlace(anchor=anchor, axis=floor.axis, rated=rated, bound=bound, ranked_by=measure)


def sought_at(room: RoomPlan, floor: Floor, wishes: SettingOut, edges: FloorEdges) -> Sought:
    """What is asked of the pattern at one axis; its phases count from the floor's anchor. Raises Refused."""
    cell = phase_cell(floor)
    matter = edges.named(wishes)
    points = [point for edge in matter for line in edge.lines for point in line.points]
    boards = boards_at_every_phase(floor, points, cell)
    rings = [board.size.ring for board in boards.values()]
    diagonal = max(dist(*ring[start::2]) for ring in rings for start in (0, 1))
    return Sought(
        lay_area=room.lay_area,
        boards=boards,
        cell=cell,
        edges=edges.searched(wishes, cell, diagonal),
        named=matter,
        measure=wishes.measure,
        spans=_spans(wishes.through, floor.anchor, cell),
    )


def boards_at_every_phase(floor: Floor, points: Sequence[Point], cell: PhaseCell) -> dict[int, LaidBoard]:
    """Boards that cover some points at every phase from the floor's anchor on, by number."""
    return dict(enumerate(boards_over(find_pattern(floor.pattern), floor, list(_before(points, cell)))))


def phase_cell(floor: Floor) -> PhaseCell:
    """How the floor's pattern repeats, in the room."""
    pattern = find_pattern(floor.pattern)
    cell, frame = pattern.cell(floor), pattern_frame(pattern, floor)
    place, row = (frame.to_room(way) for way in (cell.next_place, cell.next_row))
    ways = ((at[0] - frame.x, at[1] - frame.y) for at in (place, row))
    return PhaseCell(next(ways), next(ways), _moved_on(cell))


# Rows looked at to tell whether each is moved on by as much as the one before.
LOOKED_AT = range(-8, 9)


def _moved_on(cell: Cell) -> float | None:
    """How far each row is moved on against the one before; None when that differs from row to row."""
    if cell.shift is None:
        return 0.0
    step = cell.shift(1)
    off = (cell.shift(row) - row * step for row in LOOKED_AT)
    return step if all(abs(part - round(part)) < SAME for part in off) else None


def _before(points: Sequence[Point], cell: PhaseCell) -> Iterator[Point]:
    """Where boards must lie so that at every phase, and a little beyond, they cover some points."""
    more = NEAR / hypot(*cell.place), NEAR / hypot(*cell.row)
    for along in (-more[0], 1 + more[0]):
        for across in (-more[1], 1 + more[1]):
            dx, dy = cell.shift(along, across)
            yield from ((x - dx, y - dy) for x, y in points)


def _spans(through: Sequence[Through], anchor: Point, cell: PhaseCell) -> tuple[Span, ...]:
    """The phases across the rows that bring a row axis through every opening."""
    wanted: list[tuple[Span, ...]] = []
    for number, opening in enumerate(through):
        try:
            wanted.append(cell.across_for(anchor, opening.from_, opening.to, opening.within))
        except ValueError:
            raise Refused(
                Finding(
                    path=f"setting_out.through[{number}]",
                    code="opening along the rows",
                    sentence="The rows run along this opening, so no row axis goes through it. "
                    "Take the opening out, or turn the rows.",
                )
            ) from None
    spans = common(wanted)
    if not spans:
        raise Refused(
            Finding(
                path="setting_out.through",
                code="openings too far apart",
                sentence="No row axis goes through the middle of all these openings at once. "
                "Allow one of them more millimetres, or take one out.",
            )
        )
    return spans


def _axes(floor: Floor, wishes: SettingOut, edges: FloorEdges) -> tuple[float, ...]:
    """The axes that are tried: turned so that edges are followed, as it is, and turned as far as may be."""
    within = wishes.axis_within
    if within == 0:
        return (floor.axis,)
    cell = phase_cell(floor)
    turns = [turn for turn in edges.turns(wishes, cell) if abs(turn) <= within][:FOLLOWED]
    # What follows an edge is often the best by far, and the others need only be held against it.
    return tuple(floor.axis + turn for turn in dict.fromkeys((*turns[:1], 0.0, *turns[1:], -within, within)))


def _beside(axis: float, tried: Sequence[float]) -> list[float]:
    """Half-way between an axis and the next ones tried to either side."""
    below, above = [each for each in tried if each < axis], [each for each in tried if each > axis]
    next_ones = [max(below)] if below else []
    next_ones += [min(above)] if above else []
    return [(axis + each) / 2 for each in next_ones]


def refuse_faults(wishes: SettingOut, edges: FloorEdges) -> None:
    """Raise Refused unless there are edges that matter and all of them are in the room."""
    if not wishes.edges:
        raise Refused(
            Finding(
                path="setting_out.edges",
                code="no edge matters",
                sentence="Choose at least one wall along which the pieces should be large.",
            )
        )
    faults = [
        Finding(
            path=f"setting_out.edges[{number}]",
            code="no such edge",
            sentence=f"The floor has no edge along {edge.from_}–{edge.to}. Choose another wall.",
        )
        for number, edge in enumerate(wishes.edges)
        if not edges.has(edge)
    ]
    if faults:
        raise Refused(*faults)


def _refuse_far(through: Sequence[Through], ring: Ring) -> None:
    """Raise Refused for openings that lie nowhere near the room, a slip of a digit or of the frame."""
    faults = [
        Finding(
            path=f"setting_out.through[{number}]",
            code="opening off the room",
            sentence="The middle of this opening lies farther than a metre outside the room. Measure both "
            "its sides again as x and y of the room, or take it out.",
        )
        for number, middle in enumerate(
            ((opening.from_[0] + opening.to[0]) / 2, (opening.from_[1] + opening.to[1]) / 2)
            for opening in through
        )
        if not in_ring(middle, ring) and nearest_on_polyline(middle, (*ring, ring[0])).distance > FAR
    ]
    if faults:
        raise Refused(*faults)

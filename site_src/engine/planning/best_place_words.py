"""Why nothing good can be had along an edge that matters, and what would help."""

from collections.abc import Iterator

from msgspec import Struct
from msgspec.structs import replace

from engine.errors import Finding
from engine.geometry.shapes import Ring
from engine.model.job import Floor, Job
from engine.model.setting_out import Measure, SettingOut
from engine.patterns import find_pattern
from engine.patterns.lattice import cell_boards
from engine.planning.best_place import BestPlace, phase_cell
from engine.planning.floor_edges import FloorEdges, floor_edges
from engine.planning.floor_plan import RoomPlan
from engine.planning.pattern_checks import pattern_faults
from engine.setting_out.edge_line import EdgeLine
from engine.setting_out.one_wall import WallTaper, wall_taper
from engine.units import number_text

# A wall that leaves less than this part of what a straight one would has taken the better half.
BETTER_HALF = 0.5
# A wider board is looked for in steps of this many mm, up to so many times the width.
WIDER, WIDEST = 5.0, 2.0
# What is won by less than this is not worth a word, mm.
WORTH = 2.0
# The axis may be turned by no more than this, degrees.
MOST_TURN = 5.0

_MEASURES: dict[Measure, str] = {
    "long_point": "a long point of {} mm",
    "short_side": "a short side of {} mm",
    "area": "an area of {} cm²",
}


class _Edge(Struct, frozen=True):
    """An edge that matters, where it stands in the job, and the taper of its worst stretch."""

    path: str
    name: str
    line: EdgeLine
    taper: WallTaper | None
    smallest: float


def place_findings(job: Job, room: RoomPlan, best: BestPlace) -> tuple[Finding, ...]:
    """A note for each edge that matters where even the best place leaves little, with what would help."""
    wishes = job.wishes
    floor = replace(job.floor, anchor=best.anchor, axis=best.axis)
    limit = _limit(job.cutting.sliver, best.ranked_by)
    edges = list(_edges(wishes, floor, best, floor_edges(room, floor.board.length)))
    return tuple(
        Finding(path=edge.path, code="no good place", level="note", sentence=" ".join(sentences))
        for edge in edges
        if (sentences := list(_sentences(edge, edges, job, floor, best, limit)))
    )


def _limit(sliver: float, measure: Measure) -> float:
    """What counts as too small, mm; for areas the half square of it, in mm²."""
    return sliver * sliver / 2 if measure == "area" else sliver


def _edges(wishes: SettingOut, floor: Floor, best: BestPlace, edges: FloorEdges) -> Iterator[_Edge]:
    smallest = best.rated.smallest
    for number, edge in enumerate(wishes.edges):
        for named in edges.named(replace(wishes, edges=(edge,))):
            if named.name in smallest:
                line = max(named.lines, key=lambda line: line.stations[-1])
                yield _Edge(
                    path=f"setting_out.edges[{number}]",
                    name=named.name,
                    line=line,
                    taper=_taper(line, floor),
                    smallest=smallest[named.name].by(best.ranked_by),
                )


def _taper(line: EdgeLine, floor: Floor) -> WallTaper | None:
    return wall_taper(line, _rings(floor), phase_cell(floor))


def _rings(floor: Floor) -> list[Ring]:
    return [board.ring for board in cell_boards(find_pattern(floor.pattern), floor, 0)]


def _sentences(
    edge: _Edge, edges: list[_Edge], job: Job, floor: Floor, best: BestPlace, limit: float
) -> Iterator[str]:
    """Why, then what would help; nothing when the edge does well enough."""
    taper = edge.taper
    is_tapered = taper is not None and taper.left < BETTER_HALF * taper.free
    if edge.smallest >= limit and not is_tapered:
        return
    size = _MEASURES[best.ranked_by].format(_size_text(edge.smallest, best.ranked_by))
    yield f"{edge.name}: the smallest piece keeps {size} even at the best place."
    if taper is not None and is_tapered:
        yield _why(taper)
        yield from _turning(taper, job.wishes)
    elif len(edges) > 1:
        yield "The edges that matter ask for different places of the pattern."
    yield from _wider(edge, floor, job.cutting.sliver)
    yield from _weighing(edge, edges)
    yield "Otherwise glue each small piece to its neighbour before the two are cut."


def _size_text(size: float, measure: Measure) -> str:
    """Areas in cm², as the figures beside the sentence."""
    return number_text(size / 100, 1) if measure == "area" else number_text(size, 0)


def _why(taper: WallTaper) -> str:
    runs = f"It runs {number_text(taper.taper, 1)} mm out of the rows"
    free = number_text(taper.free, 1)
    if taper.left <= 0:
        return f"{runs}, more than the {free} mm between the ends of boards, which leaves next to none."
    return f"{runs}, which leaves about {number_text(taper.left, 1)} of {free} mm between the ends of boards."


def _turning(taper: WallTaper, wishes: SettingOut) -> Iterator[str]:
    """Turning the rows helps where the wall is straighter than it is askew, unless that was tried."""
    if taper.followed > taper.left + WORTH and wishes.axis_within < abs(taper.turn) <= MOST_TURN:
        way = "counter-clockwise" if taper.turn > 0 else "clockwise"
        yield (
            f"Rows turned by {number_text(abs(taper.turn), 2)}° {way} would follow it and leave "
            f"{number_text(taper.followed, 1)} mm: let the axis turn by as much."
        )


def _wider(edge: _Edge, floor: Floor, sliver: float) -> Iterator[str]:
    """The least width of a board with which the wall's taper leaves enough."""
    steps = range(1, int(floor.board.width * (WIDEST - 1) / WIDER) + 1)
    for width in (WIDER * (floor.board.width // WIDER + step) for step in steps):
        wider = replace(floor, board=replace(floor.board, width=width))
        if any(finding.level == "error" for finding in pattern_faults(wider)):
            continue
        taper = _taper(edge.line, wider)
        if taper is not None and taper.left >= max(sliver, BETTER_HALF * taper.free):
            yield (
                f"Boards at least {number_text(width, 0)} mm wide would leave about "
                f"{number_text(taper.left, 1)} mm."
            )
            return


def _weighing(edge: _Edge, edges: list[_Edge]) -> Iterator[str]:
    """The small pieces can be had along the edge that can best spare them."""
    others = [other for other in edges if other.name != edge.name]
    if others:
        spare = max(others, key=lambda other: other.smallest)
        yield (f"If small pieces may lie along {spare.name} instead, make its weight smaller or take it out.")

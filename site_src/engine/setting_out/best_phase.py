"""Where the pattern sits best: searched over straight edges, then rated and mended by true clipping."""

from collections.abc import Sequence
from dataclasses import dataclass, replace

from engine.geometry.shapes import Region
from engine.model.setting_out import Measure
from engine.setting_out.board_at_edge import Reach, SearchedEdge, boards_at_edges
from engine.setting_out.climb import Slope, climb
from engine.setting_out.measures import Placed
from engine.setting_out.phase import PhaseCell, Span
from engine.setting_out.phase_search import search
from engine.setting_out.rating import NamedEdge, PieceKey, Rated, moved, rate
from engine.setting_out.straight_edges import PROBE, Phase, StraightEdges, slope

# So many tops of the search are rated, and so many of these mended.
RATED, MENDED = 8, 2
# A search that comes this near to what no phase can beat has come near enough: mm of length,
# or of the height of a triangle as wide as a board.
ENOUGH = 0.1
# From which to which step a top is mended, mm.
FIRST_STEP, LAST_STEP = 2.0, 0.004


@dataclass(frozen=True, slots=True)
class Sought:
    """What is asked: boards of a pattern before it is moved, over an area, with the edges that matter.

    ``boards`` must cover the area at every phase; ``edges`` are all edges of the
    floor, ``named`` those that matter.
    """

    lay_area: Region
    boards: Sequence[Placed]
    cell: PhaseCell
    edges: Sequence[SearchedEdge]
    named: Sequence[NamedEdge]
    measure: Measure
    spans: Sequence[Span]

    def rated(self, phase: Phase) -> Rated:
        """A phase by true clipping."""
        return rate(self.lay_area, moved(self.boards, self.cell.shift(*phase)), self.named, self.measure)


@dataclass(frozen=True, slots=True)
class BestPhase:
    """The best phase found, how it is rated, what no phase can beat, and how many ranges were looked at."""

    phase: Phase
    rated: Rated
    bound: float
    ranges: int


def best_phase(sought: Sought) -> BestPhase:
    """The best phase of all."""
    edges = straight_edges(sought)
    enough = ENOUGH if sought.measure != "area" else ENOUGH * sought.boards[0].size.width
    found = search(edges, sought.spans, enough)
    sought = replace(sought, boards=_reaching(sought, edges))
    tops = [(sought.rated(phase), phase) for _, phase in _apart(found.tops, edges)[:RATED]]
    mended = [_mended(sought, edges, *top) for top in sorted(tops, key=_worst_last)[:MENDED]]
    rated, phase = min(mended, key=_worst_last)
    return BestPhase(phase, rated, max(found.bound, rated.value), found.ranges)


def straight_edges(sought: Sought) -> StraightEdges:
    """What is asked, as far as straight edges tell, over all phases within its spans."""
    low, high = min(low for low, _ in sought.spans), max(high for _, high in sought.spans)
    at_edges = boards_at_edges(sought.boards, sought.edges)
    everywhere = Reach(0.5, (low + high) / 2, 0.5, (high - low) / 2)
    return StraightEdges(sought.edges, at_edges, sought.cell, sought.measure).reaching(everywhere)


def _worst_last(top: tuple[Rated, Phase]) -> tuple[float, Phase]:
    return -top[0].value, top[1]


def _reaching(sought: Sought, edges: StraightEdges) -> list[Placed]:
    """Only those boards that come to an edge that matters at some phase."""
    numbers = sorted({board.number for board in edges.boards})
    return [sought.boards[number] for number in numbers]


def _apart(tops: Sequence[tuple[float, Phase]], edges: StraightEdges) -> list[tuple[float, Phase]]:
    """The tops, best first, without those that are all but the same place."""
    near = edges.steps(1.0, 1.0)
    kept: list[tuple[float, Phase]] = []
    for value, phase in tops:
        if not any(_is_same(phase, other, near) for _, other in kept):
            kept.append((value, phase))
    return kept


def _is_same(one: Phase, other: Phase, near: tuple[float, float]) -> bool:
    return all(abs((a - b + 0.5) % 1 - 0.5) < by for a, b, by in zip(one, other, near, strict=True))


def _mended(sought: Sought, edges: StraightEdges, rated: Rated, phase: Phase) -> tuple[Rated, Phase]:
    """The best place near a top by true clipping, which knows the edges' bend and every corner."""
    near = edges.reaching(Reach(*phase, 0.0, 0.0))
    start = phase
    span = min(sought.spans, key=lambda span: max(span[0] - phase[1], phase[1] - span[1], 0.0))
    step = FIRST_STEP
    while step > LAST_STEP:
        _, short = near.slopes(phase)
        way = climb(_true_slopes(sought, edges, rated, phase), short, step, edges.limits(phase, span))
        there = edges.moved(phase, way)
        again = sought.rated(there)
        if again.value > rated.value and edges.is_near(start, there):
            rated, phase = again, there
        else:
            step /= 4
    return rated, phase


def _true_slopes(sought: Sought, edges: StraightEdges, rated: Rated, phase: Phase) -> list[Slope]:
    """The sizes of the pieces along the edges that matter, with how they change a mm along and across."""
    along, across = (sought.rated(edges.moved(phase, way)) for way in ((PROBE, 0.0), (0.0, PROBE)))
    return [
        slope(*(_value(sought, which, key) for which in (rated, along, across)))
        for key in rated.pieces
        if key in along.pieces and key in across.pieces
    ]


def _value(sought: Sought, rated: Rated, key: PieceKey) -> float:
    weight = next(edge.weight for edge in sought.named if edge.name == key[2])
    return rated.pieces[key].by(sought.measure) / weight

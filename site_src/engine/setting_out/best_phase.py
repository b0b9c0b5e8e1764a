"""Where the pattern sits best: searched over straight edges, each top held against true clipping."""

from dataclasses import dataclass
from math import inf

from engine.setting_out.board_at_edge import Reach, boards_at_edges
from engine.setting_out.mending import LAST_STEP, Mender
from engine.setting_out.phase_search import search
from engine.setting_out.rating import Rated
from engine.setting_out.sought import Sought
from engine.setting_out.straight_edges import Phase, StraightEdges

# So many of the best tops are mended to the last.
MENDED = 2
# A search that comes this near to what no phase can beat has come near enough: mm of length,
# or of the height of a triangle as wide as a board.
ENOUGH = 0.1


@dataclass(frozen=True, slots=True)
class BestPhase:
    """The best phase found and how it is rated, what no phase can beat, how many ranges were looked at.

    ``top`` is None when no phase promised to be better than what was to be beaten.
    """

    top: tuple[Rated, Phase] | None
    bound: float
    ranges: int


def best_phase(sought: Sought, beaten: float = -inf) -> BestPhase:
    """The best phase of all, or of those that are better than ``beaten``."""
    edges = straight_edges(sought)
    enough = ENOUGH if sought.measure != "area" else ENOUGH * next(iter(sought.boards.values())).size.width
    sought = sought.only(board.number for board in edges.boards)
    mender = Mender(sought, edges, enough)
    here = _as_it_is(sought)
    found = search(edges, sought.spans, enough, mender.truth, max(beaten, here[0][0] if here else -inf))
    if not found.tops and beaten > -inf:
        return BestPhase(None, found.bound, found.ranges)
    tops = (*found.tops[:MENDED], *here) or ((0.0, (0.0, sought.spans[0][0])),)
    mended = (mender.mended(value, sought.rated(phase), phase, LAST_STEP) for value, phase in tops)
    best = min(mended, key=lambda top: (-top[0].value, top[1]))
    return BestPhase(best, max(found.bound, best[0].value), found.ranges)


def _as_it_is(sought: Sought) -> tuple[tuple[float, Phase], ...]:
    """The phase as it is, where that is allowed: no search may end at a worse one."""
    if not any(low <= 0.0 <= high for low, high in sought.spans):
        return ()
    value = sought.rated((0.0, 0.0)).value
    return ((value, (0.0, 0.0)),) if value < inf else ()


def straight_edges(sought: Sought) -> StraightEdges:
    """What is asked, as far as straight edges tell, over all phases within its spans."""
    low, high = min(low for low, _ in sought.spans), max(high for _, high in sought.spans)
    at_edges = boards_at_edges(sought.boards, sought.edges)
    everywhere = Reach(0.5, (low + high) / 2, 0.5, (high - low) / 2)
    return StraightEdges(sought.edges, at_edges, sought.cell, sought.measure).reaching(everywhere)

"""Where the pattern sits best: searched over straight edges, each top held against true clipping."""

from math import inf

from msgspec import Struct
from msgspec.structs import replace

from engine.setting_out.boards_at_edges import boards_at_edges
from engine.setting_out.measures import a_millimetre
from engine.setting_out.mending import Mender
from engine.setting_out.moving_edge import Reach
from engine.setting_out.phase import Phase
from engine.setting_out.phase_search import WHOLE, Effort, search
from engine.setting_out.rating import Rated
from engine.setting_out.sought import Sought, Top
from engine.setting_out.straight_edges import StraightEdges
from engine.slices import Slices

# So many of the best tops are looked at to the last.
MENDED = 2
# A search that comes this near to what no phase can beat has come near enough: mm of length,
# or of the height of a triangle as wide as a board.
ENOUGH = 0.02
# The phase of the pattern as it is.
HERE: Phase = (0.0, 0.0)


class BestPhase(Struct, frozen=True):
    """The best phase found and how it is rated, and what no phase can beat.

    ``top`` is None when no phase promised to be better than what was to be beaten. ``edges`` tell of
    phases as far as straight edges do.
    """

    top: Top | None
    bound: float
    edges: StraightEdges


def best_phase(
    sought: Sought,
    beaten: float = -inf,
    effort: Effort = WHOLE,
    start: Phase | None = None,
    *,
    counts_here: bool = True,
) -> Slices[BestPhase]:
    """The best phase of all, or of those that are better than ``beaten``.

    ``start``: the best one at another axis, from which it is climbed first. ``counts_here``: must it not
    end at a worse phase than the one as it is?
    """
    edges = straight_edges(sought)
    mm = _a_millimetre(sought)
    sought = sought.only(board.number for board in edges.boards)
    edges = replace(edges, sought=sought)
    mender = Mender(sought, edges, mm)
    here = _as_it_is(sought) if counts_here else None
    span = next((span for span in sought.spans if start and span[0] <= start[1] <= span[1]), None)
    promised, phase = edges.climbed(start, span, beaten) if start and span else (-inf, HERE)
    started = [mender.truth(promised, phase)] if promised > beaten else []
    started = [top for top in started if top[0].value > beaten]
    beaten_here = max([beaten, *([here.value] if here else []), *(top[0].value for top in started)])
    found = yield from search(edges, sought.spans, ENOUGH * mm, mender.truth, beaten_here, effort)
    if not found.tops and not started and beaten > -inf:
        return BestPhase(None, found.bound, edges)
    tops = [*started, *found.tops[:MENDED]]
    if here is not None and (not tops or here.value >= tops[0][0].value - ENOUGH * mm):
        span = next(span for span in sought.spans if span[0] <= HERE[1] <= span[1])
        tops += [(here, HERE), mender.truth(*edges.climbed(HERE, span))]
    elif not tops:
        start = 0.0, sought.spans[0][0]
        tops.append((sought.rated(start), start))
    most = max(rated.value for rated, _ in tops) - ENOUGH * mm
    mended = (mender.mended_to_the_last(top) for top in tops if top[0].value >= most)
    best = min(mended, key=lambda top: (-top[0].value, top[1]))
    return BestPhase(best, max(found.bound, best[0].value), edges)


def enough(sought: Sought) -> float:
    """By how much a search may stay below what no phase can beat, by the measure; with rounding."""
    return ENOUGH * _a_millimetre(sought) * (1 + 1e-9)


def _a_millimetre(sought: Sought) -> float:
    return a_millimetre(sought.measure, next(iter(sought.boards.values())).size.width)


def _as_it_is(sought: Sought) -> Rated | None:
    """The phase as it is, where that is allowed and has pieces."""
    if not any(low <= HERE[1] <= high for low, high in sought.spans):
        return None
    rated = sought.rated(HERE)
    return rated if rated.value < inf else None


def straight_edges(sought: Sought) -> StraightEdges:
    """What is asked, as far as straight edges tell, over all phases within its spans."""
    low, high = min(low for low, _ in sought.spans), max(high for _, high in sought.spans)
    everywhere = Reach(0.5, (low + high) / 2, 0.5, (high - low) / 2)
    none = StraightEdges(sought.edges, (), sought.cell, sought.measure)
    at_edges = boards_at_edges(sought.boards, sought.edges, none.moves_near(everywhere))
    return replace(none, boards=tuple(at_edges))

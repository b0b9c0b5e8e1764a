"""Among places where the smallest piece is as large: fewer slivers elsewhere, then fewer boards.

Along a straight wall the pattern can often be moved without changing the
smallest piece. A few such places are tried with all boards of the floor.
"""

from collections.abc import Callable, Iterator, Mapping
from math import floor as whole
from math import hypot

from engine.geometry.kernel import kernel
from engine.geometry.plane import in_steps
from engine.patterns.pattern import LaidBoard
from engine.planning.pieces import without_crumbs
from engine.setting_out.edge_line import EdgeLine
from engine.setting_out.measures import too_small
from engine.setting_out.phase import Phase
from engine.setting_out.rating import moved
from engine.setting_out.sought import Sought, Top
from engine.setting_out.straight_edges import StraightEdges

# Smallest pieces that differ by less than this are as large, by the measure, mm or mm².
AS_LARGE = 0.005
# A place that straight edges say is worse by this is not clipped, mm or mm².
DOUBT = 0.5
# A move along an edge by this much shows whether there are ties at all, mm.
TRIED = 1.0
# So many places are looked at along each edge that matters, and so many of them cut at the most.
ALONG, MOST_CUT = 6, 6

Boards = Mapping[int, LaidBoard]


def settled(
    sought: Sought, edges: StraightEdges, top: Top, all_boards: Callable[[], Boards], sliver: float
) -> Top:
    """The best of the places as good as a top; the top itself unless another is better.

    ``all_boards`` must cover the whole floor at every phase; ``sliver`` in mm.
    """
    others = list(_as_good(sought, edges, top))[:MOST_CUT]
    if not others:
        return top
    boards = all_boards()
    return min([top, *others], key=lambda each: _cost(sought, each[1], boards, sliver))


def _as_good(sought: Sought, edges: StraightEdges, top: Top) -> Iterator[Top]:
    """Places along the edges that matter with as large a smallest piece."""
    length = hypot(*sought.cell.place)
    for edge in sought.named:
        for line in edge.lines:
            if _rated(sought, edges, top, line, TRIED) is not None:
                ways = (length * step / ALONG for step in range(1, ALONG))
                found = (_rated(sought, edges, top, line, way) for way in ways)
                yield from (other for other in found if other is not None)


def _rated(sought: Sought, edges: StraightEdges, top: Top, line: EdgeLine, way: float) -> Top | None:
    """The place some mm along an edge from a top; None when it may not be or is worse."""
    rated, (along, across) = top
    cell = sought.cell
    x, y = line.frame.to_room((way, 0.0))
    more = in_steps((x - line.frame.x, y - line.frame.y), cell.place, cell.row)
    along, across = along + more[0], across + more[1]
    if cell.moved_on is not None:
        along, across = along - whole(across) * cell.moved_on, across % 1.0
    if not any(low <= across <= high for low, high in sought.spans):
        return None
    there = along % 1.0, across
    least = rated.value - AS_LARGE
    if not edges.is_better(there, edges.boards, least - DOUBT):
        return None
    again = sought.rated(there)
    return (again, there) if again.value >= least else None


def _cost(sought: Sought, phase: Phase, boards: Boards, sliver: float) -> tuple[int, int]:
    """How many slivers lie elsewhere than along the edges that matter, and how many boards it takes."""
    placed = list(moved(boards, sought.cell.shift(*phase)).values())
    rings = [board.frame.ring_to_room(board.size.ring) for board in placed]
    regions = [without_crumbs(region) for region in kernel().clip(sought.lay_area, rings)]
    slivers = sum(
        too_small(part, board, sliver) and not any(edge.touches(part) for edge in sought.named)
        for board, region in zip(placed, regions, strict=True)
        for part in region
    )
    return slivers, sum(bool(region) for region in regions)

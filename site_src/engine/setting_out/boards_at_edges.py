"""Every board of a pattern at every edge that matters, before any range of phases rules it out."""

from collections.abc import Iterator, Mapping, Sequence

from engine.setting_out.board_at_edge import BoardAtEdge
from engine.setting_out.measures import Placed
from engine.setting_out.moving_edge import Move
from engine.setting_out.rating import outlines
from engine.setting_out.searched_edge import TOUCH, SearchedEdge


def boards_at_edges(
    boards: Mapping[int, Placed], edges: Sequence[SearchedEdge], moves: Sequence[Move]
) -> Iterator[BoardAtEdge]:
    """Those that may come to the height of an edge; ``moves`` are the widest of each edge."""
    rings = outlines(boards)
    for which, edge in enumerate(edges):
        if edge.weight is None:
            continue
        near = {*edge.near, *_met(which, edges)}
        frames = [each.moving.line.frame if place in near else None for place, each in enumerate(edges)]
        (lowest, highest), move = edge.moving.line.levels, moves[which]
        for number, board in boards.items():
            across = [y for _, y in edge.moving.line.frame.ring_to_board(rings[number])]
            low, high = min(across), max(across)
            if high + move.y + move.rise < lowest or low + move.y - move.rise > highest + TOUCH:
                continue
            corners = [frame.ring_to_board(rings[number]) if frame else () for frame in frames]
            yield BoardAtEdge(number, board.size, which, edges, corners, (low, high))


def _met(which: int, edges: Sequence[SearchedEdge]) -> set[int]:
    """An edge, those that it meets, and those that they meet."""
    found = {which}
    for _ in range(2):
        besides = [beside for each in found for beside in (edges[each].before, edges[each].after)]
        found |= {beside.edge for beside in besides if beside is not None and beside.edge is not None}
    return found

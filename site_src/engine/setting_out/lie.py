"""How a board lies along an edge of the floor, and what it comes to besides: over a range of phases."""

from collections.abc import Mapping, Sequence
from math import hypot, inf
from typing import NamedTuple

from engine.setting_out.board_over import Corners, Over, board_over
from engine.setting_out.moving_edge import Move
from engine.setting_out.searched_edge import Beside, Cut, Near, SearchedEdge

CornersAt = Mapping[int, Corners]
"""A board's corners in the frame of each edge that it may come to, by the edge's place among all."""


class Lie(NamedTuple):
    """How a board lies over one of all edges in the middle of a range of phases, and what it comes to."""

    edges: Sequence[SearchedEdge]
    edge: int
    over: Over
    near: Near

    @property
    def own(self) -> SearchedEdge:
        """The edge along which the board may lie."""
        return self.edges[self.edge]

    def tells_all(self, corners: CornersAt, moves: Sequence[Move]) -> bool:
        """Is the piece what its edge, those looked at beside and things leave, to less than can be sawn?"""
        near = self.near
        if not near.is_known or near.is_bent:
            return False
        looked_at = {cut.edge for cut in near.cuts}
        looked_at |= {cut.beyond.edge for cut in near.cuts if cut.beyond is not None}
        others = (edge for edge in self.own.near if edge not in looked_at)
        return not any(_is_cut(self.edges, corners, edge, moves) for edge in others)


def over_edge(edges: Sequence[SearchedEdge], corners: CornersAt, edge: int, moves: Sequence[Move]) -> Over:
    """How a board lies over an edge."""
    x, y, *_ = moves[edge]
    return board_over(edges[edge].moving.line, corners[edge], x, y)


def lie(
    edges: Sequence[SearchedEdge], corners: CornersAt, edge: int, over: Over, moves: Sequence[Move]
) -> Lie | None:
    """How a board that lies over an edge lies at the floor; None when it lies wholly beyond the edge."""
    own, move = edges[edge], moves[edge]
    first, last = over.first - move.along, over.last + move.along
    start, end = own.ends
    if first > end or last < start:
        return None
    more = hypot(move.along, move.up)
    things = [thing for thing in own.things if thing.is_near(over.stations, over.across, more)]
    if first >= start and last <= end:
        return Lie(edges, edge, over, Near([], False, True, things))
    cuts: list[Cut] = []
    is_known = True
    for beside, is_past, is_after in ((own.before, first < start, False), (own.after, last > end, True)):
        if is_past and beside is None:
            is_known = False
        elif is_past and beside is not None and beside.edge is not None:
            # Round an outer corner only what lies above this edge can get farther.
            lift = inf if beside.corner.is_inner else move.rise + own.moving.line.most_sag
            cut, is_all = _round_corner(edges, corners, beside, is_after, over, lift, moves)
            cuts.append(cut)
            is_known = is_known and is_all
    return Lie(edges, edge, over, Near(cuts, True, is_known, things))


def _is_cut(edges: Sequence[SearchedEdge], corners: CornersAt, edge: int, moves: Sequence[Move]) -> bool:
    """May an edge run through a board somewhere in a range?"""
    line, move, here = edges[edge].moving.line, moves[edge], corners[edge]
    first, last = here.first + move.x - move.along, here.last + move.x + move.along
    if last <= line.stations[0] or first >= line.stations[-1]:
        return False
    heights = over_edge(edges, corners, edge, moves).heights
    return min(heights) - move.rise < 0 < max(heights) + move.rise


def _round_corner(
    edges: Sequence[SearchedEdge],
    corners: CornersAt,
    beside: Beside,
    is_after: bool,
    over: Over,
    lift: float,
    moves: Sequence[Move],
) -> tuple[Cut, bool]:
    """How a board lies over the edge round a corner, and whether that is all that it comes to there."""
    cut, following = _cut(edges, corners, beside, is_after, moves)
    if following is not None and not following.corner.is_inner:
        return cut, True
    if not cut.over.passes(is_after, moves[cut.edge].along, over.heights, lift):
        return cut, True
    if following is None or following.edge is None or cut.corner.is_inner:
        return cut, False
    beyond, last = _cut(edges, corners, following, is_after, moves)
    is_all = (last is not None and not last.corner.is_inner) or not beyond.over.passes(
        is_after, moves[beyond.edge].along, over.heights, lift
    )
    return cut._replace(beyond=beyond), is_all


def _cut(
    edges: Sequence[SearchedEdge], corners: CornersAt, beside: Beside, is_after: bool, moves: Sequence[Move]
) -> tuple[Cut, Beside | None]:
    """How a board lies over an edge beside, and what follows at that one's far end."""
    assert beside.edge is not None
    over = over_edge(edges, corners, beside.edge, moves)
    cut = Cut(beside.edge, over, moves[beside.edge].rise, beside.corner, beside.wedge)
    edge = edges[beside.edge]
    return cut, edge.after if is_after else edge.before

"""Every board of a pattern at every edge that matters, before any range of phases rules it out."""

from collections.abc import Iterator, Mapping, Sequence
from math import dist

from engine.geometry.shapes import Point, Ring
from engine.setting_out.board_at_edge import BoardAtEdge
from engine.setting_out.board_over import corners_in
from engine.setting_out.measures import Placed
from engine.setting_out.moving_edge import Move
from engine.setting_out.rating import outlines
from engine.setting_out.searched_edge import TOUCH, SearchedEdge


def boards_at_edges(
    boards: Mapping[int, Placed], edges: Sequence[SearchedEdge], moves: Sequence[Move]
) -> Iterator[BoardAtEdge]:
    """Those that may come to the height of an edge; ``moves`` are the widest of each edge."""
    rings = outlines(boards)
    rounds = {number: _round(ring) for number, ring in rings.items()}
    for which, edge in enumerate(edges):
        if edge.weight is None:
            continue
        near = {*edge.near, *_met(which, edges)}
        frames = {place: edges[place].moving.line.frame for place in sorted(near)}
        for number, board in boards.items():
            # Most boards are far from the edge: their middle tells.
            middle, reach = rounds[number]
            x, y = frames[which].to_board(middle)
            if not _comes_to(edge, moves[which], (x - reach, x + reach), (y - reach, y + reach)):
                continue
            here = corners_in(frames[which], rings[number])
            if _comes_to(edge, moves[which], (here.first, here.last), (here.lowest, here.highest)):
                corners = {
                    place: here if place == which else corners_in(frame, rings[number])
                    for place, frame in frames.items()
                }
                yield BoardAtEdge(number, board.size, which, edges, corners)


def _round(ring: Ring) -> tuple[Point, float]:
    """The middle of a board and how far its corners lie from it."""
    (ax, ay), b, (cx, cy), d = ring
    middle = (ax + cx) / 2, (ay + cy) / 2
    return middle, max(dist(middle, corner) for corner in ((ax, ay), b, d))


def _comes_to(
    edge: SearchedEdge, move: Move, stations: tuple[float, float], across: tuple[float, float]
) -> bool:
    """May a board that lies from where to where in an edge's frame come to its height, between its ends?"""
    (lowest, highest), (start, end) = edge.moving.line.levels, edge.ends
    if across[1] + move.y + move.rise < lowest or across[0] + move.y - move.rise > highest + TOUCH:
        return False
    return stations[1] + move.x + move.along >= start and stations[0] + move.x - move.along <= end


def _met(which: int, edges: Sequence[SearchedEdge]) -> set[int]:
    """An edge, those that it meets, and those that they meet."""
    found = {which}
    for _ in range(2):
        besides = [beside for each in found for beside in (edges[each].before, edges[each].after)]
        found |= {beside.edge for beside in besides if beside is not None and beside.edge is not None}
    return found

"""One wall alone: the exact best, and how much of it the wall's taper and bow take.

Along a wall that runs as the pattern does, every board of a class ends equally
deep; the best smallest piece is the largest gap between those depths, counted
round by round. A wall that runs away or bows spreads each depth to an interval:
what stays uncovered is what can still be won (METHODS: one wall).
"""

from collections.abc import Iterable, Sequence
from math import atan2, degrees

from msgspec import Struct

from engine.geometry.shapes import Point
from engine.setting_out.edge_line import EdgeLine
from engine.setting_out.phase import PhaseCell

Span = tuple[float, float]


class Gap(Struct, frozen=True):
    """An arc of the period that nothing covers: where it begins and how long it is, in mm."""

    start: float
    length: float


def largest_gap(taken: Iterable[Span], period: float) -> Gap:
    """The largest arc of a circle of ``period`` that none of some intervals covers; O(N log N), exact."""
    spans = sorted((low % period, high - low) for low, high in taken)
    if not spans:
        return Gap(0.0, period)
    best = Gap(spans[0][0], 0.0)
    reached = max(low + length for low, length in spans) - period
    for low, length in spans:
        if low - reached > best.length:
            best = Gap(reached % period, low - reached)
        reached = max(reached, low + length)
    return best


class WallTaper(Struct, frozen=True):
    """How a wall runs out of the pattern, all in mm across it but ``turn``.

    ``turn``: degrees counter-clockwise by which the pattern would have to be
    turned to follow it. ``taper`` is how much deeper boards of one class end at
    one place of the wall than at another, ``bow`` what would stay of that once
    the pattern followed. ``free`` is the largest gap between the depths at which
    boards end, ``left`` what the taper leaves of it where there are many boards
    along the wall; a few may end luckily. ``followed`` is what the bow alone would leave.
    """

    turn: float
    taper: float
    bow: float
    free: float
    left: float
    followed: float


def wall_taper(line: EdgeLine, rings: Sequence[Sequence[Point]], cell: PhaseCell) -> WallTaper | None:
    """How an edge runs out of the pattern, given the boards of one cell; None when it runs askew."""
    turn = turn_to_follow(line, cell)
    if turn is None:
        return None
    x, y = _nearest_way(line, cell)
    slope = y / x
    runs = [slope * s - offset for s, offset in zip(line.stations, line.offsets, strict=True)]
    taper, bow = max(runs) - min(runs), max(line.offsets) - min(line.offsets)
    local = [line.frame.ring_to_board(ring) for ring in rings]
    # Seen along the pattern's own direction, so that it is the same wherever on the wall a board lies.
    depths = [max(across - slope * station for station, across in ring) for ring in local]
    period = abs(cell.place[0] * cell.row[1] - cell.place[1] * cell.row[0]) / abs(x)
    free, left, followed = (
        largest_gap([(depth, depth + spread) for depth in depths], period).length
        for spread in (0.0, taper, bow)
    )
    return WallTaper(turn, taper, bow, free, left, followed)


# A wall farther off every way of the pattern than this does not run along it, degrees.
ASKEW = 8.0


def turn_to_follow(line: EdgeLine, cell: PhaseCell) -> float | None:
    """By how many degrees the pattern must be turned to follow an edge; None when that runs askew."""
    x, y = _nearest_way(line, cell)
    turn = -degrees(atan2(y, x))
    return turn if abs(turn) <= ASKEW else None


def _nearest_way(line: EdgeLine, cell: PhaseCell) -> Point:
    """The way of the pattern that runs most nearly along the edge, in the edge's frame."""
    return min((_turned(line, way) for way in _ways(cell)), key=lambda way: abs(atan2(way[1], way[0])))


def _ways(cell: PhaseCell) -> list[Point]:
    """The ways in which the pattern repeats closely: along the rows, across them, and askew either way."""
    steps = ((1, 0), (0, 1), (1, 1), (1, -1))
    return [
        way for along, across in steps for way in (cell.shift(along, across), cell.shift(-along, -across))
    ]


def _turned(line: EdgeLine, way: Point) -> Point:
    return line.frame.to_board((line.frame.x + way[0], line.frame.y + way[1]))

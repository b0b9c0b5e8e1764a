"""What convex things leave of a board along an edge: of the parts into which they part it, the one there.

What edges leave of a board is convex too, so that each part which a convex thing
leaves of it has one unbroken stretch of its rim, and from end to end of that stretch
runs the thing. Where the same wall goes on behind a thing, the part along
the edge ends with the edge.
"""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import NamedTuple

from engine.geometry.board import BoardSize
from engine.geometry.shapes import Ring
from engine.model.setting_out import Measure
from engine.setting_out.piece_left import Heights, area_of, clipped

Row = list[float]
"""A point of a board: where it lies in the board, and in the frame of the edge; its height over the edge."""

Share = tuple[float, float]
"""From which to which share of the way between two points."""

X, Y, STATION, ACROSS, HEIGHT = range(5)
# A point so near above an edge lies on it, mm, and two so near to each other are one: rounding.
ON, SAME = 1e-6, 1e-9


class Lying(NamedTuple):
    """How the four corners of a board lie along an edge: where in its frame, and how high over it.

    ``ends`` are the stations at which a thing ends the edge, −∞ or ∞ where none does.
    """

    stations: Sequence[float]
    across: Sequence[float]
    heights: Heights
    ends: tuple[float, float]


class _Part(NamedTuple):
    """What a thing leaves along the edge: mm of each long edge, and the area that is taken off, mm²."""

    right: float
    left: float
    taken: float


def size_beside(
    lying: Lying, outer: Sequence[Heights], things: Sequence[Ring], size: BoardSize, measure: Measure
) -> float:
    """The size of the part along an edge, at the most where several lie there.

    ``outer`` are the corners' heights over edges that it meets at outer corners, ``things``
    convex rings in the edge's frame.
    """
    columns = (lying.stations, lying.across, lying.heights, *outer)
    rows = [[*point, *(each[place] for each in columns)] for place, point in enumerate(size.ring)]
    for which in range(HEIGHT, len(rows[0])):
        rows = clipped(rows, which)
    if not rows:
        return 0.0
    parts = [_largest(rows, lying.ends, thing, size, measure) for thing in things]
    if measure == "area":
        return _area(rows) - sum(part.taken for part in parts)
    right, left = min(part.right for part in parts), min(part.left for part in parts)
    return max(right, left) if measure == "long_point" else min(right, left)


def _largest(
    rows: list[Row], ends: tuple[float, float], thing: Ring, size: BoardSize, measure: Measure
) -> _Part:
    """The most of what a thing leaves along an edge; all where nothing lies along it."""
    parts = [part for part in _parts(rows, thing, ends) if _lies_on_edge(part)] or [[*rows, *rows[:1]]]
    taken = 0.0
    if measure == "area":
        inside, whole = _overlap(thing, rows), _area(rows)
        taken = min(whole - _area(part) + _area(_left_of(inside, part[-1], part[0])) for part in parts)
    return _Part(
        max(_along(part, 0.0) for part in parts), max(_along(part, size.width) for part in parts), taken
    )


def _parts(rows: list[Row], thing: Ring, ends: tuple[float, float]) -> Iterator[list[Row]]:
    """The stretches of a convex rim outside a thing, all of it where that does not come to the rim."""
    sides = [
        (start, end, inside)
        for start, end in zip(rows, (*rows[1:], *rows[:1]), strict=True)
        for inside in _shares(start, end, thing, ends)
    ]
    first = next((place for place, (_, _, inside) in enumerate(sides) if inside is not None), None)
    if first is None:
        yield [*rows, *rows[:1]]
        return
    part: list[Row] = []
    for start, end, inside in (*sides[first:], *sides[: first + 1]):
        if inside is not None:
            if part:
                yield [*part, _between(start, end, inside[0])]
            part = [_between(start, end, inside[1])]
        part.append(end)


def _shares(start: Row, end: Row, thing: Ring, ends: tuple[float, float]) -> Sequence[Share | None]:
    """Which shares of a side of the rim are no part's: those in a thing, or on the edge past its ends."""
    past = _past_ends(start[STATION], end[STATION], ends) if _is_on(start, end) else []
    return past or [_inside(start, end, thing)]


def _past_ends(one: float, other: float, ends: tuple[float, float]) -> list[Share]:
    """Which shares of a way along an edge, from station to station, lie past its ends."""
    (low, high), way = ends, other - one
    if abs(way) < SAME:
        return []
    before, after = sorted(((low - one) / way, (high - one) / way))
    return [(0.0, min(before, 1.0))] * (before > 0) + [(max(after, 0.0), 1.0)] * (after < 1)


def _inside(start: Row, end: Row, thing: Ring) -> Share | None:
    """Which share of a way runs inside a thing; None where it does not come to it."""
    x, y = start[STATION], start[ACROSS]
    dx, dy = end[STATION] - x, end[ACROSS] - y
    length = dx * dx + dy * dy
    beside = [dx * (v - y) - dy * (u - x) for u, v in thing]
    if min(beside) >= 0 or max(beside) <= 0 or length < SAME:
        return None
    crossed = [
        place
        for place, (one, other) in enumerate(zip(beside, (*beside[1:], beside[0]), strict=True))
        if (one < 0) != (other < 0)
    ]
    shares = []
    for place in crossed:
        (u, v), (other_u, other_v) = thing[place], thing[(place + 1) % len(thing)]
        share = beside[place] / (beside[place] - beside[(place + 1) % len(thing)])
        u, v = u + share * (other_u - u), v + share * (other_v - v)
        shares.append((dx * (u - x) + dy * (v - y)) / length)
    low, high = max(0.0, min(shares)), min(1.0, max(shares))
    return (low, high) if low < high else None


def _between(start: Row, end: Row, share: float) -> Row:
    return [a + share * (b - a) for a, b in zip(start, end, strict=True)]


def _is_on(start: Row, end: Row) -> bool:
    return start[HEIGHT] < ON and end[HEIGHT] < ON


def _lies_on_edge(part: Sequence[Row]) -> bool:
    return any(
        _is_on(one, other) and abs(one[STATION] - other[STATION]) > SAME for one, other in pairwise(part)
    )


def _along(part: Sequence[Row], edge: float) -> float:
    """How much of a long edge of the board a part has."""
    return sum(abs(b[X] - a[X]) for a, b in pairwise(part) if a[Y] == b[Y] == edge)


def _area(rows: Sequence[Row]) -> float:
    return area_of([row[STATION : ACROSS + 1] for row in rows])


def _overlap(thing: Ring, rows: Sequence[Row]) -> list[Row]:
    """What of a thing lies in a convex part of a board, as rows with stations and across alone."""
    inside: list[Row] = [[0.0, 0.0, *point] for point in thing]
    for one, other in zip(rows, (*rows[1:], *rows[:1]), strict=True):
        inside = _left_of(inside, one, other)
    return inside


def _left_of(rows: Sequence[Row], one: Row, other: Row) -> list[Row]:
    """What of a convex ring lies on the left of the way from one point to another; all where they are one."""
    dx, dy = other[STATION] - one[STATION], other[ACROSS] - one[ACROSS]
    if abs(dx) + abs(dy) < SAME:
        return list(rows)
    beside = [
        [*row[:4], dx * (row[ACROSS] - one[ACROSS]) - dy * (row[STATION] - one[STATION])] for row in rows
    ]
    return [row[:4] for row in clipped(beside, 4)]

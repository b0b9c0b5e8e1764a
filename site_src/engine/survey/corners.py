"""Corners from wall lengths and ties, where they were not measured by x and y.

First a start is chained from triangles, both mirror images of each corner
tried; the likeliest few are adjusted; the best room is kept. The first corner
comes to (0, 0), the second onto the positive x axis, the room counter-clockwise.
"""

from collections.abc import Mapping, Sequence
from itertools import combinations
from math import dist, hypot, sqrt

from msgspec import Struct
from msgspec.structs import replace

from engine.errors import Finding, Refused
from engine.geometry.shapes import Point, signed_area
from engine.model.job import Room, Tie, Wall
from engine.survey.corner_order import corner_order
from engine.survey.crossing import crossings
from engine.survey.instruments import LASER_SD
from engine.survey.needed_ties import refuse_too_few
from engine.survey.network import Adjustment, Length, Unknown, adjust
from engine.survey.starts import Places, likely_starts
from engine.units import number_text

# So many of the likeliest starts are adjusted at first, and so many in all when none of them fits.
ADJUSTED, MOST_ADJUSTED = 24, 96

# Weighted squares per redundant length beyond this mean: no fit (a blunder, or the wrong mirror image).
POOR_FIT = 20.0

# Two rooms both fit when their weighted squares differ by less than this: chi-square, one degree, 95 %.
BOTH_FIT = 3.84

# Rooms that differ less than this in every distance (mm) are the same room.
SAME_ROOM = 10.0


class Solution(Struct, frozen=True, kw_only=True):
    """The corners as adjusted, in the room's order, and a warning where a second room fits as well."""

    adjustment: Adjustment
    findings: tuple[Finding, ...]

    @property
    def places(self) -> Places:
        """The corners in their frame, mm."""
        return self.adjustment.places


def room_lengths(room: Room) -> tuple[Length, ...]:
    """Every measured length of the room, walls first; without an sd it is a laser's."""
    walls = (_length(line, f"room.walls[{index}]") for index, line in enumerate(room.walls))
    ties = (_length(line, f"room.ties[{index}]") for index, line in enumerate(room.ties))
    return tuple(length for length in (*walls, *ties) if length is not None)


def _length(line: Wall | Tie, path: str) -> Length | None:
    if line.length is None:
        return None
    sd = LASER_SD if line.sd is None else line.sd
    return Length(from_=line.from_, to=line.to, value=line.length, sd=sd, path=path)


def solve_corners(room: Room) -> Solution:
    """Corners by least squares over all lengths; those listed with x and y are held.

    Raises Refused when the lengths are too few (naming those to measure) or
    when three of them cannot form a triangle.
    """
    order, placed = corner_order(room), dict(room.corners or {})
    lengths = room_lengths(room) if not placed else between_placed(room_lengths(room))
    refuse_too_few(order, lengths, tuple(placed))
    starts = likely_starts(order, lengths, placed)[:MOST_ADJUSTED]
    solved = _all_adjusted(order, lengths, starts[:ADJUSTED], tuple(placed))
    if starts[ADJUSTED:] and solved[0].sum_squares > POOR_FIT * max(solved[0].redundancy, 1):
        solved = _all_adjusted(order, lengths, starts, tuple(placed))
    return Solution(adjustment=solved[0], findings=_ambiguity(order, solved))


def _all_adjusted(
    order: Sequence[str], lengths: Sequence[Length], starts: Sequence[Places], placed: Sequence[str]
) -> list[Adjustment]:
    """Every start adjusted, the likeliest room first; a start that does not hold together is left out."""
    solved: list[Adjustment] = []
    refusal: Refused | None = None
    for start in starts:
        try:
            solved.append(solve_places(order, lengths, start, placed))
        except Refused as fault:
            refusal = refusal or fault
    if not solved:
        assert refusal is not None
        raise refusal
    return sorted(solved, key=lambda found: _unlikeliness(order, found))


def between_placed(lengths: Sequence[Length]) -> tuple[Length, ...]:
    """The lengths, less sure by the error that corners measured by x and y bring in at their ends."""
    return tuple(replace(length, sd=hypot(length.sd, sqrt(2) * LASER_SD)) for length in lengths)


def solve_places(
    order: Sequence[str], lengths: Sequence[Length], start: Mapping[str, Point], placed: Sequence[str] = ()
) -> Adjustment:
    """Adjust from a start that is near, in the room's order.

    Without ``placed`` corners, which stay where they are, the first corner
    comes to (0, 0), the second onto the positive x axis, the room
    counter-clockwise.
    """
    if placed:
        unknowns: list[Unknown] = [(name, axis) for name in order if name not in placed for axis in (0, 1)]
        return adjust(lengths, {name: start[name] for name in order}, unknowns)
    unknowns = [(order[1], 0), *((name, axis) for name in order[2:] for axis in (0, 1))]
    return adjust(lengths, _framed(order, start), unknowns)


def _framed(order: Sequence[str], places: Mapping[str, Point]) -> Places:
    """Turn the room, mirrored if it runs clockwise, so that the first two corners lie on the x axis."""
    sign = 1 if signed_area(tuple(places[name] for name in order)) >= 0 else -1
    (x0, y0), (x1, y1) = places[order[0]], places[order[1]]
    reach = hypot(x1 - x0, y1 - y0)
    ux, uy = (x1 - x0) / reach, (y1 - y0) / reach
    turned: Places = {}
    for name in order:
        dx, dy = places[name][0] - x0, places[name][1] - y0
        turned[name] = (dx * ux + dy * uy, sign * (dy * ux - dx * uy))
    turned[order[0]], turned[order[1]] = (0.0, 0.0), (reach, 0.0)
    return turned


def _unlikeliness(order: Sequence[str], found: Adjustment) -> tuple[float, float, float]:
    """Rank of a possible room: walls do not cross, it fits the lengths, its corners are near square."""
    ring = tuple(found.places[name] for name in order)
    clockwise = signed_area(ring) < 0
    # Fits that differ by less than BOTH_FIT can not be told apart by their lengths.
    return crossings(ring) + clockwise, found.sum_squares // BOTH_FIT, _off_square(ring)


def _off_square(ring: Sequence[Point]) -> float:
    """Σ cos² of the corner angles: 0 when all are square, whichever way they turn."""
    total = 0.0
    for a, b, c in zip((ring[-1], *ring), ring, (*ring[1:], ring[0]), strict=False):
        across = (a[0] - b[0]) * (c[0] - b[0]) + (a[1] - b[1]) * (c[1] - b[1])
        total += (across / (dist(a, b) * dist(c, b) or 1.0)) ** 2
    return total


def _ambiguity(order: Sequence[str], solved: Sequence[Adjustment]) -> tuple[Finding, ...]:
    """A warning when another room fits the lengths as well, with the tie that tells them apart."""
    best = solved[0]
    for other in solved[1:]:
        ring = tuple(other.places[name] for name in order)
        if crossings(ring) or other.sum_squares > best.sum_squares + BOTH_FIT:
            continue
        pair = max(combinations(order, 2), key=lambda ends: _difference(best, other, *ends))
        apart = _difference(best, other, *pair)
        if apart > SAME_ROOM:
            return (_two_rooms(pair, best, other),)
    return ()


def _difference(one: Adjustment, other: Adjustment, a: str, b: str) -> float:
    return abs(dist(one.places[a], one.places[b]) - dist(other.places[a], other.places[b]))


def _two_rooms(pair: tuple[str, str], one: Adjustment, other: Adjustment) -> Finding:
    a, b = pair
    lengths = [number_text(dist(found.places[a], found.places[b]), 0) for found in (one, other)]
    return Finding(
        path="room.ties",
        code="two rooms fit",
        level="warning",
        sentence=f"Two rooms of different shape fit these lengths. Measure {a}–{b}: it is about "
        f"{lengths[0]} mm in the room shown and {lengths[1]} mm in the other.",
    )

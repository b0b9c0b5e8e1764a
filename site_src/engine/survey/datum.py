"""A room from one datum line: both long walls at once, without reaching a corner.

A laser or a string runs along the room. At stations on it the distances square
to it are read, left and right; both end walls are met ahead and behind. The
line is the x axis, the left is y up. The corners are where each long wall,
carried on from its last two readings, meets the end wall.
"""

from collections.abc import Sequence
from math import dist

from msgspec import Struct

from engine.errors import Finding, Refused
from engine.geometry.shapes import Point
from engine.model.job import Pair, Room, Wall
from engine.units import number_text

Side = tuple[Point, ...]

# Where in the job file the readings stand.
WHERE = "survey.readings"


class Datum(Struct, frozen=True, kw_only=True):
    """Readings on one datum line in mm.

    ``left`` and ``right`` are (station, distance to that wall), at least two
    each. ``behind`` and ``ahead`` are points (station, y) of the two end walls,
    y positive to the left: one point where an end wall is square to the line,
    two where it is not.
    """

    left: tuple[Pair, ...]
    right: tuple[Pair, ...]
    behind: tuple[Pair, ...]
    ahead: tuple[Pair, ...]


def room_from_datum(datum: Datum, names: tuple[str, str, str, str] = ("A", "B", "C", "D")) -> Room:
    """A room of four corners: right wall A–B, end ahead B–C, left wall C–D, end behind D–A.

    Raises Refused when a wall has too few readings or walls do not meet.
    """
    _refuse_unread(datum)
    right = _side(datum.right, -1)
    left = _side(datum.left, 1)
    behind, ahead = _end(datum.behind), _end(datum.ahead)
    a = _meeting(right[0], right[1], behind)
    b = _meeting(right[-1], right[-2], ahead)
    c = _meeting(left[-1], left[-2], ahead)
    d = _meeting(left[0], left[1], behind)
    walls = (
        Wall(from_=names[0], to=names[1], offsets=_in_frame(right, a, b)),
        Wall(from_=names[1], to=names[2]),
        Wall(from_=names[2], to=names[3], offsets=_in_frame(left, c, d)),
        Wall(from_=names[3], to=names[0]),
    )
    return Room(corners=dict(zip(names, (a, b, c, d), strict=True)), walls=walls)


def _refuse_unread(datum: Datum) -> None:
    """Raise Refused with all that is still to be read, in the order in which one would."""
    lacking = [
        *_too_few("right", datum.right),
        *_too_few("left", datum.left),
        *(_not_met(word) for word in ("behind", "ahead") if not getattr(datum, word)),
    ]
    if lacking:
        raise Refused(*lacking)


def _too_few(word: str, readings: Sequence[Pair]) -> list[Finding]:
    stations = len({station for station, _ in readings})
    if stations >= 2:
        return []
    more = "one more station" if stations else "two stations or more"
    sentence = f"Read the {word} wall at {more}, so that it can be carried on to its corners."
    return [Finding(path=WHERE, code="too few stations", sentence=sentence)]


def _not_met(word: str) -> Finding:
    sentence = f"Read where the datum line meets the end wall {word}."
    return Finding(path=WHERE, code="end wall not read", sentence=sentence)


def _side(readings: Sequence[Pair], sign: int) -> Side:
    return tuple((station, sign * distance) for station, distance in sorted(readings))


def _end(points: Sequence[Pair]) -> tuple[Point, Point]:
    """Two points of an end wall; one point means square to the line."""
    (x, y), *more = points
    return ((x, y), more[-1] if more else (x, y + 1.0))


def _meeting(near: Point, inner: Point, end: tuple[Point, Point]) -> Point:
    """Where the line through two readings meets an end wall."""
    (px, py), (qx, qy) = near, inner
    (rx, ry), (sx, sy) = end
    turn = (px - qx) * (sy - ry) - (py - qy) * (sx - rx)
    if abs(turn) < 0.1 * dist(near, inner) * dist(*end):
        sentence = (
            f"The end wall at station {number_text(rx, 0)} mm runs almost along the long wall. "
            "Read both of its points again."
        )
        raise Refused(Finding(path=WHERE, code="walls do not meet", sentence=sentence))
    share = ((rx - qx) * (sy - ry) - (ry - qy) * (sx - rx)) / turn
    return (qx + share * (px - qx), qy + share * (py - qy))


def _in_frame(side: Side, start: Point, end: Point) -> tuple[Pair, ...]:
    """Room points in a wall's own frame, in the order of its stations."""
    chord = dist(start, end)
    ux, uy = (end[0] - start[0]) / chord, (end[1] - start[1]) / chord
    found = []
    for x, y in side:
        dx, dy = x - start[0], y - start[1]
        found.append((dx * ux + dy * uy, ux * dy - uy * dx))
    return tuple(sorted(found))

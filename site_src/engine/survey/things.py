"""Where the fixed things stand, from lengths read from the corners to their points.

The corners may be solved from lengths themselves, so this comes after them,
and the things follow when a corner is corrected.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from itertools import groupby
from math import atan2, cos, dist, hypot, sin

from msgspec.structs import replace

from engine.errors import Finding, Level
from engine.geometry.shapes import Point, Ring
from engine.model.job import FixedThing
from engine.model.readings import Survey, ThingReading
from engine.survey.from_readings import standing_readings, value_of
from engine.survey.instruments import LASER_SD, length_sd
from engine.survey.thing_point import Placed, ThingLength, pairs, place_point
from engine.units import number_text

# A point known no better than this (mm, 95 %) would shift the cuts round it.
LOOSE = 20.0


def thing_lengths(survey: Survey | None) -> tuple[ThingLength, ...]:
    """The standing lengths to fixed things, in the order in which they were read."""
    if survey is None:
        return ()
    instruments = {instrument.name: instrument for instrument in survey.instruments}
    return tuple(
        ThingLength(
            thing=reading.thing,
            point=reading.point,
            from_=reading.from_,
            value=(value := value_of(reading)),
            # The corner that it starts from is about as sure as one more reading.
            sd=hypot(length_sd(instruments.get(reading.instrument), value), LASER_SD),
            path=f"survey.readings.{reading.id}",
        )
        for reading in standing_readings(survey)
        if isinstance(reading, ThingReading)
    )


def place_things(
    things: Iterable[FixedThing], lengths: Sequence[ThingLength], corners: Mapping[str, Point], ring: Ring
) -> tuple[tuple[FixedThing, ...], tuple[Finding, ...]]:
    """The things where their lengths put them, and what was found on the way.

    ``ring`` is the room, ``corners`` its corners. A thing without two lengths
    to one of its points stays where it is, or is left out when it has no place
    but by lengths; a point without them goes with the points that have them.
    """
    placed: list[FixedThing] = []
    findings: list[Finding] = []
    for index, thing in enumerate(things):
        found: dict[int, Point] = {}
        for point, group in _by_point(thing, lengths):
            name = thing.name if thing.outline is None else f"{thing.name}, point {point + 1}"
            place = place_point(_points(thing)[point], group, corners, ring)
            if place is None:
                findings.append(_not_placed(thing, name, group, corners))
            else:
                found[point] = place.at
                findings += _doubts(name, group, place, corners)
        if found or not thing.by_lengths:
            placed.append(_moved(thing, found))
        else:
            findings.append(_left_out(thing, f"room.fixed[{index}]"))
    return tuple(placed), tuple(findings)


def _points(thing: FixedThing) -> tuple[Point, ...]:
    if thing.outline is not None:
        return thing.outline
    return () if thing.centre is None else (thing.centre,)


def _by_point(
    thing: FixedThing, lengths: Sequence[ThingLength]
) -> Iterator[tuple[int, tuple[ThingLength, ...]]]:
    own = [length for length in lengths if length.thing == thing.name]
    for point, group in groupby(sorted(own, key=lambda length: length.point), key=lambda each: each.point):
        if 0 <= point < len(_points(thing)):
            yield point, tuple(group)


def _moved(thing: FixedThing, placed: Mapping[int, Point]) -> FixedThing:
    """The placed points where they were measured; the others keep their place in regard to them."""
    if not placed:
        return thing
    points = _points(thing)
    carried = _carried(points, placed)
    moved = tuple(placed.get(i, point) for i, point in enumerate(carried))
    return replace(thing, centre=moved[0]) if thing.outline is None else replace(thing, outline=moved)


def _carried(points: Sequence[Point], placed: Mapping[int, Point]) -> list[Point]:
    """All points shifted and, when two or more are placed, turned as the placed ones were on the whole."""
    (fx, fy), (tx, ty) = _middle([points[i] for i in placed]), _middle(list(placed.values()))
    along = across = 0.0
    for i, (x, y) in placed.items():
        ax, ay, bx, by = points[i][0] - fx, points[i][1] - fy, x - tx, y - ty
        along, across = along + ax * bx + ay * by, across + ax * by - ay * bx
    turn = atan2(across, along)
    c, s = cos(turn), sin(turn)
    return [(tx + c * (x - fx) - s * (y - fy), ty + s * (x - fx) + c * (y - fy)) for x, y in points]


def _middle(points: Sequence[Point]) -> Point:
    return (sum(x for x, _ in points) / len(points), sum(y for _, y in points) / len(points))


def _left_out(thing: FixedThing, path: str) -> Finding:
    sentence = (
        f"{thing.name} has no place yet, and the floor takes no notice of it. "
        "Read its lengths from two corners."
    )
    return Finding(path=path, code="thing without a place", sentence=sentence, level="warning")


def _not_placed(
    thing: FixedThing, name: str, lengths: Sequence[ThingLength], corners: Mapping[str, Point]
) -> Finding:
    """One length only, or two that do not meet."""
    apart = pairs(lengths)
    until = "it is left out" if thing.by_lengths else "it stays where it is drawn"
    if not apart:
        only = lengths[-1]
        sentence = (
            f"{name} has only its length from {only.from_}. Read it from a second corner too; "
            f"until then {until}."
        )
        return _finding(only, "one length only", sentence, "note")
    one, other = apart[0]
    base = dist(corners[one.from_], corners[other.from_])
    sentence = (
        f"To {name}, {_read(one)} and {_read(other)} do not meet: {one.from_} and {other.from_} lie "
        f"{number_text(base, 0)} mm apart. Take both again; until then {until}."
    )
    return _finding(other, "lengths do not meet", sentence)


def _doubts(
    name: str, lengths: Sequence[ThingLength], place: Placed, corners: Mapping[str, Point]
) -> Iterator[Finding]:
    """Every other length held against the two that put the point there, and these against each other."""
    first, second = (length.from_ for length in place.pair)
    for length in lengths:
        start = corners[length.from_]
        away = place.miss(length, start)
        if length not in place.pair and abs(away) > place.allowed(length, start):
            sentence = (
                f"To {name}, {_read(length)} is {number_text(abs(away), 0)} mm "
                f"{'more' if away > 0 else 'less'} than those from {first} and {second} make it. "
                f"Take the length from {length.from_} again; if it stays, take the other two again."
            )
            yield _finding(length, "length stands out", sentence)
    if place.known_to > LOOSE:
        sentence = (
            f"{name} is known only to about ±{number_text(min(place.known_to, 9999.0), 0)} mm: the lengths "
            f"from {first} and {second} cross too flat. Read it from another corner too."
        )
        yield _finding(place.pair[1], "thing loosely held", sentence)


def _read(length: ThingLength) -> str:
    return f"the length from {length.from_} ({number_text(length.value, 1)} mm)"


def _finding(length: ThingLength, code: str, sentence: str, level: Level = "warning") -> Finding:
    return Finding(path=length.path, code=code, sentence=sentence, level=level)

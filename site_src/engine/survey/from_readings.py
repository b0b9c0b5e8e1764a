"""From the readings as taken to the room that is computed with.

A reading that another one corrects stands aside, but stays in the file.
Lengths read more than once are averaged by their accuracy. What no reading
speaks of stays as the room has it.
"""

from collections.abc import Iterable, Sequence
from itertools import groupby
from math import dist, sqrt
from typing import TypeVar

from msgspec import Struct
from msgspec.structs import replace

from engine.errors import Finding, Refused
from engine.model.job import Pair, Room, Tie, Wall
from engine.model.readings import (
    DatumReading,
    Instrument,
    LengthReading,
    OffsetReading,
    PlaceReading,
    Reading,
    Survey,
)
from engine.survey.corner_order import corner_order
from engine.survey.datum import Datum, room_from_datum
from engine.survey.instruments import length_sd, offset_sd
from engine.survey.tolerances import SAME_STATION
from engine.survey.typed import millimetres
from engine.survey.wall_readings import offsets_from_line, offsets_under_straightedge

Kind = TypeVar("Kind", bound=Reading)

# The corners of a datum line's room, when the job does not name four of its own.
DATUM_CORNERS = ("A", "B", "C", "D")


class _Measured(Struct, frozen=True, kw_only=True):
    """A length in mm with its standard deviation."""

    value: float
    sd: float


def surveyed_room(room: Room, survey: Survey) -> Room:
    """The room with everything filled in that its readings say.

    Raises Refused, naming the reading, when one cannot be understood or used.
    """
    readings = standing_readings(survey)
    instruments = {instrument.name: instrument for instrument in survey.instruments}
    room = _with_datum(room, _of_kind(readings, DatumReading))
    room = _with_places(room, _of_kind(readings, PlaceReading))
    room = _with_lengths(room, _of_kind(readings, LengthReading), instruments)
    return _with_offsets(room, _of_kind(readings, OffsetReading), instruments)


def standing_readings(survey: Survey) -> tuple[Reading, ...]:
    """The readings that no other one corrects or withdraws, in the order in which they were taken."""
    corrected = {reading.corrects for reading in survey.readings}
    return tuple(
        reading for reading in survey.readings if reading.id not in corrected and not is_withdrawal(reading)
    )


def is_withdrawal(reading: Reading) -> bool:
    """Does this reading only take an earlier one back, with nothing in its place?"""
    return reading.corrects is not None and not reading.typed.strip()


def value_of(reading: Reading) -> float:
    """The reading in mm; raises Refused with the reading's id as its path."""
    try:
        return millimetres(reading.typed, reading.unit)
    except Refused as fault:
        raise _at(reading, fault) from fault


def _of_kind(readings: Iterable[Reading], kind: type[Kind]) -> list[Kind]:
    return [reading for reading in readings if isinstance(reading, kind)]


def _at(reading: Reading, fault: Refused) -> Refused:
    path = f"survey.readings.{reading.id}"
    return Refused(
        *(Finding(path=path, code=finding.code, sentence=finding.sentence) for finding in fault.findings)
    )


def _with_datum(room: Room, readings: Sequence[DatumReading]) -> Room:
    """The datum's four corners, under the names of the walls that the room lists, if it lists four."""
    if not readings:
        return room
    sides: dict[str, list[Pair]] = {"left": [], "right": [], "behind": [], "ahead": []}
    for reading in readings:
        value = value_of(reading)
        along = reading.side in ("left", "right")
        sides[reading.side].append((reading.station, value) if along else (value, reading.station))
    names = tuple(wall.from_ for wall in room.walls)
    datum = Datum(**{side: tuple(points) for side, points in sides.items()})
    found = room_from_datum(datum, names if len(names) == 4 else DATUM_CORNERS)
    if len(names) != 4:
        return replace(room, corners=found.corners, walls=found.walls)
    walls = tuple(
        replace(wall, offsets=read.offsets) for wall, read in zip(room.walls, found.walls, strict=True)
    )
    return replace(room, corners=found.corners, walls=walls)


def _with_places(room: Room, readings: Sequence[PlaceReading]) -> Room:
    if not readings:
        return room
    corners = {name: list(at) for name, at in (room.corners or {}).items()}
    given: dict[str, dict[str, float]] = {}
    for reading in readings:
        given.setdefault(reading.corner, {})[reading.axis] = value_of(reading)
    for name, axes in given.items():
        if name not in corners and len(axes) < 2:
            has, lacks = ("x", "y") if "x" in axes else ("y", "x")
            sentence = f"Corner {name} has only its {has}. Read its {lacks} next."
            raise Refused(Finding(path=f"room.corners.{name}", code="coordinate missing", sentence=sentence))
        old = corners.get(name, [0.0, 0.0])
        corners[name] = [axes.get("x", old[0]), axes.get("y", old[1])]
    return _in_wall_order(replace(room, corners={name: (x, y) for name, (x, y) in corners.items()}))


def _in_wall_order(room: Room) -> Room:
    """Corners may be read in any order; where the walls close to one ring, it is theirs."""
    corners = room.corners or {}
    try:
        order = corner_order(replace(room, corners=None))
    except Refused:
        return room
    if set(order) != set(corners):
        return room
    return replace(room, corners={name: corners[name] for name in order})


def _with_lengths(room: Room, readings: Sequence[LengthReading], instruments: dict[str, Instrument]) -> Room:
    measured: dict[frozenset[str], list[_Measured]] = {}
    for reading in readings:
        value = value_of(reading)
        sd = length_sd(instruments.get(reading.instrument), value)
        measured.setdefault(frozenset((reading.from_, reading.to)), []).append(_Measured(value=value, sd=sd))
    means = {ends: _mean(values) for ends, values in measured.items()}
    walls = tuple(_measured_wall(wall, means) for wall in room.walls)
    of_walls = {frozenset((wall.from_, wall.to)) for wall in walls}
    ties = [tie for tie in room.ties if frozenset((tie.from_, tie.to)) not in means]
    first = {frozenset((r.from_, r.to)): r for r in reversed(readings)}
    ties += [
        Tie(from_=first[ends].from_, to=first[ends].to, length=mean.value, sd=mean.sd)
        for ends, mean in means.items()
        if ends not in of_walls
    ]
    return replace(room, walls=walls, ties=tuple(ties))


def _measured_wall(wall: Wall, means: dict[frozenset[str], _Measured]) -> Wall:
    mean = means.get(frozenset((wall.from_, wall.to)))
    return wall if mean is None else replace(wall, length=mean.value, sd=mean.sd)


def _mean(values: Sequence[_Measured]) -> _Measured:
    """Mean weighted by 1/sd²."""
    weights = [1 / value.sd**2 for value in values]
    mean = sum(w * value.value for w, value in zip(weights, values, strict=True)) / sum(weights)
    return _Measured(value=mean, sd=1 / sqrt(sum(weights)))


def _with_offsets(room: Room, readings: Sequence[OffsetReading], instruments: dict[str, Instrument]) -> Room:
    def ends(reading: OffsetReading) -> tuple[str, str]:
        return (reading.from_, reading.to)

    by_wall = {key: list(group) for key, group in groupby(sorted(readings, key=ends), key=ends)}
    listed = {(wall.from_, wall.to) for wall in room.walls}
    added = (Wall(from_=from_, to=to) for from_, to in by_wall if (from_, to) not in listed)
    walls = tuple(
        _read_wall(room, wall, by_wall[wall.from_, wall.to], instruments)
        if (wall.from_, wall.to) in by_wall
        else wall
        for wall in (*room.walls, *added)
    )
    return replace(room, walls=walls)


def _read_wall(
    room: Room, wall: Wall, readings: Sequence[OffsetReading], instruments: dict[str, Instrument]
) -> Wall:
    chord = _chord(room, wall)
    direct = [(reading, _offset(reading, chord, ())) for reading in readings if reading.by != "straightedge"]
    known = tuple(pair for reading, pair in direct if not reading.check)
    laid = [(r, _offset(r, chord, known)) for r in readings if r.by == "straightedge"]
    pairs = sorted((*direct, *laid), key=lambda item: item[1][0])
    sds = [offset_sd(instruments.get(reading.instrument)) for reading in readings]
    return replace(
        wall,
        offsets=_merged(wall.offsets, [pair for reading, pair in pairs if not reading.check]),
        checks=_merged(wall.checks, [pair for reading, pair in pairs if reading.check]),
        offset_sd=sqrt(sum(sd**2 for sd in sds) / len(sds)),
    )


def _merged(had: Sequence[Pair], read: Sequence[Pair]) -> tuple[Pair, ...]:
    """What was read, and what the room had at stations that no reading speaks of."""
    kept = [pair for pair in had if all(abs(pair[0] - station) > SAME_STATION for station, _ in read)]
    return tuple(sorted((*kept, *read), key=lambda pair: pair[0]))


def _chord(room: Room, wall: Wall) -> float:
    corners = room.corners or {}
    if wall.from_ in corners and wall.to in corners:
        return dist(corners[wall.from_], corners[wall.to])
    if wall.length is not None:
        return wall.length
    sentence = f"Measure wall {wall.from_}–{wall.to} or its corners before its readings can be used."
    raise Refused(Finding(path="room.walls", code="wall not measured", sentence=sentence))


def _offset(reading: OffsetReading, chord: float, known: Sequence[Pair]) -> Pair:
    value = value_of(reading)
    if reading.by == "line":
        return offsets_from_line(
            chord, ((reading.station, value),), reading.stand_off, reading.stand_off_end
        )[0]
    if reading.by == "bow":
        return (reading.station, value)
    try:
        ends = _touched(reading.touches or (0.0, chord), chord, known)
        return offsets_under_straightedge(ends, ((reading.station, value),))[0]
    except Refused as fault:
        raise _at(reading, fault) from fault


def _touched(touches: Pair, chord: float, known: Sequence[Pair]) -> tuple[Pair, Pair]:
    """Where the straightedge touches: corners, or stations that have been read otherwise."""
    offsets = {0.0: 0.0, chord: 0.0, **dict(known)}
    for station in touches:
        if station not in offsets:
            sentence = f"Read the wall at station {station:.0f} mm too: the straightedge touches there."
            raise Refused(Finding(path="", code="touch not read", sentence=sentence))
    first, last = touches
    return (first, offsets[first]), (last, offsets[last])

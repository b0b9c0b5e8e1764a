"""Faults of sense in the readings themselves, all found at once, each naming its reading."""

from collections import Counter
from collections.abc import Iterator

from engine.errors import Finding, Level, Refused
from engine.model.job import Room
from engine.model.readings import (
    DatumReading,
    LengthReading,
    OffsetReading,
    PlaceReading,
    Reading,
    Survey,
    ThingReading,
)
from engine.survey.from_readings import DATUM_CORNERS, is_withdrawal, value_of
from engine.units import number_text


def check_readings(survey: Survey, room: Room) -> tuple[Finding, ...]:
    """Everything that makes no sense in the readings; the room they lead to is checked afterwards."""
    names, points = _corner_names(survey, room), _thing_points(room)
    instruments = {instrument.name for instrument in survey.instruments}
    found: list[Finding] = [*_id_faults(survey), *_instrument_faults(survey)]
    for reading in survey.readings:
        if not is_withdrawal(reading):
            found += _value_faults(reading)
        if reading.instrument and reading.instrument not in instruments:
            found.append(
                _finding(
                    reading,
                    "unknown instrument",
                    f"was taken with “{reading.instrument}”, which is not among the instruments. "
                    "Add it, or leave the instrument out.",
                    "warning",
                )
            )
        found += _corner_faults(reading, names)
        if isinstance(reading, ThingReading):
            found += _thing_faults(reading, names, points)
    return tuple(found)


def _corner_names(survey: Survey, room: Room) -> set[str]:
    """Corners that the room lists, its walls name, or a place was read for."""
    names = set(room.corners or ())
    names |= {name for wall in room.walls for name in (wall.from_, wall.to)}
    if len(room.walls) != 4 and any(isinstance(reading, DatumReading) for reading in survey.readings):
        names |= set(DATUM_CORNERS)
    return names | {reading.corner for reading in survey.readings if isinstance(reading, PlaceReading)}


def _thing_points(room: Room) -> dict[str, int]:
    """How many points each fixed thing has: a round one its centre."""
    return {thing.name: 1 if thing.outline is None else len(thing.outline) for thing in room.fixed}


def _id_faults(survey: Survey) -> Iterator[Finding]:
    """Each id once; a correction names an earlier reading of the same thing."""
    earlier: dict[str, Reading] = {}
    for reading in survey.readings:
        if reading.id in earlier:
            yield _finding(reading, "id repeated", "has an id that an earlier one has. Give it its own.")
        if reading.corrects is not None:
            yield from _correction_faults(reading, earlier)
        earlier[reading.id] = reading


def _correction_faults(reading: Reading, earlier: dict[str, Reading]) -> Iterator[Finding]:
    corrected = earlier.get(reading.corrects or "")
    if corrected is None:
        words = (
            f"corrects “{reading.corrects}”, and no earlier reading has that id. Choose the one it corrects."
        )
        yield _finding(reading, "corrects nothing", words)
    elif _subject(corrected) != _subject(reading):
        words = (
            f"corrects “{corrected.id}”, which measures something else ({_subject(corrected)}). "
            "Choose the one it corrects, or take the correction off."
        )
        yield _finding(reading, "corrects another thing", words)


def _instrument_faults(survey: Survey) -> Iterator[Finding]:
    counts = Counter(instrument.name for instrument in survey.instruments)
    for index, instrument in enumerate(survey.instruments):
        path = f"survey.instruments[{index}]"
        if counts[instrument.name] > 1:
            sentence = f"There are two instruments called “{instrument.name}”. Give one another name."
            yield Finding(path=path, code="instrument repeated", sentence=sentence)
        if instrument.accuracy is not None and not 0 < instrument.accuracy <= 1000:
            sentence = (
                f"The accuracy of “{instrument.name}” cannot be ±{number_text(instrument.accuracy, 2)} mm. "
                "Give the maker's figure, or leave it out and the usual one is taken."
            )
            yield Finding(path=f"{path}.accuracy", code="impossible accuracy", sentence=sentence)


def _value_faults(reading: Reading) -> Iterator[Finding]:
    try:
        value = value_of(reading)
    except Refused as refused:
        yield from refused.findings
        return
    if isinstance(reading, (LengthReading, ThingReading)) and value <= 0:
        yield _finding(reading, "impossible length", "is a length, and must be above zero. Take it again.")


def _corner_faults(reading: Reading, names: set[str]) -> Iterator[Finding]:
    if not isinstance(reading, (LengthReading, OffsetReading)):
        return
    for corner in (reading.from_, reading.to):
        if corner not in names:
            yield _unknown_corner(reading, corner, names)
    if reading.from_ == reading.to:
        yield _finding(
            reading, "ends at its start", "ends at the corner where it starts. Choose another corner."
        )


def _thing_faults(reading: ThingReading, names: set[str], points: dict[str, int]) -> Iterator[Finding]:
    if reading.from_ not in names:
        yield _unknown_corner(reading, reading.from_, names)
    if reading.thing not in points:
        mend = f"Choose one of {_list(set(points))}, or add it." if points else "Add it first."
        words = f"names “{reading.thing}”, which is not among the fixed things. {mend}"
        yield _finding(reading, "unknown thing", words)
    elif not 0 <= reading.point < points[reading.thing]:
        count = points[reading.thing]
        has = "only its centre" if count == 1 else f"{count} points"
        words = f"is to point {reading.point + 1} of {reading.thing}, which has {has}. Choose another point."
        yield _finding(reading, "unknown point", words)


def _unknown_corner(reading: Reading, corner: str, names: set[str]) -> Finding:
    mend = f"Choose one of {_list(names)}." if names else "Add the corner first."
    words = f"names corner {corner}, which the room does not have. {mend}"
    return _finding(reading, "unknown corner", words)


def _subject(reading: Reading) -> str:
    """What the reading measures, in words; two readings of one thing have the same."""
    match reading:
        case LengthReading():
            return "length " + "–".join(sorted((reading.from_, reading.to)))
        case PlaceReading():
            return f"{reading.axis} of corner {reading.corner}"
        case OffsetReading():
            return f"wall {reading.from_}–{reading.to}"
        case DatumReading():
            return f"datum line, {reading.side}"
        case ThingReading():
            return f"{reading.from_} to {reading.thing}, point {reading.point + 1}"


def _finding(reading: Reading, code: str, words: str, level: Level = "error") -> Finding:
    """A sentence that starts with what was read."""
    return Finding(
        path=f"survey.readings.{reading.id}",
        code=code,
        sentence=f"The reading {reading.typed} {reading.unit} ({_subject(reading)}) {words}",
        level=level,
    )


def _list(names: set[str]) -> str:
    return ", ".join(sorted(names))

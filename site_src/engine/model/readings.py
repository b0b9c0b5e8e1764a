"""Readings as they were taken: kept for ever, corrected only by new ones.

A room's corners, lengths and offsets follow from these (see
``survey.from_readings``); a job that has none is taken as its room stands.
"""

from typing import Literal

from msgspec import Struct, field

Unit = Literal["mm", "cm", "m", "in"]
InstrumentKind = Literal["laser", "tape", "rule"]


class Instrument(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """What was measured with. ``accuracy`` is ± mm at 95 %; without it the kind's usual one is taken."""

    name: str
    kind: InstrumentKind = "laser"
    accuracy: float | None = None


class Taken(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """What every reading carries.

    ``typed`` is the text as entered and ``unit`` its unit; ``time`` is ISO
    8601. ``corrects`` is the id of the reading that this one stands in for; a
    correction with nothing typed takes it back without another in its place.
    """

    id: str
    typed: str
    unit: Unit = "mm"
    instrument: str = ""
    time: str = ""
    corrects: str | None = None


class LengthReading(Taken, frozen=True, kw_only=True, tag_field="of", tag="length"):
    """The straight length between two corners."""

    from_: str = field(name="from")
    to: str


class PlaceReading(Taken, frozen=True, kw_only=True, tag_field="of", tag="place"):
    """One coordinate of a corner, from two crossed lines."""

    corner: str
    axis: Literal["x", "y"]


class OffsetReading(Taken, frozen=True, kw_only=True, tag_field="of", tag="offset"):
    """One reading on a wall at ``station``.

    ``by`` line: the distance to a line ``stand_off`` mm in front of the first
    corner and ``stand_off_end`` in front of the second (the same when left
    out). ``by`` straightedge: the gap behind a straightedge that touches at the
    two stations ``touches``, else at both corners. ``by`` bow: the offset
    itself. A ``check`` is kept out of the curve to prove it.
    """

    from_: str = field(name="from")
    to: str
    station: float
    by: Literal["line", "straightedge", "bow"] = "bow"
    stand_off: float = 0.0
    stand_off_end: float | None = None
    touches: tuple[float, float] | None = None
    check: bool = False


class DatumReading(Taken, frozen=True, kw_only=True, tag_field="of", tag="datum"):
    """A distance square to the datum line at ``station``, or where the line meets an end wall.

    For ``behind`` and ``ahead`` the reading is the station of the end wall and
    ``station`` is how far to the left of the line (negative: right) it was met.
    """

    side: Literal["left", "right", "behind", "ahead"]
    station: float = 0.0


class ThingReading(Taken, frozen=True, kw_only=True, tag_field="of", tag="thing"):
    """The length from a corner to a point of a fixed thing, which two of them put in its place.

    ``point`` is the place in the thing's outline, counted from 0; a round
    thing has one point, its centre, which is 0.
    """

    thing: str
    point: int = 0
    from_: str = field(name="from")


Reading = LengthReading | PlaceReading | OffsetReading | DatumReading | ThingReading


class Survey(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """All readings in the order in which they were taken, and the instruments they name."""

    instruments: tuple[Instrument, ...] = ()
    readings: tuple[Reading, ...] = ()

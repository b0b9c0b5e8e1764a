"""A reading as the phone shows and reads it back."""

from engine.model.readings import (
    DatumReading,
    LengthReading,
    OffsetReading,
    PlaceReading,
    Reading,
    ThingReading,
)
from engine.units import number_text
from engine.wire.figures import Writer


def understood(reading: Reading, value: float, writer: Writer) -> str:
    """The reading in words. ``value`` is in mm, for one on a wall its offset there."""
    match reading:
        case OffsetReading(station=station):
            return f"{number_text(station, 0, writer.mark)}: {_offset(value, writer)}"
        case LengthReading(from_=start, to=end):
            return f"{start} to {end}: {writer.mm(value)}"
        case PlaceReading(corner=corner, axis=axis):
            return f"{corner}, {axis}: {writer.mm(value)}"
        case DatumReading(side=side, station=station):
            return f"{side} at {number_text(station, 0, writer.mark)}: {writer.mm(value)}"
        case ThingReading(thing=thing, point=point, from_=corner):
            # The first point is a round thing's centre too, and needs no number.
            return f"{corner} to {thing}{f', point {point + 1}' if point else ''}: {writer.mm(value)}"


def _offset(value: float, writer: Writer) -> str:
    text = writer.mm(abs(value))
    if text == writer.mm(0):
        return "on the line"
    return f"{text} {'into the room' if value > 0 else 'back from the line'}"

"""From how a wall was measured to its offsets: a line in front of it, a straightedge on it, or one bow.

Stations run along the straight line between the corners, offsets positive into
the room; all in mm. Nothing is rounded and no reading is changed.
"""

from collections.abc import Sequence

from engine.errors import Finding, Refused
from engine.model.job import Pair
from engine.units import number_text


def offsets_from_line(
    chord: float, readings: Sequence[Pair], at_start: float, at_end: float | None = None
) -> tuple[Pair, ...]:
    """Readings (station, distance from the line to the wall) as offsets.

    The line (a laser, a string) stands ``at_start`` mm in front of the first
    corner and ``at_end`` in front of the second; without the second it is
    parallel. A line behind the corner, as in a niche, has a negative stand-off.
    Where the distance is shorter than the stand-off, the wall comes into the
    room.
    """
    end = at_start if at_end is None else at_end
    return tuple(
        (station, at_start + (end - at_start) * station / chord - distance) for station, distance in readings
    )


def offsets_under_straightedge(ends: tuple[Pair, Pair], gaps: Sequence[Pair]) -> tuple[Pair, ...]:
    """Gaps (station, gap) between a straightedge and the wall behind it as offsets.

    ``ends`` are the two (station, offset) where the straightedge touches: the
    corners (0, 0) and (chord, 0), or stations that have been read. A gap can
    not be negative and must lie between the ends, else Refused.
    """
    (start, first), (end, last) = ends
    for station, gap in gaps:
        _refuse_gap(start, end, station, gap)
    return tuple(
        (station, first + (last - first) * (station - start) / (end - start) - gap) for station, gap in gaps
    )


def _refuse_gap(start: float, end: float, station: float, gap: float) -> None:
    if not start < station < end:
        sentence = (
            f"Station {number_text(station, 0)} mm does not lie under the straightedge, which touches at "
            f"{number_text(start, 0)} and {number_text(end, 0)} mm. Read the station again."
        )
        raise Refused(Finding(path="", code="station outside", sentence=sentence))
    if gap < 0:
        sentence = (
            f"A gap of {number_text(gap, 1)} mm at station {number_text(station, 0)} mm: the wall would "
            "stand through the straightedge. Lay it on the highest points and read again."
        )
        raise Refused(Finding(path="", code="negative gap", sentence=sentence))


def offset_of_bow(chord: float, bow: float) -> tuple[Pair, ...]:
    """One bow read half-way between the corners, positive into the room."""
    return ((chord / 2, bow),)

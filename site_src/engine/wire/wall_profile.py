"""One wall drawn along itself: the line between its corners level, offsets much larger, the room above."""

from collections.abc import Iterator, Sequence

from engine.drawing.paths import line_path, ring_path, spot, view_box
from engine.geometry.shapes import Point
from engine.model.job import CurveKind, Pair
from engine.survey.curves import sample, wall_curve
from engine.survey.outline import WallLine
from engine.survey.report import WallReport
from engine.units import number_text
from engine.wire.drawings import Label, OtherShape, ReadingMark, WallProfile
from engine.wire.figures import Writer, as_typed

SHAPES: tuple[CurveKind, ...] = ("smooth", "straight", "arc")

# Shares of the wall's length: how high its offsets may reach, the margin, a mark, a name.
HIGH, MARGIN, MARK, NAME = 0.2, 0.06, 0.011, 0.045

# Offsets are drawn one of these times larger, so that a drawing can be read like a scale.
TIMES = (1, 2, 5, 10, 20, 50, 100)


def wall_profile(wall: WallReport, writer: Writer) -> WallProfile:
    """The wall with its band, its readings, the other shapes and where to read next."""
    line = wall.line
    over = max(offset + half for _, offset, half in wall.band.drawn())
    under = min(offset - half for _, offset, half in wall.band.drawn())
    times = max(step for step in TIMES if step == 1 or step * max(over, -under) <= HIGH * line.chord)
    top = max(over * times, 2 * NAME * line.chord) + 2 * NAME * line.chord
    bottom = min(under * times, -NAME * line.chord)
    mark = MARK * line.chord
    return WallProfile(
        view_box=view_box(((0, bottom), (line.chord, top)), MARGIN * line.chord),
        line=line_path(((0, 0), (line.chord, 0))),
        path=line_path(_larger(sample(line.curve), times)),
        band=ring_path(_band(wall, times)),
        others=tuple(_others(line, times)),
        readings=tuple(_readings(line, times, mark, writer)),
        next=_next(wall, times, mark),
        labels=(
            Label(text=line.from_, at=spot((0, NAME * line.chord))),
            Label(text=line.to, at=spot((line.chord, NAME * line.chord))),
        ),
        words=_words(line, times, writer),
    )


def _larger(points: Sequence[Pair], times: float) -> tuple[Point, ...]:
    return tuple((station, offset * times) for station, offset in points)


def _band(wall: WallReport, times: float) -> tuple[Point, ...]:
    """Where the wall may lie, as a ring along its curve."""
    drawn = wall.band.drawn()
    under = [(station, offset - half) for station, offset, half in drawn]
    over = [(station, offset + half) for station, offset, half in reversed(drawn)]
    return _larger([*under, *over], times)


def _others(line: WallLine, times: float) -> Iterator[OtherShape]:
    """The shapes that the wall is not taken for, where its readings allow them."""
    if not line.wall.offsets or line.wall.breaks:
        return
    for kind in SHAPES:
        if kind != line.wall.curve:
            curve = wall_curve(kind, line.chord, line.wall.offsets)
            yield OtherShape(curve=kind, path=line_path(_larger(sample(curve), times)))


def _readings(line: WallLine, times: float, mark: float, writer: Writer) -> Iterator[ReadingMark]:
    both: Sequence[tuple[Sequence[Pair], bool]] = ((line.wall.offsets, False), (line.wall.checks, True))
    for pairs, is_check in both:
        for station, offset in pairs:
            at = (station, offset * times)
            yield ReadingMark(
                station=number_text(station, 0, writer.mark),
                typed=as_typed(station),
                offset=writer.length(offset),
                path=_ring(at, mark) if is_check else _cross(at, mark),
                is_check=is_check,
            )


def _cross(at: Point, size: float) -> str:
    x, y = at
    return line_path(((x - size, y - size), (x + size, y + size))) + line_path(
        ((x - size, y + size), (x + size, y - size))
    )


def _ring(at: Point, size: float) -> str:
    """A check stands on its corner, so that no one takes it for a reading."""
    x, y = at
    return ring_path(((x - size, y), (x, y - size), (x + size, y), (x, y + size)))


def _next(wall: WallReport, times: float, mark: float) -> str:
    """A pointer from the room's side to where the next reading tells most."""
    station = wall.next.station
    tip = wall.line.curve.offset(station) * times + wall.band.half_width(station) * times + 0.5 * mark
    return line_path(
        ((station - 1.5 * mark, tip + 2.5 * mark), (station, tip), (station + 1.5 * mark, tip + 2.5 * mark))
    ) + line_path(((station, tip), (station, tip + 5 * mark)))


def _words(line: WallLine, times: float, writer: Writer) -> str:
    count, checks = len(line.wall.offsets), len(line.wall.checks)
    read = "No readings: taken as straight" if not count else f"{count} reading{'s' if count > 1 else ''}"
    proved = f", {checks} check{'s' if checks > 1 else ''}" if checks else ""
    way = "into" if line.bow > 0 else "out of"
    bow = f", bow {writer.mm(abs(line.bow))} {way} the room" if count and line.bow else ""
    return f"{read}{proved}{bow}. The room is above; offsets are drawn {times} times larger."

"""One wall as a page draws it: to scale, with its offsets larger, and with what the survey knows of it."""

from collections.abc import Iterator

from engine.drawing.paths import line_path, spot
from engine.geometry.shapes import Point
from engine.survey.band import readings_for, spacing_for
from engine.survey.curves import sample, wall_curve
from engine.survey.outline import WallLine
from engine.survey.report import WallReport, offset_sd_of
from engine.units import number_text
from engine.wire.drawings import Figure, Label, NextReading, WallDrawing
from engine.wire.figures import Writer, figure
from engine.wire.wall_profile import wall_profile

# How far outside the wall its name stands, mm.
LABEL_OFF = 160.0
# The accuracies for which a spacing of stations is suggested, ± mm.
ACCURACIES = (1.0, 2.0)


def wall_view(wall: WallReport, roughness: float, exaggerate: float, writer: Writer) -> WallDrawing:
    """The wall's drawing and figures."""
    line = wall.line
    return WallDrawing(
        name=line.name,
        heading=f"{round(line.heading, 2) % 360:.2f}",
        ends=(rounded(line.start), rounded(line.end)),
        face=line.wall.face,
        path=line_path(line.points),
        bowed=line_path(_bowed(line, exaggerate)),
        profile=wall_profile(wall, writer),
        label=Label(text=line.name, at=spot(line.at(line.chord / 2, -LABEL_OFF))),
        length=_length(line, writer),
        bow=_bow(line, writer),
        next=_next(wall, writer),
        proposal=wall.proposal.kind,
        proposal_words=writer.sentence(wall.proposal.reason),
        spacing=tuple(_spacing(line, roughness, writer)),
    )


def _bowed(line: WallLine, exaggerate: float) -> list[Point]:
    """The wall's curve through readings that are so many times larger."""
    offsets = tuple((station, offset * exaggerate) for station, offset in line.wall.offsets)
    kind = line.wall.curve
    if kind == "arc":
        # An arc that much deeper may be more than a half circle; its own curve is stretched instead.
        arc = wall_curve("arc", line.chord, line.wall.offsets)
        return [line.at(station, offset * exaggerate) for station, offset in sample(arc)]
    return [line.at(*pair) for pair in sample(wall_curve(kind, line.chord, offsets, line.wall.breaks))]


def _length(line: WallLine, writer: Writer) -> Figure:
    ends = ((name, _place(at, writer)) for name, at in ((line.from_, line.start), (line.to, line.end)))
    return figure(f"length {line.name}", "Length", writer.length(line.chord), "mm", "wall length", *ends)


def _place(point: Point, writer: Writer) -> str:
    return f"x {writer.length(point[0])}, y {writer.length(point[1])} mm"


def _bow(line: WallLine, writer: Writer) -> Figure:
    return figure(
        f"bow {line.name}",
        "Bow",
        writer.length(line.bow),
        "mm",
        "wall bow",
        ("curve", line.wall.curve),
        ("readings", str(len(line.wall.offsets))),
        ("at", writer.mm(line.bow_station)),
    )


def _next(wall: WallReport, writer: Writer) -> NextReading:
    line, then = wall.line, wall.next
    inputs = (
        ("readings", str(len(line.wall.offsets))),
        ("accuracy of a reading", f"± {writer.mm(2 * offset_sd_of(line))} at 95 %"),
        ("band there now", f"± {writer.mm(then.now)}"),
        ("band there after", f"± {writer.mm(then.then)}"),
    )
    return NextReading(
        typed=f"{then.station:.0f}",
        station=figure(
            f"next {line.name}",
            "Read here next",
            number_text(then.station, 0, writer.mark),
            "mm",
            "read next",
            *inputs,
        ),
        gain=figure(
            f"gain {line.name}", "Band narrower by", writer.length(then.gain), "mm", "read next", *inputs
        ),
    )


def _spacing(line: WallLine, roughness: float, writer: Writer) -> Iterator[Figure]:
    for accuracy in ACCURACIES:
        spacing = spacing_for(accuracy, roughness, offset_sd_of(line))
        wanted = f"± {writer.mm(accuracy)}"
        text = "not with this gauge" if spacing is None else number_text(spacing, 0, writer.mark)
        stations = () if spacing is None else (("stations on it", str(readings_for(line.chord, spacing))),)
        yield figure(
            f"spacing {wanted} {line.name}",
            f"Stations for {wanted}",
            text,
            "" if spacing is None else "mm apart",
            "station spacing",
            ("wanted", wanted),
            ("accuracy of a reading", f"± {writer.mm(2 * offset_sd_of(line))} at 95 %"),
            *stations,
        )


def rounded(point: Point) -> Point:
    """Finer than any tape."""
    return round(point[0], 2) + 0.0, round(point[1], 2) + 0.0

"""The room as a page draws it, and what its survey is worth."""

from collections.abc import Iterator
from math import cos, isinf, radians, sin, tau

from engine.drawing.paths import ring_path, spot, view_box
from engine.geometry.shapes import Point, centroid, region_area
from engine.planning.floor_plan import RoomPlan
from engine.survey.network import Adjusted, Ellipse
from engine.survey.outline import CornerAngle
from engine.survey.reliability import suspects
from engine.survey.report import SurveyReport
from engine.units import number_text
from engine.wire.drawings import CornerDrawing, Figure, Label, LengthRow, RoomDrawing
from engine.wire.figures import Writer, figure
from engine.wire.thing_view import thing_view
from engine.wire.wall_view import LABEL_OFF, wall_view

# Room round the outline for wall names and lengths, mm.
MARGIN = 350.0
# Points round a drawn ellipse.
ROUND = 48


def room_view(room: RoomPlan, survey: SurveyReport, exaggerate: float, writer: Writer) -> RoomDrawing:
    """The room to scale, with every wall also drawn with its offsets ``exaggerate`` times larger."""
    box = view_box(room.outline.ring, MARGIN)
    return RoomDrawing(
        view_box=box,
        outline=ring_path(room.outline.ring),
        walls=tuple(wall_view(wall, survey.roughness, exaggerate, writer) for wall in survey.walls),
        corners=tuple(_corner(corner, room, exaggerate, writer) for corner in room.outline.corners),
        fixed=tuple(thing_view(thing, room.outline.ring, box, writer) for thing in room.record.fixed),
        lengths=tuple(_lengths(survey, writer)),
        figures=tuple(_figures(room, writer)),
    )


def room_figures(view: RoomDrawing) -> list[Figure]:
    """Every figure that is shown with the room."""
    shown = [*view.figures]
    for wall in view.walls:
        shown += [wall.length, wall.bow, wall.next.station, wall.next.gain, *wall.spacing]
    for corner in view.corners:
        shown += [corner.angle, *([corner.known_to] if corner.known_to else [])]
    for thing in view.fixed:
        shown += thing.places
    for row in view.lengths:
        shown += [row.observed, row.residual, row.smallest_blunder]
    return shown


def _figures(room: RoomPlan, writer: Writer) -> Iterator[Figure]:
    yield figure(
        "room area",
        "Room",
        writer.square_metres(room.outline.area),
        "m²",
        "room area",
        ("walls", str(len(room.outline.walls))),
        ("points on the walls", str(len(room.outline.ring))),
    )
    yield lay_area_figure(room, writer)
    yield from _out_of_square(room, writer)


def lay_area_figure(room: RoomPlan, writer: Writer) -> Figure:
    """What is left to lay, and the gaps that it keeps."""
    return figure(
        "lay area",
        "To lay",
        writer.square_metres(region_area(room.lay_area)),
        "m²",
        "lay area",
        *((barrier.name, f"gap {writer.mm(barrier.gap)}") for barrier in room.barriers),
    )


def _out_of_square(room: RoomPlan, writer: Writer) -> Iterator[Figure]:
    """The worst of the corners that were meant to be square, if there are such."""
    square = [corner for corner in room.outline.corners if corner.is_about_square]
    if not square:
        return
    worst = max(square, key=lambda corner: abs(corner.off_square_length))
    yield figure(
        "out of square",
        "Out of square",
        writer.length(abs(worst.off_square_length)),
        "mm",
        "out of square",
        ("corner", worst.name),
        ("angle", f"{number_text(worst.angle, 2, writer.mark)}°"),
    )


def _corner(corner: CornerAngle, room: RoomPlan, exaggerate: float, writer: Writer) -> CornerDrawing:
    away = _away(corner.at, centroid(room.outline.ring))
    ellipse = room.outline.adjustment.ellipse(corner.name) if room.outline.adjustment else None
    return CornerDrawing(
        name=corner.name,
        label=Label(text=corner.name, at=spot((corner.at[0] + away[0], corner.at[1] + away[1]))),
        at=spot(corner.at),
        angle=figure(
            f"angle {corner.name}",
            f"Corner {corner.name}",
            number_text(corner.angle, 2, writer.mark),
            "°",
            "corner angle",
            ("out of square", writer.degrees(corner.off_square)),
            ("over the shorter wall", writer.mm(corner.off_square_length)),
        ),
        ellipse=ring_path(_round(corner.at, ellipse, exaggerate)) if ellipse else "",
        known_to=_known_to(corner.name, ellipse, writer) if ellipse else None,
    )


def _away(at: Point, middle: Point) -> Point:
    """A step of the label's distance away from the middle of the room."""
    dx, dy = at[0] - middle[0], at[1] - middle[1]
    length = (dx * dx + dy * dy) ** 0.5 or 1.0
    return (dx / length * LABEL_OFF, dy / length * LABEL_OFF)


def _round(at: Point, ellipse: Ellipse, exaggerate: float) -> tuple[Point, ...]:
    """The ellipse round its corner, so many times larger."""
    c, s = cos(radians(ellipse.heading)), sin(radians(ellipse.heading))
    ring = []
    for step in range(ROUND):
        along = ellipse.major * cos(tau * step / ROUND) * exaggerate
        across = ellipse.minor * sin(tau * step / ROUND) * exaggerate
        ring.append((at[0] + c * along - s * across, at[1] + s * along + c * across))
    return tuple(ring)


def _known_to(name: str, ellipse: Ellipse, writer: Writer) -> Figure:
    return figure(
        f"known {name}",
        f"{name} known to ±",
        writer.length(ellipse.major),
        "mm",
        "corner ellipse",
        ("longer half axis", writer.mm(ellipse.major)),
        ("shorter half axis", writer.mm(ellipse.minor)),
    )


def _lengths(survey: SurveyReport, writer: Writer) -> Iterator[LengthRow]:
    """Every measured length against all the others."""
    if survey.adjustment is None:
        return
    doubted = {line.length.path for line in suspects(survey.adjustment)}
    for line in survey.adjustment.lengths:
        yield _length_row(line, line.length.path in doubted, writer)


def _length_row(line: Adjusted, is_doubted: bool, writer: Writer) -> LengthRow:
    name = line.length.name
    inputs = (
        ("read", writer.mm(line.length.value)),
        ("from the corners", writer.mm(line.adjusted)),
        ("standard deviation", writer.mm(line.length.sd)),
        ("redundancy", number_text(line.redundancy, 2, writer.mark)),
        ("test statistic w", number_text(line.w, 2, writer.mark)),
    )
    blunder = "any" if isinf(line.smallest_blunder) else writer.length(line.smallest_blunder)
    unit = "" if isinf(line.smallest_blunder) else "mm"
    return LengthRow(
        from_=line.length.from_,
        to=line.length.to,
        name=name,
        path=line.length.path,
        observed=figure(f"read {name}", name, writer.length(line.length.value), "mm", "length read", *inputs),
        residual=figure(f"off {name}", "Off", writer.length(line.residual), "mm", "residual", *inputs),
        smallest_blunder=figure(f"unseen {name}", "Unseen below", blunder, unit, "smallest blunder", *inputs),
        is_doubted=is_doubted,
    )

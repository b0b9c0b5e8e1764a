"""The room as a page draws it."""

from collections.abc import Iterator

from engine.drawing.paths import line_path, ring_path, spot, view_box
from engine.geometry.shapes import centroid, region_area
from engine.model.job import FixedThing
from engine.planning.floor_plan import RoomPlan
from engine.setting_out.barriers import fixed_ring
from engine.survey.curves import sample, wall_curve
from engine.survey.outline import CornerAngle, WallLine
from engine.units import number_text
from engine.wire.figures import Writer, figure
from engine.wire.messages import CornerDrawing, Figure, FixedDrawing, Label, RoomDrawing, WallDrawing

# Room round the outline for wall names and lengths, mm.
MARGIN = 350.0
# How far outside the wall its name stands, mm.
LABEL_OFF = 160.0


def room_view(room: RoomPlan, fixed: tuple[FixedThing, ...], exaggerate: float, writer: Writer) -> RoomDrawing:
    """The room to scale, with every wall also drawn with its offsets ``exaggerate`` times larger."""
    return RoomDrawing(
        view_box=view_box(room.outline.ring, MARGIN),
        outline=ring_path(room.outline.ring),
        walls=tuple(_wall(line, exaggerate, writer) for line in room.outline.walls),
        corners=tuple(_corner(corner, room, writer) for corner in room.outline.corners),
        fixed=tuple(_fixed(thing) for thing in fixed),
        figures=tuple(_figures(room, writer)),
    )


def _figures(room: RoomPlan, writer: Writer) -> Iterator[Figure]:
    walls = len(room.outline.walls)
    yield figure(
        "room area",
        "Room",
        writer.square_metres(room.outline.area),
        "m²",
        "room area",
        ("walls", str(walls)),
        ("points on the walls", str(len(room.outline.ring))),
    )
    yield figure(
        "lay area",
        "To lay",
        writer.square_metres(region_area(room.lay_area)),
        "m²",
        "lay area",
        *((barrier.name, f"gap {writer.mm(barrier.gap)}") for barrier in room.barriers),
    )


def _wall(line: WallLine, exaggerate: float, writer: Writer) -> WallDrawing:
    return WallDrawing(
        name=line.name,
        face=line.wall.face,
        path=line_path(line.points),
        bowed=line_path(_bowed(line, exaggerate)),
        label=Label(text=line.name, at=spot(line.at(line.chord / 2, -LABEL_OFF))),
        length=figure(
            f"length {line.name}",
            "Length",
            writer.length(line.chord),
            "mm",
            "wall length",
            (line.from_, _place(line.start, writer)),
            (line.to, _place(line.end, writer)),
        ),
        bow=figure(
            f"bow {line.name}",
            "Bow",
            writer.length(line.bow),
            "mm",
            "wall bow",
            ("curve", line.wall.curve),
            ("readings", str(len(line.wall.offsets))),
            ("at", writer.mm(line.bow_station)),
        ),
    )


def _place(point: tuple[float, float], writer: Writer) -> str:
    return f"x {writer.length(point[0])}, y {writer.length(point[1])} mm"


def _bowed(line: WallLine, exaggerate: float) -> list[tuple[float, float]]:
    """The same curve through readings that are so many times larger, in the same place."""
    offsets = tuple((station, offset * exaggerate) for station, offset in line.wall.offsets)
    # An arc that much deeper may be more than a half circle; its shape is told as well by a spline.
    kind = "smooth" if line.wall.curve == "arc" else line.wall.curve
    curve = wall_curve(kind, line.chord, offsets, line.wall.breaks)
    return [line.at(*pair) for pair in sample(curve)]


def _corner(corner: CornerAngle, room: RoomPlan, writer: Writer) -> CornerDrawing:
    middle = centroid(room.outline.ring)
    away = _away(corner.at, middle)
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
    )


def _away(at: tuple[float, float], middle: tuple[float, float]) -> tuple[float, float]:
    """A step of the label's distance away from the middle of the room."""
    dx, dy = at[0] - middle[0], at[1] - middle[1]
    length = (dx * dx + dy * dy) ** 0.5 or 1.0
    return (dx / length * LABEL_OFF, dy / length * LABEL_OFF)


def _fixed(thing: FixedThing) -> FixedDrawing:
    ring = fixed_ring(thing)
    return FixedDrawing(
        name=thing.name, path=ring_path(ring), label=Label(text=thing.name, at=spot(centroid(ring)))
    )

"""A fixed thing as a page draws it, with its name in it or, where it is too small for that, beside it."""

from collections.abc import Iterator

from engine.drawing.paths import ring_path, spot
from engine.geometry.plane import in_ring
from engine.geometry.shapes import Point, Ring, centroid
from engine.model.job import FixedThing
from engine.setting_out.barriers import fixed_ring
from engine.wire.drawings import Box, Figure, FixedDrawing, Label
from engine.wire.figures import Writer, figure

# A drawing is shown over about 24 lines of text in its width, and a letter is about half as wide as high.
LINES = 24
LETTER = 0.55
# Above, right, left, below, and only then the four ways between.
SIDES = ((0, 1), (1, 0), (-1, 0), (0, -1), (1, 1), (-1, 1), (1, -1), (-1, -1))


def thing_view(thing: FixedThing, room: Ring, box: Box, writer: Writer) -> FixedDrawing:
    """The thing's drawing. ``box`` is the room drawing's view box: it tells how large a letter comes out."""
    ring = fixed_ring(thing)
    high = box[2] / LINES
    at = _label_spot(ring, room, len(thing.name) * LETTER * high, high)
    return FixedDrawing(
        name=thing.name,
        path=ring_path(ring),
        label=Label(text=thing.name, at=spot(at)),
        places=tuple(_places(thing, writer)),
    )


def _places(thing: FixedThing, writer: Writer) -> Iterator[Figure]:
    """The centre, or each point of the outline, as x and y in mm."""
    points = thing.outline or ((thing.centre,) if thing.centre else ())
    for number, (x, y) in enumerate(points, 1):
        label = "Centre, x and y" if thing.outline is None else f"{number}, x and y"
        text = f"{writer.length(x)} · {writer.length(y)}"
        yield figure(f"place {thing.name} {number}", label, text, "mm", "thing place", ("thing", thing.name))


def _label_spot(ring: Ring, room: Ring, wide: float, high: float) -> Point:
    """In the middle when the name fits in; else beside the thing, on the side where most of it is indoors."""
    x, y = centroid(ring)
    half = max(abs(px - x) for px, _ in ring), max(abs(py - y) for _, py in ring)
    if 2 * half[0] >= wide and 2 * half[1] >= high:
        return (x, y)
    aside, over = half[0] + wide / 2 + high / 4, half[1] + high * 0.75
    beside = [(x + aside * across, y + over * up) for across, up in SIDES]
    return max(beside, key=lambda at: _indoors(at, wide, high, room))


def _indoors(at: Point, wide: float, high: float, room: Ring) -> int:
    """How many of nine points of the name lie inside the room."""
    return sum(
        in_ring((at[0] + across * wide / 2, at[1] + up * high / 2), room)
        for across in (-1, 0, 1)
        for up in (-1, 0, 1)
    )

"""SVG path data from shapes: millimetres, y turned downwards as SVG wants it."""

from collections.abc import Iterable, Sequence

from engine.geometry.shapes import Point, Polygon, Region, Ring

# A hundredth of a millimetre is finer than any screen or printer at any useful scale.
DECIMALS = 2


def spot(point: Point) -> Point:
    """A point where it stands on the drawing."""
    # Adding zero turns −0 into 0.
    return (round(point[0], DECIMALS) + 0.0, -round(point[1], DECIMALS) + 0.0)


def line_path(points: Sequence[Point]) -> str:
    """An open line."""
    return "M" + "L".join(_pair(point) for point in points)


def ring_path(ring: Ring) -> str:
    """A closed ring."""
    return line_path(ring) + "Z"


def polygon_path(polygon: Polygon) -> str:
    """A polygon with its holes; fill it by the even-odd rule."""
    return "".join(ring_path(ring) for ring in polygon)


def region_path(region: Region) -> str:
    """All parts of a region in one path."""
    return "".join(polygon_path(polygon) for polygon in region)


def move_text(way: Point) -> str:
    """The transform that moves a drawing by some mm in the room."""
    return f"translate({_pair(way)})"


def view_box(points: Iterable[Point], margin: float) -> tuple[float, float, float, float]:
    """x, y, width and height of the drawing around points, with a margin in mm."""
    pairs = tuple(points)
    xs, ys = [x for x, _ in pairs], [-y for _, y in pairs]
    left, top = min(xs) - margin, min(ys) - margin
    return (
        round(left, DECIMALS),
        round(top, DECIMALS),
        round(max(xs) + margin - left, DECIMALS),
        round(max(ys) + margin - top, DECIMALS),
    )


def short_number(value: float) -> str:
    """A number as short as it can be written without an exponent."""
    return f"{value:.{DECIMALS}f}".rstrip("0").rstrip(".")


def _pair(point: Point) -> str:
    x, y = spot(point)
    return f"{short_number(x)} {short_number(y)}"

"""Areas from offsets and from corners against figures printed elsewhere."""

from math import dist

import pytest

from engine.geometry.shapes import signed_area
from engine.model.job import Room, Wall
from engine.survey.outline import room_outline


@pytest.mark.parametrize(
    ("spacing", "offsets", "printed"),
    [
        # TRADE.md, "offsets → area, published worked examples" (V), trapezoid rule, metres and m².
        (10, (3.15, 4.3, 8.2, 5.6, 6.85, 7.6, 4.2, 5.6, 4.3), 460.75),
        (30, (0, 2.65, 3.80, 3.75, 4.65, 3.60, 5.00, 5.80), 790.50),
    ],
)
def test_area_from_offsets_is_the_published_one(
    spacing: float, offsets: tuple[float, ...], printed: float
) -> None:
    """A strip between a survey line and a straight-chained wall has the area of the trapezoid rule."""
    scale = 1000.0
    far = (len(offsets) - 1) * spacing * scale
    base = 20 * scale  # the survey line lies inside a room; the far wall is the chain of offsets behind it
    first, last = offsets[0] * scale, offsets[-1] * scale
    corners = {"A": (0.0, -base), "B": (far, -base), "C": (far, last), "D": (0.0, first)}
    chord = dist(corners["C"], corners["D"])
    ux, uy = -far / chord, (first - last) / chord
    readings = []
    for k, offset in enumerate(offsets[1:-1], start=1):
        dx, dy = k * spacing * scale - far, offset * scale - last
        readings.append((dx * ux + dy * uy, ux * dy - uy * dx))
    wall = Wall(from_="C", to="D", curve="straight", offsets=tuple(readings))
    area = room_outline(Room(corners=corners, walls=(wall,))).area
    assert area / scale**2 - 20 * far / scale == pytest.approx(printed, abs=1e-9)


def test_area_from_coordinates_is_the_published_one() -> None:
    """Published 102 935.75 ft² (V), unrounded 102 935.72 (calc); TRADE.md, Geometry."""
    ring = ((500.0, 2000.0), (323.614, 1561.426), (526.996, 1488.321), (719.336, 1686.956))
    assert round(abs(signed_area(ring)), 2) == 102_935.72

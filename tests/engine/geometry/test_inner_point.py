"""A point for a name lies inside its piece, whatever the piece looks like."""

from math import cos, radians, sin

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from engine.geometry.inner_point import inner_point
from engine.geometry.shapes import Point, Ring

ANGLE: Ring = ((0, 0), (600, 0), (600, 12), (12, 12), (12, 300), (0, 300))
FORK: Ring = ((0, 0), (600, 0), (600, 90), (560, 90), (560, 15), (40, 15), (40, 90), (0, 90))
HOLE: Ring = ((250, 25), (250, 65), (350, 65), (350, 25))
BOARD: Ring = ((0, 0), (600, 0), (600, 90), (0, 90))


def turned(ring: Ring, angle: float) -> Ring:
    c, s = cos(radians(angle)), sin(radians(angle))
    return tuple((c * x - s * y + 1000, s * x + c * y - 500) for x, y in ring)


@given(st.sampled_from([(ANGLE,), (FORK,), (BOARD, HOLE)]), st.floats(0, 360))
def test_point_lies_inside_an_angle_a_fork_and_a_board_with_a_hole(
    rings: tuple[Ring, ...], angle: float
) -> None:
    """Their centres of area lie in the notch or the hole (held by shapely), the point does not."""
    polygon = tuple(turned(ring, angle) for ring in rings)
    shape = shapely.Polygon(polygon[0], polygon[1:])
    point = shapely.Point(inner_point(polygon))
    assert shape.contains(point)
    # Half of the clearest place there is, found by shapely.
    best = shapely.maximum_inscribed_circle(shape, tolerance=0.1).length
    assert shape.exterior.distance(point) >= best / 3
    assert not shape.contains(shapely.Polygon(polygon[0]).centroid)


@pytest.mark.parametrize("centre", [(300.0, 45.0)])
def test_plain_board_has_its_name_in_its_middle(centre: Point) -> None:
    assert inner_point((BOARD,)) == pytest.approx(centre)

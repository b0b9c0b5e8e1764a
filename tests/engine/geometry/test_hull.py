"""Hulls and widths, held against scipy, shapely and brute force."""

from itertools import pairwise
from math import cos, inf, pi, sin, sqrt

import numpy
import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st
from scipy.spatial import ConvexHull

from engine.geometry.hull import convex_hull, least_width, lower_hull, turn_of, upper_hull
from engine.geometry.shapes import signed_area

whole = st.integers(-500, 500).map(float)
clouds = st.lists(st.tuples(whole, whole), min_size=3, max_size=40)


def width_by_brute_force(points):
    """Least extent of the points over the normals of all pairs: holds every side of the hull."""
    cloud = numpy.array(points)
    least = inf
    for a in cloud:
        for b in cloud:
            if (a != b).any():
                normal = numpy.array([a[1] - b[1], b[0] - a[0]]) / numpy.hypot(*(b - a))
                across = cloud @ normal
                least = min(least, across.max() - across.min())
    return least


@given(clouds)
def test_the_hull_has_the_corners_and_area_that_scipy_finds(points):
    """Reference: scipy.spatial.ConvexHull (Qhull), where the points are not in a line."""
    if shapely.MultiPoint(points).convex_hull.geom_type != "Polygon":
        assert len(convex_hull(points)) < 3
        return
    hull = convex_hull(points)
    reference = ConvexHull(points)
    assert set(hull) == {tuple(points[place]) for place in reference.vertices}
    assert signed_area(hull) == pytest.approx(reference.volume)
    assert hull[0] == min(points)


@given(clouds)
def test_no_point_lies_below_the_lower_or_above_the_upper_hull(points):
    """Both hulls run from the leftmost to the rightmost column, and hold every point between them."""
    lower, upper = lower_hull(points), upper_hull(points)
    assert lower == sorted(lower)
    assert upper == sorted(upper)
    assert min(points) == lower[0] == upper[0]
    for point in points:
        assert all(turn_of(a, b, point) >= 0 for a, b in pairwise(lower))
        assert all(turn_of(a, b, point) <= 0 for a, b in pairwise(upper))


@given(clouds)
def test_least_width_is_what_trying_every_direction_finds(points):
    """Reference: extent of the points over the normals of all pairs."""
    hull = convex_hull(points)
    if len(hull) > 2:
        assert least_width(hull) == pytest.approx(width_by_brute_force(hull))


def test_widths_known_from_school():
    """A board is as wide as its short side, a triangle as its height, a square as its side."""
    assert least_width(((0, 0), (600, 0), (600, 90), (0, 90))) == 90
    assert least_width(((0, 0), (2, 0), (1, sqrt(3)))) == pytest.approx(sqrt(3))
    square = tuple((cos(0.4 + k * pi / 2), sin(0.4 + k * pi / 2)) for k in range(4))
    assert least_width(square) == pytest.approx(sqrt(2))
    assert least_width(((0, 0), (5, 5))) == 0

"""Plane questions, held against closed forms and shapely."""

from math import asin, cos, dist, pi, sin

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from engine.geometry.plane import (
    arc,
    arc_steps,
    circle,
    distance_to_segment,
    in_region,
    in_ring,
    line_intersection,
    nearest_on_polyline,
    nearest_on_segment,
    polyline_length,
)

numbers = st.floats(-6000, 6000).map(lambda value: round(value, 3))
points = st.tuples(numbers, numbers)
lines = st.lists(points, min_size=2, max_size=12)


@given(points, points, points)
def test_distance_to_a_segment_agrees_with_shapely(point, start, end):
    """Any point and segment, a segment without length too (reference: shapely.distance)."""
    expected = shapely.distance(shapely.Point(point), shapely.LineString([start, end]))
    assert distance_to_segment(point, start, end) == pytest.approx(expected, abs=1e-6)


def test_the_nearest_point_of_a_segment_is_its_end_where_the_foot_falls_outside():
    """The foot of a point beyond the end is the end itself, exactly."""
    assert nearest_on_segment((9, 5), (0, 0), (4, 0)) == (4, 0)
    assert nearest_on_segment((-1, 5), (0, 0), (4, 0)) == (0, 0)
    assert nearest_on_segment((1, 5), (0, 0), (4, 0)) == (1, 0)


@given(points, lines)
def test_the_nearest_point_of_a_polyline_agrees_with_shapely(point, line):
    """Distance is the least there is, and the station leads to the point found (reference: shapely)."""
    nearest = nearest_on_polyline(point, line)
    shape = shapely.LineString(line)
    assert nearest.distance == pytest.approx(shape.distance(shapely.Point(point)), abs=1e-6)
    there = shape.interpolate(nearest.station)
    assert dist(nearest.point, (there.x, there.y)) < 1e-5


@given(lines)
def test_polyline_length_agrees_with_shapely(line):
    """Reference: shapely.length."""
    assert polyline_length(line) == pytest.approx(shapely.LineString(line).length)


@given(points)
def test_a_point_is_inside_a_region_when_it_is_in_an_outline_and_in_no_hole(point):
    """A crooked room with an island (reference: shapely.contains); points on the line are left alone."""
    room = ((0, 0), (5200, -30), (5230, 4100), (2600, 3100), (-20, 4080))
    island = ((2000, 1500), (2000, 2300), (3200, 2300), (3200, 1500))
    shape = shapely.Polygon(room, [island])
    spot = shapely.Point(point)
    if shape.boundary.distance(spot) > 1e-6:
        assert in_region(point, ((room, island),)) == shape.contains(spot)


def test_a_point_level_with_a_corner_is_counted_once():
    """A ray through a corner must not be counted as two crossings."""
    diamond = ((0, -1), (1, 0), (0, 1), (-1, 0))
    assert in_ring((0, 0), diamond)
    assert not in_ring((-2, 0), diamond)


def test_two_lines_meet_where_algebra_says():
    """The lines x + y = 10 and y = x meet at (5, 5), outside both given pairs of points."""
    meet = line_intersection((0, 10), (1, 9), (0, 0), (1, 1))
    assert meet == pytest.approx((5, 5))


def test_parallel_lines_do_not_meet():
    """Also when they are turned by an angle that no double holds exactly."""
    along = (cos(0.3), sin(0.3))
    assert line_intersection((0, 0), along, (0, 5), (1000 * along[0], 5 + 1000 * along[1])) is None


@given(st.floats(0.5, 5000), st.sampled_from([0.002, 0.05, 1.0]))
def test_a_sampled_circle_stays_within_the_chord_error(radius, error):
    """Each chord's middle is at most ``error`` inside, and half as many corners would not do."""
    ring = circle((100, -50), radius, error)
    middles = [((a[0] + b[0]) / 2, (a[1] + b[1]) / 2) for a, b in zip(ring, ring[1:] + ring[:1], strict=True)]
    assert all(radius - dist((100, -50), middle) <= error * (1 + 1e-6) + 1e-9 for middle in middles)
    assert all(dist((100, -50), corner) == pytest.approx(radius) for corner in ring)
    if len(ring) > 8:
        assert radius * (1 - cos(2 * pi / len(ring))) > error


def test_an_arc_runs_from_its_first_angle_over_its_sweep():
    """Both ends are corners of the arc, and every corner lies on it."""
    samples = arc((3, 4), 10, 0.2, 1.1, 0.001)
    assert samples[0] == pytest.approx((3 + 10 * cos(0.2), 4 + 10 * sin(0.2)))
    assert samples[-1] == pytest.approx((3 + 10 * cos(1.3), 4 + 10 * sin(1.3)))
    assert all(dist((3, 4), sample) == pytest.approx(10) for sample in samples)


def test_one_chord_rises_as_much_as_published():
    """Chord 12, rise 2 ↔ radius 10 (TRADE.md, bow of a wall, V): one chord does for 2.001 only."""
    sweep = 2 * asin(12 / 2 / 10)
    assert arc_steps(10, sweep, 2.001) == 1
    assert arc_steps(10, sweep, 1.999) == 2

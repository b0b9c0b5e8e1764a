"""Strips hold every point within the gap, and no other, to the arc tolerance."""

from itertools import pairwise
from math import cos, pi, sin

import pytest
import shapely
from hypothesis import example, given
from hypothesis import strategies as st

from engine.geometry.kernel import kernel
from engine.geometry.shapes import region_area
from engine.geometry.strips import strip
from engine.geometry.tolerances import ARC

turns = st.one_of(st.sampled_from([0.0, 0.0009, 0.01, 0.019, -0.015]), st.floats(-pi, pi))
steps = st.lists(st.tuples(turns, st.sampled_from([0.3, 3.0, 50.0, 400.0])), min_size=1, max_size=20)
widths = st.sampled_from([1.0, 3.0, 10.0, 14.5, 40.0])


def walked(steps):
    """Make a polyline of (turn, length) steps, as one walks along a wall."""
    line, heading = [(1000.0, 500.0)], 0.3
    for turn, length in steps:
        heading += turn
        line.append((line[-1][0] + length * cos(heading), line[-1][1] + length * sin(heading)))
    return line


def shape_of(region):
    """Make a shapely shape of a region."""
    return shapely.MultiPolygon([(outer, holes) for outer, *holes in region])


def reach_of(line, half_width):
    """Buffer each segment by itself, where shapely has nothing to simplify, and unite them."""
    pieces = [shapely.LineString(pair).buffer(half_width, quad_segs=96) for pair in pairwise(line)]
    return shapely.union_all(pieces)


def assert_reaches(line, half_width):
    """The edge of the united strips lies at the half width from the line, the area is the reach's."""
    polygons = strip(line, half_width)
    assert all(kernel().fault_of(polygon) is None for polygon in polygons)
    shape = shape_of(kernel().unite(polygons))
    reach = reach_of(line, half_width)
    assert shape.symmetric_difference(reach).area < ARC * reach.length
    edge = shapely.points(shapely.get_coordinates(shapely.segmentize(shape.boundary, 2)))
    distances = shapely.distance(edge, shapely.LineString(line))
    assert half_width - ARC * 1.01 - 1e-5 <= distances.min()
    assert distances.max() <= half_width + ARC * 1.01 + 1e-5


SLIT = [(3.0625, 0.3), (3.0, 3.0), (-1.0, 0.3), (0.0, 0.3), (0.0, 0.3), (0.0, 0.3), (1.0, 0.3), (1.0, 0.3)]
"""Regression: a round that only met its sides left a slit on the grid."""


@given(steps, widths)
@example(SLIT, 1.0)
def test_strips_of_any_wall_reach_as_far_as_shapely_says(steps, half_width):
    """Kinks, tiny turns, short segments, turning back, crossing (reference: shapely.buffer per segment)."""
    assert_reaches(walked(steps), half_width)


@pytest.mark.parametrize(
    ("radius", "half_width", "sweep"),
    [(5000, 10, 1.4), (500, 10, 5.0), (500, 10, 6.5), (60, 25, 6.0), (22, 20, 3)],
)
def test_strips_of_a_finely_sampled_arc_reach_as_far_as_shapely_says(radius, half_width, sweep):
    """Wide and tight bends, mitred or not, runs that turn far (reference: shapely.buffer per segment)."""
    steps = round(sweep / 0.006)
    line = [(radius * cos(sweep * k / steps), radius * sin(sweep * k / steps)) for k in range(steps + 1)]
    assert_reaches(line, half_width)


def test_a_long_smooth_wall_is_few_polygons():
    """A wall of 800 points bowed by 18 mm costs one side and two ends, not 800 pieces."""
    line = [(6.5 * k, 18 * sin(pi * k / 800)) for k in range(801)]
    assert len(strip(line, 10)) == 3


def test_a_straight_wall_keeps_its_gap_exactly():
    """The side of a straight strip is at the gap, not at the gap less an arc's error."""
    side = strip([(0, 0), (3000, 0)], 10)[0][0]
    assert set(side) == {(0, -10), (3000, -10), (3000, 10), (0, 10)}


def test_a_closed_outline_has_round_corners_and_no_ends():
    """Reach of a 1000 × 800 rectangle: outside with four quarter rounds, less the hole (closed form)."""
    line = [(0, 0), (1000, 0), (1000, 800), (0, 800), (0, 0)]
    expected = (1000 * 800 + 10 * 3600 + pi * 100) - 980 * 780
    assert region_area(kernel().unite(strip(line, 10))) == pytest.approx(expected, abs=ARC * 2 * pi * 10)


def test_no_gap_gives_no_strip_and_a_point_gives_a_disc():
    """A gap of 0 takes nothing away; a repeated point is one point."""
    assert strip([(0, 0), (10, 0)], 0) == []
    assert strip([], 10) == []
    assert region_area(tuple(strip([(3, 4), (3, 4)], 10))) == pytest.approx(pi * 100, abs=ARC * 2 * pi * 10)


def test_a_library_buffer_of_the_whole_wall_would_be_wrong_by_more():
    """Why strips are ours: the buffer of a whole wall drops corners (seen in GEOS under shapely 2.2.0)."""
    line = [(6.5 * k, 0.09 * (k % 2)) for k in range(400)]
    edge = shapely.points(
        shapely.get_coordinates(shapely.segmentize(shapely.LineString(line).buffer(10).boundary, 0.5))
    )
    theirs = abs(shapely.distance(edge, shapely.LineString(line)) - 10).max()
    ours = shape_of(kernel().unite(strip(line, 10)))
    edge = shapely.points(shapely.get_coordinates(shapely.segmentize(ours.boundary, 0.5)))
    assert abs(shapely.distance(edge, shapely.LineString(line)) - 10).max() < ARC * 1.01
    assert theirs > 5 * ARC

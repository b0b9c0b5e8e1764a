"""The index of segments answers as if it had looked at every one of them."""

from math import dist

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.geometry.plane import distance_to_segment
from engine.geometry.segment_grid import SegmentGrid

numbers = st.one_of(
    st.integers(-8, 8).map(lambda cells: 50.0 * cells),
    st.floats(-400, 400).map(lambda value: round(value, 6)),
)
points = st.tuples(numbers, numbers)
pairs = st.lists(st.tuples(points, points), min_size=1, max_size=30)


def numbered(ends):
    """Give each segment a number that is not its place."""
    return [(start, end, 100 + place) for place, (start, end) in enumerate(ends)]


@given(pairs, points, st.sampled_from([1.0, 20.0, 49.0, 300.0, 2000.0]))
def test_nearest_is_what_looking_at_every_segment_finds(ends, point, within):
    """Reference: the distance to each segment in turn; nothing is found beyond the reach."""
    hit = SegmentGrid(numbered(ends)).nearest(point, within)
    least = min(distance_to_segment(point, *pair) for pair in ends)
    if hit is None:
        assert least > within - 1e-9
    else:
        assert hit.distance == pytest.approx(least, abs=1e-9)
        assert hit.distance <= within
        assert dist(point, hit.point) == pytest.approx(hit.distance, abs=1e-9)
        assert distance_to_segment(point, *ends[hit.number - 100]) == pytest.approx(least, abs=1e-9)


@given(pairs, points, points)
def test_near_gives_all_segments_whose_box_meets_the_box_in_their_order(ends, one, other):
    """Every segment with a point in the box is among them, none twice."""
    box = (min(one[0], other[0]), min(one[1], other[1]), max(one[0], other[0]), max(one[1], other[1]))
    found = [number for *_, number in SegmentGrid(numbered(ends)).near(box)]
    assert found == sorted(set(found))
    for start, end, number in numbered(ends):
        touches = any(
            box[0] <= start[0] + k / 64 * (end[0] - start[0]) <= box[2]
            and box[1] <= start[1] + k / 64 * (end[1] - start[1]) <= box[3]
            for k in range(65)
        )
        assert number in found or not touches


def test_of_two_segments_at_one_distance_the_first_wins():
    """So that a point midway between two walls always goes to the same one."""
    grid = SegmentGrid([((0, 10), (100, 10), 7), ((0, -10), (100, -10), 3)])
    assert grid.nearest((50, 0), 20).number == 7


def test_an_empty_grid_finds_nothing():
    """A room without fixed things has no segments of them."""
    assert SegmentGrid([]).nearest((0, 0), 100) is None
    assert SegmentGrid([]).near((0, 0, 1, 1)) == []

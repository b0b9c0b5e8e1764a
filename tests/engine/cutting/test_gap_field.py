"""The gap at a point: the barrier whose own gap is nearest to being used up, not merely the nearest one."""

from math import hypot

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st
from shapely.geometry import LineString, Point

from engine.cutting.gap_field import GAP_EVERY, BoardGapField, Gap, GapField, edge_samples
from engine.geometry.frame import Frame
from tests.engine.cutting.one_board import pipe, wall

FLOOR = wall((0, 0), (3000, 0), gap=10, name="wall")
THRESHOLD = wall((3000, 0), (3000, 2000), gap=3, tolerance=1, name="threshold")


def test_of_two_walls_the_one_with_less_left_over_binds() -> None:
    """12 mm from a wall with a gap of 10 is tighter than 8 mm from a threshold with 3."""
    field = GapField([FLOOR, THRESHOLD])
    gap = field.at((2992.0, 12.0))
    assert gap.barrier.name == "wall"
    assert gap.distance == pytest.approx(12)
    assert field.at((2995.5, 13.0)).barrier.name == "threshold"


def test_a_narrow_tolerance_beside_a_wide_one_is_not_passed_over() -> None:
    """At the end of a wall with 10 ± 5 mm, 6 mm off is allowed; 3 mm from one with 6 ± 1 mm is not."""
    wide = wall((-500, 120), (0, 0), gap=10, tolerance=5, name="wide")
    narrow = wall((0, 0), (3000, 0), gap=6, tolerance=1, name="narrow")
    gap = GapField([wide, narrow]).at((5.0, 3.0))
    assert (gap.barrier.name, gap.is_inside_band) == ("narrow", False)
    assert GapField([wide, narrow]).at((5.0, 5.5)).is_inside_band


def test_far_from_everything_the_nearest_is_meant() -> None:
    gap = GapField([FLOOR, THRESHOLD]).at((1500.0, 900.0))
    assert gap.barrier.name == "wall"
    assert gap.distance == pytest.approx(900)


def test_a_band_has_two_sides_and_a_micrometre_for_rounding() -> None:
    """10 ± 2."""
    inside = [8.0, 7.9995, 10.0, 12.0, 12.0005]
    outside = [7.99, 12.01, 0.0]
    assert all(Gap(FLOOR, distance).is_inside_band for distance in inside)
    assert not any(Gap(FLOOR, distance).is_inside_band for distance in outside)


def test_the_band_of_a_small_gap_ends_at_nothing_on_one_side_alone() -> None:
    """No gap with a tolerance of 2: from touching to 2 mm off; 1 mm with 2: from touching to 3 mm off."""
    touching, near = (wall((0, 0), (9, 0), gap=gap, tolerance=2) for gap in (0, 1))
    for barrier, inside, outside in (
        (touching, [0.0, -0.0005, 1.0, 2.0], [-0.01, 2.01]),
        (near, [0.0, 1.0, 3.0], [-0.01, 3.01]),
    ):
        assert all(Gap(barrier, distance).is_inside_band for distance in inside)
        assert not any(Gap(barrier, distance).is_inside_band for distance in outside)
    assert [round(Gap(near, distance).to_band, 6) for distance in (-1, 0, 1, 3, 5)] == [1, 0, -1, 0, 2]


@settings(max_examples=60, deadline=None)
@given(x=st.floats(-20, 3020), y=st.floats(-20, 60))
def test_the_binding_gap_is_that_of_a_search_through_all(x: float, y: float) -> None:
    """Near the walls, against shapely's distances to each barrier; beyond a wall it is below nothing."""
    barriers = [FLOOR, THRESHOLD, pipe(1500, 30, 22, gap=8)]
    gap = GapField(barriers).at((x, y))
    excess = [LineString(b.points).distance(Point(x, y)) - b.gap for b in barriers]
    too_near = any(e < -b.tolerance - 0.002 for e, b in zip(excess, barriers, strict=True))
    assert not (too_near and gap.is_inside_band)
    if min(excess) < 2 and not too_near:
        assert abs(gap.distance) - gap.barrier.gap == pytest.approx(min(excess), abs=1e-9)
        if min(abs(y), abs(x - 3000)) > 1e-3:
            assert (gap.distance < 0) == (y < 0 or x > 3000)


def test_a_board_asks_in_its_own_frame() -> None:
    """A board turned by 90° at (100, 50): its point (0, 20) is the room's (80, 50)."""
    field = BoardGapField(GapField([FLOOR]), Frame(100.0, 50.0, 90.0))
    assert field.at((0.0, 20.0)).distance == pytest.approx(50)
    assert field.at((-30.0, 20.0)).distance == pytest.approx(20)


def test_samples_hold_every_corner_and_leave_no_long_stretch() -> None:
    corners = [(0.0, 0.0), (35.0, 0.0), (35.0, 4.0), (0.0, 100.0)]
    samples = list(edge_samples(corners))
    assert [point for point in samples if point in corners] == corners
    steps = [hypot(b[0] - a[0], b[1] - a[1]) for a, b in zip(samples, samples[1:], strict=False)]
    assert max(steps) <= GAP_EVERY + 1e-9
    assert sum(steps) == pytest.approx(LineString(corners).length)


def test_beyond_a_wall_the_distance_is_below_nothing() -> None:
    """An inner corner of the room at (0, 0): the floor lies above the first wall and left of the second."""
    first = wall((-1000, 0), (0, 0), gap=3, tolerance=3, name="first")
    second = wall((0, 0), (0, -1000), gap=3, tolerance=3, name="second")
    field = GapField([first, second])
    room = [(-5.0, 2.0), (4.0, -1.0), (4.0, 3.0), (0.5, -6.0), (-0.5, 6.0)]
    beyond = [(-5.0, -2.0), (-4.0, -6.0), (-0.5, -6.0)]
    assert all(field.at(point).distance > 0 for point in room)
    assert all(field.at(point).distance < 0 for point in beyond)
    assert field.at((-5.0, -2.0)).distance == pytest.approx(-2)
    assert not field.at((-5.0, -2.0)).is_inside_band
    assert field.at((-5.0, 0.0)).is_inside_band


def test_an_outer_corner_has_both_its_walls_behind() -> None:
    """The room above the first wall and to the left of the second, which meet at (0, 0)."""
    field = GapField([wall((-1000, 0), (0, 0)), wall((0, 0), (0, 1000))])
    assert field.at((-3.0, 4.0)).distance > 0
    assert all(field.at(point).distance < 0 for point in [(3.0, 4.0), (3.0, -4.0), (-3.0, -4.0)])

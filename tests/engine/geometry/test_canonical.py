"""Equal shapes are written down as equal values, however a library happened to give them."""

from math import cos, dist, pi, sin

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.geometry.canonical import canonical_region, canonical_ring, turned, without_flat_corners
from engine.geometry.shapes import region_area, signed_area
from engine.geometry.tolerances import COLLINEAR, THINNEST

ROOM = ((0.0, 0.0), (5200.0, -30.0), (5230.0, 4100.0), (2600.0, 3100.0), (-20.0, 4080.0))
ISLAND = ((2000.0, 1500.0), (2000.0, 2300.0), (3200.0, 2300.0), (3200.0, 1500.0))
FAR = ((9000.0, 0.0), (9600.0, 0.0), (9600.0, 90.0), (9000.0, 90.0))


def rewritten(ring, start, backwards):
    """Write a ring down from another corner, or backwards."""
    ring = ring[start % len(ring) :] + ring[: start % len(ring)]
    return ring[::-1] if backwards else ring


@given(st.integers(0, 9), st.integers(0, 9), st.booleans(), st.booleans(), st.booleans())
def test_direction_start_and_order_of_writing_do_not_matter(
    outer_start, hole_start, outer_back, hole_back, swap
):
    """Each way to write one region gives one value."""
    room = [rewritten(ROOM, outer_start, outer_back), rewritten(ISLAND, hole_start, hole_back)]
    polygons = [room, [FAR]]
    expected = canonical_region([[ROOM, ISLAND], [FAR]])
    assert canonical_region(polygons[::-1] if swap else polygons) == expected
    outer, hole = expected[0]
    assert signed_area(outer) > 0 > signed_area(hole)
    assert outer[0] == (-20.0, 4080.0)


def test_noise_in_the_last_digit_does_not_choose_the_first_corner():
    """Of the corners on an upright wall the lowest comes first, even a millionth farther right."""
    for noise in (-1e-6, 0.0, 1e-6):
        assert turned(((5.0, 3.0), (noise, 3.0), (0.0, 0.0), (5.0, 0.0)))[0] == (0.0, 0.0)


def test_repeated_corners_and_corners_on_a_side_are_left_out():
    """The corners that noding leaves on a straight side say nothing."""
    ring = ((0, 0), (0, 0), (2, 1e-6), (4, 0), (4, 3), (4, 3), (0, 3), (0, 1.5))
    assert canonical_ring(ring) == ((0, 0), (4, 0), (4, 3), (0, 3))


@given(st.floats(20, 5000), st.integers(50, 3000))
def test_a_fine_curve_is_not_eaten_away(radius, count):
    """What is left of a sampled circle stays within the tolerance of every corner left out."""
    ring = [(radius * cos(2 * pi * k / count), radius * sin(2 * pi * k / count)) for k in range(count)]
    kept = without_flat_corners(ring)
    longest = max(dist(a, b) for a, b in zip(kept, kept[1:] + kept[:1], strict=True))
    step = 2 * radius * sin(pi / count)
    # Rise of an arc over its chord, c²/8R; over three steps no corner stands in the middle: 9/8 of that.
    assert longest <= step * 1.001 or longest**2 / (8 * radius) <= COLLINEAR * 1.14


@given(st.floats(0, 2 * pi), st.floats(1, 600))
def test_leftovers_without_width_are_dropped_and_thin_wedges_are_not(angle, length):
    """A strip half as thin as the least is nothing; one twice as thick stays."""

    def strip_of(width):
        corners = [(0.0, 0.0), (length, 0.0), (length, width), (0.0, width)]
        c, s = cos(angle), sin(angle)
        return tuple((c * x - s * y, s * x + c * y) for x, y in corners)

    assert canonical_ring(strip_of(THINNEST / 2)) == ()
    assert len(canonical_ring(strip_of(THINNEST * 2))) == 4


def test_a_region_of_leftovers_is_empty_and_thin_holes_are_closed():
    """Lines and points left by two shapes that touch are no floor, nor is a slit a hole."""
    slit = ((2000.0, 1500.0), (2000.0, 2300.0), (2000.0005, 2300.0), (2000.0005, 1500.0))
    assert canonical_region([[((0, 0), (5, 5), (9, 9))], [((1, 1),)]]) == ()
    assert canonical_region([[ROOM, slit]]) == canonical_region([[ROOM]])
    assert region_area(canonical_region([[ROOM, ISLAND]])) == signed_area(ROOM) - 1200 * 800


@pytest.mark.parametrize("noise", [0.0, 1e-12, -1e-12])
@pytest.mark.parametrize("lean", [0.0, 90.0])
def test_the_last_digit_does_not_choose_the_corner_that_a_ring_begins_at(noise: float, lean: float) -> None:
    """Regression: a chevron's whole board began at either of two opposite corners, by the machine's sine."""
    ring = [(0.0, 0.0), (600.0, 0.0), (600.0 + lean + noise, 90.0 + noise), (lean, 90.0)]
    assert without_flat_corners(ring) == ring

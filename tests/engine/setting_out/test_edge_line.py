"""One edge of the floor as heights over its own line: against arcs, whose heights are in every handbook."""

from itertools import pairwise
from math import cos, hypot, pi, radians, sin

import pytest

from engine.geometry.shapes import Point
from engine.setting_out.edge_line import EdgeLine, edge_line
from engine.setting_out.rim import Stretch

BOARD = 600.0
# An arc of this radius over this chord, mm: its height is r − √(r² − c²/4).
RADIUS, CHORD = 100_000.0, 3000.0
SAGITTA = RADIUS - (RADIUS**2 - CHORD**2 / 4) ** 0.5


def line_of(*points: Point, before: float = 1.0, after: float = 1.0) -> EdgeLine:
    line = edge_line(Stretch("w", points, before, after), BOARD)
    assert line is not None
    return line


def bowed() -> EdgeLine:
    """An arc that bows into the floor, on a line turned by 30° and moved off the origin."""
    xs = [CHORD * place / 300 for place in range(301)]
    local = [(x, (RADIUS**2 - (x - CHORD / 2) ** 2) ** 0.5 - (RADIUS - SAGITTA)) for x in xs]
    turn = radians(30)
    return line_of(*((500 + cos(turn) * x - sin(turn) * y, sin(turn) * x + cos(turn) * y) for x, y in local))


def test_heights_count_from_the_rim() -> None:
    """A point of the room above the middle of an arc stands as much lower as the arc is high."""
    line = bowed()
    assert line.offset(CHORD / 2) == pytest.approx(SAGITTA, abs=0.01)
    x, y = line.frame.to_room((CHORD / 2, 100.0))
    assert line.height((x, y)) == pytest.approx(100 - SAGITTA, abs=0.01)
    assert all(line.height(point) == pytest.approx(0, abs=1e-9) for point in line.points)


def test_beyond_its_ends_the_edge_goes_straight_on() -> None:
    """By the slope of its first and last piece."""
    line = bowed()
    rise = line.offset(-10.0) - line.offset(-20.0)
    assert rise == pytest.approx(10 * line.gradients[0], abs=1e-9)
    assert line.offset(CHORD + 7) == pytest.approx(7 * line.gradients[-1], abs=1e-9)


def test_slopes_are_those_of_the_stretch_asked_for() -> None:
    """At the ends of an arc ± c/2r and more, in its middle next to none."""
    line = bowed()
    assert line.slopes == pytest.approx((-0.015, 0.015), abs=1e-4)
    low, high = line.slopes_between(CHORD / 2 - 300, CHORD / 2 + 300)
    assert (low, high) == pytest.approx((-0.003, 0.003), abs=1.1e-4)
    slopes = [(line.offset(s + 1) - line.offset(s)) for s in range(1200, 1800, 7)]
    assert low - 1e-12 <= min(slopes)
    assert max(slopes) <= high + 1e-12


def test_an_arc_strays_from_a_chord_by_its_own_height() -> None:
    """c²/8r within the chord, beyond it the product of the distances to its two ends over 2r."""
    line = bowed()
    assert line.strays(1000, 1600, 1000, 1600) == pytest.approx(600**2 / 8 / RADIUS, abs=0.002)
    assert line.strays(1000, 1600, 900, 1000) == pytest.approx(100 * 700 / 2 / RADIUS, abs=0.002)
    assert line.strays(1000, 1600, 1600, 1700) == pytest.approx(100 * 700 / 2 / RADIUS, abs=0.002)
    assert line.most_sag == pytest.approx(BOARD**2 / 8 / RADIUS, abs=0.002)


def test_in_the_mean_an_arc_stands_off_by_two_thirds_of_its_height() -> None:
    """The area under a flat arc is 2/3 of chord times height (Archimedes, for the parabola)."""
    assert bowed().bulge(1000, 1600) == pytest.approx(2 / 3 * 600**2 / 8 / RADIUS, abs=0.002)


def test_an_area_is_exact_between_any_two_stations() -> None:
    """Against the same polyline summed up piece by piece."""
    line = line_of((0.0, 0.0), (100.0, 3.0), (250.0, -2.0), (600.0, 0.0))
    stations = [40.0, 100.0, 250.0, 410.0]
    whole = sum((b - a) * (line.offset(a) + line.offset(b)) / 2 for a, b in pairwise(stations))
    chord = (line.offset(40.0) + line.offset(410.0)) / 2
    assert line.bulge(40.0, 410.0) == pytest.approx(whole / 370 - chord, abs=1e-12)


def test_a_straight_edge_is_straight() -> None:
    line = line_of((10.0, 20.0), (1210.0, 20.0))
    assert line.is_straight
    assert line.strays(0, 100, -50, 900) == 0
    assert line.bulge(0, 100) == 0
    assert (line.round_before, line.round_after) == ((), ())


def test_the_round_of_an_inner_corner_is_taken_off() -> None:
    """A quarter circle of 10 mm before a wall: the edge begins where the wall does."""
    arc = [(10 - 10 * cos(pi / 2 * part / 40), -10 + 10 * sin(pi / 2 * part / 40)) for part in range(41)]
    line = edge_line(Stretch("w", (*arc, (1500.0, 0.0)), -1.0, 1.0, (40, 0)), BOARD)
    assert line is not None
    assert hypot(line.frame.x - 10, line.frame.y) < 1e-9
    assert line.round_before == tuple(arc[:-1])
    assert line.round_after == ()


def test_a_wall_that_bends_much_is_an_edge_from_end_to_end() -> None:
    """An arc of 0.2 of its chord, as of a bay: its ends turn away by 2·atan(0.4) = 43.6° (any handbook)."""
    half = radians(43.6)
    arc = tuple((1500 * sin(half * part / 150), 1500 * cos(half * part / 150)) for part in range(-150, 151))
    assert len(line_of(*arc).points) == len(arc)


def test_what_is_no_edge_is_none() -> None:
    """A single point, or a line that bends back on itself."""
    assert edge_line(Stretch("w", ((1.0, 2.0),), 1.0, 1.0), BOARD) is None
    assert (
        edge_line(Stretch("w", ((0.0, 0.0), (500.0, 1.0), (499.0, 3.0), (900.0, 0.0)), 1, 1), BOARD) is None
    )

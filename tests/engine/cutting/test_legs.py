"""A cut curve taken apart where the room has corners, not where a wall is bowed or merely sampled."""

from math import cos, pi, sin

import pytest

from engine.cutting.legs import legs_of, turn_at, turns_outward
from engine.geometry.plane import arc


@pytest.mark.parametrize(
    ("after", "turn"), [((20, 0), 0), ((10, 10), 90), ((10, -10), -90), ((20, 10), 45), ((0, 1e-9), 180)]
)
def test_a_turn_is_positive_to_the_left(after: tuple[float, float], turn: float) -> None:
    assert abs(turn_at((0, 0), (10, 0), after)) == pytest.approx(abs(turn), abs=1e-6)
    assert turn_at((0, 0), (10, 0), after) * turn >= 0


def test_a_bowed_wall_is_one_leg() -> None:
    """18 mm over 5.2 m, sampled every 40 mm: no corner in it."""
    points = [(x, 18 * 4 * x / 5200 * (1 - x / 5200)) for x in range(0, 5201, 40)]
    (leg,) = legs_of(points)
    assert leg.points == tuple(points)
    assert not leg.is_round


def test_a_corner_of_the_room_parts_two_legs() -> None:
    """They share the corner."""
    first, second = legs_of([(0, 0), (50, 0), (100, 0), (100, 60), (100, 90)])
    assert (first.points, second.points) == (((0, 0), (50, 0), (100, 0)), ((100, 0), (100, 60), (100, 90)))


def test_a_kink_of_less_than_five_degrees_is_a_bend() -> None:
    assert len(legs_of([(0, 0), (100, 0), (200, 100 * 0.08)])) == 1
    assert len(legs_of([(0, 0), (100, 0), (200, 100 * 0.09)])) == 2


@pytest.mark.parametrize("radius", [3.0, 10.0, 40.0])
def test_the_round_at_an_outside_corner_is_a_leg_of_its_own(radius: float) -> None:
    """Leg, tight arc, leg; all points of the curve are in one of them."""
    bend = arc((100.0, radius), radius, -pi / 2, pi / 2, 0.002)
    points = [(0.0, 0.0), *bend, (100.0 + radius, 100.0 + radius)]
    before, between, after = legs_of(points)
    assert [before.is_round, between.is_round, after.is_round] == [False, True, False]
    assert between.points == tuple(bend)
    assert before.points[-1] == between.points[0]


def test_a_round_of_more_than_eighty_millimetres_is_sawn_like_a_wall() -> None:
    points = [(300 * cos(t / 50), 300 * sin(t / 50)) for t in range(20)]
    assert [leg.is_round for leg in legs_of(points)] == [False]


def test_a_bite_turns_outward_and_a_point_does_not() -> None:
    """With the piece on the left, a bite into it turns to the right."""
    assert turns_outward([(0, 0), (10, 0), (10, -10)])
    assert not turns_outward([(0, 0), (10, 0), (10, 10)])

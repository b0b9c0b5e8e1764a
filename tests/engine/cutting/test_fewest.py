"""The fewest settings of the saw: as few as trying everything finds, each with its proof."""

from itertools import combinations
from random import Random

import pytest

from engine.cutting.fewest import Range, fewest_groups, fewest_points, nearest, witnesses
from engine.cutting.saw_angles import Saw


def some_ranges(seed: int) -> list[Range]:
    """Up to eight ranges whose ends are whole numbers, some of them points."""
    rng = Random(seed)
    firsts = [rng.randint(-9, 9) for _ in range(rng.randint(0, 8))]
    return [(first, first + rng.choice([0, 1, 2, 4])) for first in firsts]


def least_by_trying(ranges: list[Range]) -> int:
    """The least number of points that hit all ranges, every choice of last ends tried."""
    ends = sorted({last for _, last in ranges})
    for count in range(len(ends) + 1):
        for points in combinations(ends, count):
            if all(any(first <= point <= last for point in points) for first, last in ranges):
                return count
    raise AssertionError


@pytest.mark.parametrize("seed", range(150))
def test_no_choice_of_points_does_with_fewer(seed: int) -> None:
    ranges = some_ranges(seed)
    groups = fewest_groups(ranges)
    assert len(groups) == least_by_trying(ranges)
    for first, last in ranges:
        assert any(first <= low <= high <= last for low, high in groups)


@pytest.mark.parametrize("seed", range(150, 200))
def test_the_proof_is_as_many_ranges_of_which_no_two_touch(seed: int) -> None:
    """Each needs a setting of its own: so many there must be."""
    ranges = some_ranges(seed)
    apart = witnesses(ranges)
    assert len(apart) == len(fewest_groups(ranges))
    assert set(apart) <= set(ranges)
    assert all(one[1] < other[0] or other[1] < one[0] for one, other in combinations(apart, 2))


def test_a_range_takes_the_point_nearest_to_what_it_wanted() -> None:
    points = fewest_points([(0, 3), (2, 6), (7, 9), (5, 8)], prefer=lambda common: common[0])
    assert points == [2, 7]
    assert nearest([2, 7], (1, 9), wanted=6) == 7
    assert nearest([2, 7], (1, 6), wanted=6) == 2


SAW = Saw(step=0.5, detents=(22.5, 31.6, 45.0), largest_left=45.0, largest_right=50.0)


@pytest.mark.parametrize(
    ("held", "settable"),
    [
        ((40.2, 41.7), (40.5, 41.5)),
        ((-41.7, -40.2), (-41.5, -40.5)),
        ((40.6, 40.9), None),
        ((31.55, 31.9), (31.6, 31.6)),
        ((-31.9, -31.55), (-31.6, -31.6)),
        ((-0.2, 0.3), (0.0, 0.0)),
        # How far the saw swings is a setting, although a range that goes on is cut off there.
        ((-45.0, -44.8), (-45.0, -45.0)),
        ((49.8, 50.0), (50.0, 50.0)),
        # The bare end of a range is none: desk and phone may differ in its last digit.
        ((40.5, 40.9), None),
        # The saw's own swing does end where it says.
        ((49.7, 50.0), (50.0, 50.0)),
        ((-45.0, -44.7), (-45.0, -45.0)),
    ],
)
def test_only_what_the_saw_can_be_set_to_counts(held: Range, settable: Range | None) -> None:
    assert SAW.settable(held) == settable


@pytest.mark.parametrize(
    ("settings", "preferred"),
    [
        ((40.5, 43.5), 42.0),
        ((40.5, 41.0), 40.5),
        ((-41.0, -40.5), -40.5),
        ((43.0, 49.0), 45.0),
        ((31.6, 34.0), 31.6),
        ((-46.0, -43.0), -45.0),
        ((-3.0, 40.0), 22.5),
        ((-3.0, 2.0), 0.0),
    ],
)
def test_a_detent_is_taken_where_there_is_one_else_the_middle(settings: Range, preferred: float) -> None:
    assert SAW.preferred(settings) == preferred


def test_without_steps_the_middle_is_taken() -> None:
    free = Saw(step=0.0)
    settable = free.settable((10.0, 11.0))
    assert settable == pytest.approx((10.0, 11.0), abs=1e-4)
    assert free.preferred((10.0, 11.0)) == 10.5

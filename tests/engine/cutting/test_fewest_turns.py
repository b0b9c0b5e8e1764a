"""The fewest ways of turning the saw, in the fewest numbers: as few as trying every choice finds."""

from itertools import combinations
from random import Random

import pytest

from engine.cutting.fewest import Range, fewest_groups
from engine.cutting.fewest_turns import fewest_turns
from engine.cutting.saw_angles import Saw

WHOLE = Saw(step=1.0, detents=(), largest_left=7.0, largest_right=7.0)


def some_ranges(seed: int) -> list[Range]:
    """Up to nine ranges on both sides of square whose ends are whole numbers, some of them points."""
    rng = Random(seed)
    firsts = [rng.randint(-7, 5) for _ in range(rng.randint(0, 9))]
    return [(first, min(first + rng.choice([0, 1, 2, 4]), 7)) for first in firsts]


def numbers(turns: tuple[float, ...]) -> int:
    """How many numbers of degrees these turns need on the saw's scale."""
    return len({abs(turn) for turn in turns})


def least_by_trying(ranges: list[Range]) -> tuple[int, int]:
    """The least number of turns, then of numbers, that hit all ranges, every choice of degrees tried."""
    for count in range(len(ranges) + 1):
        hits = [
            turns
            for turns in combinations(range(-7, 8), count)
            if all(any(first <= turn <= last for turn in turns) for first, last in ranges)
        ]
        if hits:
            return count, min(map(numbers, hits))
    raise AssertionError


@pytest.mark.parametrize("seed", range(200))
def test_no_choice_of_turns_does_with_fewer(seed: int) -> None:
    ranges = some_ranges(seed)
    turns = fewest_turns(ranges, WHOLE.preferred)
    assert all(any(first <= turn <= last for turn in turns) for first, last in ranges)
    assert (len(turns), numbers(tuple(turns))) == least_by_trying(ranges)


@pytest.mark.parametrize("seed", range(20))
def test_with_many_cuts_there_are_as_few_ways_as_groups_of_ranges(seed: int) -> None:
    """Any step, cuts by the hundred: the number of ways is that of the greedy sweep, which has a proof."""
    rng = Random(seed)
    middles = [rng.choice([-1, 1]) * rng.choice([rng.uniform(0, 3), rng.gauss(44, 2)]) for _ in range(300)]
    ranges = [(middle - rng.uniform(0.1, 1), middle + rng.uniform(0.1, 1)) for middle in middles]
    turns = fewest_turns(ranges, Saw(step=0.0).preferred)
    assert len(turns) == len(fewest_groups(ranges))
    assert all(any(first - 1e-6 <= turn <= last + 1e-6 for turn in turns) for first, last in ranges)


def test_a_number_serves_both_sides_where_it_can() -> None:
    """38 to 43 to the left and 41 to 46 to the right: 41, 42 or 43 would do for both; 42 is in the middle."""
    assert fewest_turns([(-43, -38), (41, 46)], WHOLE.preferred) == [-42, 42]


def test_a_detent_goes_before_the_middle() -> None:
    saw = Saw(step=0.5, detents=(45.0,))
    assert fewest_turns([(-45.5, -40), (42, 48)], saw.preferred) == [-45, 45]


def test_square_is_one_way_and_goes_before_a_little_to_either_side() -> None:
    assert fewest_turns([(-0.5, 1), (-2, 0.5)], WHOLE.preferred) == [0]

"""One wall alone: the largest gap between the depths at which boards end."""

from math import inf
from random import Random

import pytest

from engine.setting_out.one_wall import largest_gap

CASES = 200
STEPS = 2000


def uncovered(start: float, spans: list[tuple[float, float]], period: float) -> float:
    """How far one can go from a point of the circle until some interval begins; 0 inside one."""
    ahead = inf
    for low, high in spans:
        if (start - low) % period < high - low:
            return 0.0
        ahead = min(ahead, (low - start) % period)
    return min(ahead, period)


def crooked_case(seed: int, bend: float) -> tuple[list[tuple[float, float]], float]:
    chance = Random(seed)
    period = chance.uniform(20, 400)
    lows = [chance.uniform(-3 * period, 5 * period) for _ in range(chance.randint(1, 12))]
    return [(low, low + chance.uniform(0, bend) * period) for low in lows], period


@pytest.mark.parametrize("bend", [0.0, 0.05, 0.6])
def test_no_dense_search_finds_a_larger_gap(bend: float) -> None:
    """Never smaller than the best of 2000 starts round the circle, and free where it says so."""
    for seed in range(CASES):
        spans, period = crooked_case(seed, bend)
        found = largest_gap(spans, period)
        dense = max(uncovered(period * step / STEPS, spans, period) for step in range(STEPS))
        assert found.length >= dense - 1e-9
        assert found.length <= dense + period / STEPS + 1e-9
        if found.length > 1e-6:
            assert uncovered(found.start + 1e-9, spans, period) == pytest.approx(found.length, abs=1e-6)


def test_what_covers_the_whole_circle_leaves_no_gap() -> None:
    """One interval as long as the circle, or several that overlap, leave nothing to be won."""
    assert largest_gap([(3.0, 13.0)], 10.0).length == 0.0
    assert largest_gap([(0.0, 4.0), (3.5, 8.0), (7.9, 10.1)], 10.0).length == 0.0


def test_nothing_in_the_way_leaves_the_whole_circle() -> None:
    """Without a board the whole period is free."""
    assert largest_gap([], 63.0).length == 63.0

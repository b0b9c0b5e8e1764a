"""The fewest boards, parts of boards allowed, against another's solver (HiGHS, through scipy)."""

from random import Random

import numpy as np
import pytest
from scipy.optimize import linprog

from engine.cutting.cover_programme import CoverProgramme, Members


def drawn(seed: int) -> tuple[int, list[Members]]:
    random = Random(seed)
    count = 4 + seed
    sets = {tuple(sorted(random.sample(range(count), random.randint(1, 4)))) for _ in range(4 * count)}
    return count, [*sorted(one for one in sets if len(one) > 1), *((i,) for i in range(count))]


@pytest.mark.parametrize("seed", range(0, 60, 3))
def test_boards_and_prices_are_the_optimum(seed: int) -> None:
    """As many boards as HiGHS finds, and prices that come to as many at which no board is too dear."""
    count, sets = drawn(seed)
    holds = np.array([[i in one for one in sets] for i in range(count)], dtype=float)
    expected = linprog(np.ones(len(sets)), A_ub=-holds, b_ub=-np.ones(count), method="highs")
    programme = CoverProgramme(count)
    for part in (sets[: len(sets) // 2], sets[len(sets) // 2 :]):
        assert programme.add(part)
        programme.solve()
    assert not programme.add(sets)
    assert programme.boards == pytest.approx(expected.fun, abs=1e-2)
    assert sum(programme.prices) == pytest.approx(expected.fun, abs=1e-5)
    assert min(programme.prices) > -1e-6
    assert max(sum(programme.prices[i] for i in one) for one in sets) < 1 + 1e-6
    assert set(range(count)) == {i for one in programme.taken_sets() for i in one}
    assert set(programme.taken_sets()) <= set(sets)


def test_a_ring_of_five_takes_two_boards_and_a_half() -> None:
    programme = CoverProgramme(5)
    programme.add([(0, 1), (1, 2), (2, 3), (3, 4), (0, 4)])
    programme.solve()
    assert programme.boards == pytest.approx(2.5, abs=1e-3)
    assert programme.prices == pytest.approx([0.5] * 5)

"""The best small move of a climb against HiGHS's linear programme (Huangfu & Hall 2018, through SciPy)."""

from random import Random

import pytest
from scipy.optimize import linprog

from engine.setting_out.climb import ROUNDING, SHORT, Slope, climb

# What is left once the cuts are made, as a part of the steepest piece's gain over the whole reach.
LEFT = 1e-4


def _least(sizes: list[Slope], way: tuple[float, float]) -> float:
    return min(value + along * way[0] + across * way[1] for value, along, across in sizes)


@pytest.mark.parametrize("seed", range(60))
def test_no_allowed_move_leaves_a_larger_smallest_piece(seed: int) -> None:
    chance = Random(seed)

    def slope(low: float, high: float, steepest: float) -> Slope:
        return chance.uniform(low, high), *(chance.uniform(-steepest, steepest) for _ in range(2))

    sizes = [slope(50, 60, 3) for _ in range(chance.randint(3, 15))]
    short = [slope(-5, -2 * SHORT, 1) for _ in range(chance.randint(0, 5))]
    reach, across = chance.choice([10, 2.5, 0.6]), (-chance.uniform(0, 12), chance.uniform(0, 12))
    (x, y), worth = climb(sizes, short, reach, across)
    limits = [(-reach, reach), (max(across[0], -reach), min(across[1], reach))]
    for value, (low, high) in zip((x, y), limits, strict=True):
        assert low - 1e-9 <= value <= high + 1e-9
    assert all(value + a * x + b * y <= -SHORT for value, a, b in short)
    rows = [[1, -a, -b] for _, a, b in sizes] + [[0, a, b] for _, a, b in short]
    most = [value for value, _, _ in sizes] + [-SHORT - ROUNDING - value for value, _, _ in short]
    best = -linprog([-1, 0, 0], rows, most, bounds=[(None, None), *limits]).fun
    assert _least(sizes, (x, y)) >= best - LEFT * 6 * reach
    assert worth == pytest.approx(_least(sizes, (x, y)))


def test_no_move_where_none_is_better() -> None:
    """Two pieces of which one shrinks as the other grows, equal here."""
    found = climb([(50.0, 1.0, 0.0), (50.0, -1.0, 0.0)], [], 10.0, (-10.0, 10.0))
    assert found == ((0.0, 0.0), 50.0)

"""What the lower bound promises: nobody needs fewer boards than it says."""

from functools import lru_cache
from random import Random

import pytest

from engine.cutting.board_bounds import bin_packing_bound


def _fewest_bins(lengths: list[int], room: int) -> int:
    """The optimum for a handful of lengths, by trying every set for the first bin."""

    @lru_cache
    def bins(left: tuple[int, ...]) -> int:
        if not left:
            return 0
        first, rest = left[0], left[1:]
        best = len(left)
        for mask in range(1 << len(rest)):
            chosen = [n for i, n in enumerate(rest) if mask >> i & 1]
            if first + sum(chosen) <= room:
                best = min(best, 1 + bins(tuple(n for i, n in enumerate(rest) if not mask >> i & 1)))
        return best

    return bins(tuple(sorted(lengths, reverse=True)))


@pytest.mark.parametrize("seed", range(60))
def test_the_bound_is_never_above_what_can_be_reached(seed: int) -> None:
    random = Random(seed)
    lengths = [random.randint(5, 95) for _ in range(random.randint(1, 8))]
    bound, best = bin_packing_bound(lengths, 100), _fewest_bins(lengths, 100)
    assert -(-sum(lengths) // 100) <= bound <= best


def test_lengths_beyond_half_count_one_each() -> None:
    """Six of 51 never share, which their sum alone (306 of 100) does not tell."""
    assert bin_packing_bound([51] * 6, 100) == 6


def test_lengths_that_only_go_with_short_ones_are_seen() -> None:
    """Into a bin with 70 nothing of 35 goes: two bins for the 70s, two for the three 35s."""
    assert bin_packing_bound([70, 70, 35, 35, 35], 100) == 4

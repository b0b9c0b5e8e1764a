"""Pairs of pieces against another library's matching (Hopcroft & Karp in scipy's csgraph)."""

from random import Random

import numpy as np
import pytest
from scipy.sparse import csr_matrix
from scipy.sparse.csgraph import maximum_bipartite_matching

from engine.cutting.offcut_matching import most_pairs


def _graph(seed: int) -> tuple[list[list[int]], int]:
    random = Random(seed)
    firsts, seconds = random.randint(1, 40), random.randint(1, 40)
    share = random.choice([0.03, 0.08, 0.2, 0.6])
    return [[j for j in range(seconds) if random.random() < share] for _ in range(firsts)], seconds


@pytest.mark.parametrize("seed", range(200))
def test_there_are_as_many_pairs_as_another_library_finds(seed: int) -> None:
    """Each pair goes together, nobody is paired twice; also when greedy pairs are given to begin with."""
    fits, seconds = _graph(seed)
    matrix = np.zeros((len(fits), seconds))
    for i, goes in enumerate(fits):
        matrix[i, goes] = 1
    expected = int((maximum_bipartite_matching(csr_matrix(matrix)) >= 0).sum())
    begin: dict[int, int] = {}
    for i, goes in enumerate(fits):
        if goes and goes[-1] not in begin.values():
            begin[i] = goes[-1]
    for pairs in (most_pairs(fits), most_pairs(fits, begin)):
        assert all(j in fits[i] for i, j in pairs.items())
        assert len(set(pairs.values())) == len(pairs) == expected
    assert set(begin) <= set(most_pairs(fits, begin))


def test_a_long_chain_needs_no_deep_recursion() -> None:
    """First i goes with seconds i − 1 and i: all but one path is taken, and it leads through everyone."""
    count = 3000
    fits = [[i - 1, i] if i else [0] for i in range(count)]
    begin = {i: i - 1 for i in range(1, count)}
    assert most_pairs(fits, begin) == {i: i for i in range(count)}

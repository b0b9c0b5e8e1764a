"""Pieces of which no two can share: as many as every subset of small hands says, and never two that might."""

from itertools import combinations
from random import Random

import networkx
import pytest

from engine.cutting.alone_bound import most_alone


def drawn(seed: int, count: int, share: float) -> set[tuple[int, int]]:
    random = Random(seed)
    return {pair for pair in combinations(range(count), 2) if random.random() < share}


@pytest.mark.parametrize("seed", range(40))
def test_it_is_never_more_than_there_are_and_as_many_on_small_hands(seed: int) -> None:
    """Against the largest clique of the pairs that do not share (networkx, BSD)."""
    count = 4 + seed % 14
    pairs = drawn(seed, count, 0.2 + 0.015 * seed)
    apart = networkx.Graph()
    apart.add_nodes_from(range(count))
    apart.add_edges_from(pair for pair in combinations(range(count), 2) if pair not in pairs)
    _, least = networkx.max_weight_clique(apart, weight=None)
    assert most_alone(count, pairs, count) == least


def test_it_stops_at_what_is_enough() -> None:
    assert most_alone(9, set(), 5) == 5
    assert most_alone(0, set(), 0) == 0

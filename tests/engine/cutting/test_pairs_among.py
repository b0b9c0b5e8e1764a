"""Most pairs among pieces of one sort, against another library's matching (blossoms in networkx)."""

import networkx
import pytest

from engine.cutting.pairs_among import most_pairs_among


@pytest.mark.parametrize("seed", range(60))
def test_there_are_as_many_pairs_as_another_library_finds(seed: int) -> None:
    """Sparse graphs, in which odd rings decide, and dense ones."""
    count, share = 3 + seed % 38, (0.04, 0.08, 0.15, 0.4)[seed % 4]
    graph = networkx.gnp_random_graph(count, share, seed)
    expected = len(networkx.max_weight_matching(graph, maxcardinality=True))
    assert most_pairs_among([sorted(graph[node]) for node in range(count)]) == expected


def test_an_odd_ring_leaves_one_alone() -> None:
    """Two rings of five joined by one edge: five pairs; without it four."""
    ring = [[1, 4], [0, 2], [1, 3], [2, 4], [3, 0]]
    other = [[i + 5 for i in near] for near in ring]
    assert most_pairs_among([*ring, *other]) == 4
    assert most_pairs_among([[*ring[0], 5], *ring[1:], [*other[0], 0], *other[1:]]) == 5

"""Pairs of pieces, and the boards that come of them, against Hopcroft & Karp as networkx has it."""

from random import Random

import networkx
import pytest
import shapely
from networkx.algorithms.bipartite import hopcroft_karp_matching

from engine.cutting.board_filling import fill_boards
from engine.cutting.offcut_matching import most_pairs
from engine.cutting.offcut_shapes import Nesting, PieceShape, piece_shape
from engine.geometry.board import BoardSize
from engine.geometry.shapes import Ring

SIZE, KERF = BoardSize(600.0, 90.0), 2.4


def pairs_of_another_library(fits: list[list[int]]) -> int:
    """The number of pairs that networkx finds; ``fits[i]`` as in ``most_pairs``."""
    graph = networkx.Graph()
    firsts = [("first", i) for i in range(len(fits))]
    graph.add_nodes_from(firsts)
    graph.add_edges_from((("first", i), ("second", j)) for i, goes in enumerate(fits) for j in goes)
    return len(hopcroft_karp_matching(graph, firsts)) // 2


def _graph(seed: int) -> list[list[int]]:
    random = Random(seed)
    firsts, seconds = random.randint(1, 40), random.randint(1, 40)
    share = random.choice([0.03, 0.08, 0.2, 0.6])
    return [[j for j in range(seconds) if random.random() < share] for _ in range(firsts)]


@pytest.mark.parametrize("seed", range(200))
def test_there_are_as_many_pairs_as_another_library_finds(seed: int) -> None:
    """Each pair goes together, nobody is paired twice; also when greedy pairs are given to begin with."""
    fits = _graph(seed)
    expected = pairs_of_another_library(fits)
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


def _ends(random: Random, count: int) -> list[PieceShape]:
    """Invented pieces that keep one end each, their other end mitred up to 60°."""
    shapes = []
    for n in range(count):
        right, lean = random.uniform(170, 430), random.uniform(-150, 150)
        ring: Ring = ((0.0, 0.0), (right, 0.0), (right + lean, 90.0), (0.0, 90.0))
        if random.random() < 0.5:
            ring = tuple((600 - x, 90 - y) for x, y in ring)
        shapes.append(piece_shape(f"{n}", (ring,), SIZE))
    return shapes


@pytest.mark.parametrize("seed", range(40))
def test_pieces_that_keep_one_end_take_no_board_more_than_need_be(seed: int) -> None:
    """A start and a far piece go together when their shapes are a kerf apart, after shapely."""
    random = Random(seed)
    shapes = _ends(random, random.randint(2, 45))
    starts, fars = [s for s in shapes if s.starts], [s for s in shapes if s.fars]
    rings = {shape.name: shapely.Polygon(shape.hull) for shape in shapes}
    fits = [
        [j for j, far in enumerate(fars) if rings[start.name].distance(rings[far.name]) >= KERF - 1e-6]
        for start in starts
    ]
    boards, bound = fill_boards(shapes, Nesting(SIZE, KERF))
    assert len(boards) == bound == len(shapes) - pairs_of_another_library(fits)

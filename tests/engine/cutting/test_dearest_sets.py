"""The dearest set of pieces on one board, against every set of small hands."""

from itertools import combinations
from random import Random

import pytest

from engine.cutting.dearest_sets import DearestSets
from engine.cutting.offcut_shapes import Nesting, PieceShape, piece_shape
from engine.cutting.sharing import can_share
from engine.geometry.board import BoardSize

SIZE = BoardSize(600.0, 90.0)


def hand_of(seed: int) -> list[PieceShape]:
    """Mitred pieces that keep the start, the far end or neither, some of them ripped."""
    random = Random(seed)
    shapes = []
    for n in range(10):
        length, lean = random.uniform(40, 300), random.uniform(-30, 60)
        low, high = random.choice([(0.0, 90.0), (0.0, 90.0), (0.0, 40.0), (45.0, 90.0)])
        ring = [(0.0, low), (length, low), (length + lean, high), (0.0, high)]
        kind = random.choice(["start", "far", "neither"])
        if kind == "far":
            ring = [(600 - x, y) for x, y in reversed(ring)]
        if kind == "neither":
            ring = [(x + 60, y) for x, y in ring]
        shapes.append(piece_shape(f"p{n}", (tuple(ring),), SIZE))
    return shapes


@pytest.mark.parametrize("seed", range(30))
def test_no_set_that_can_share_is_dearer_and_one_is_as_dear(seed: int) -> None:
    random, shapes, nesting = Random(seed), hand_of(seed), Nesting(SIZE, 2.4)
    sets = DearestSets(shapes, nesting)
    every = [
        members
        for count in range(1, 8)
        for members in combinations(range(len(shapes)), count)
        if can_share([shapes[i] for i in members], nesting)
    ]
    for _ in range(5):
        prices = [random.choice([0, random.randint(0, 60)]) for _ in shapes]
        expected = max(sum(prices[i] for i in members) for members in every)
        found = sets.above(0, prices)
        assert found is not None
        assert found.price == expected
        assert max([*prices, *(sum(prices[i] for i in one) for one in found.sets)]) == expected
        assert set(found.sets) <= set(every)
        limited = sets.above(40, prices)
        assert limited is not None
        assert limited.price == max(40, expected)
        assert all(sum(prices[i] for i in one) > 40 for one in limited.sets)


def test_it_says_when_it_has_looked_at_enough() -> None:
    sets = DearestSets(hand_of(1), Nesting(SIZE, 2.4))
    sets.left = 3
    assert sets.above(0, [5] * 10) is None

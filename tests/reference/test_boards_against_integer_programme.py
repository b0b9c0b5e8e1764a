"""Boards and their bound against an integer programme over all sets of pieces that can share a board.

The programme is solved by another's solver (HiGHS, through scipy): the fewest sets that hold every piece,
and its proof that there are no fewer. The sets are those that the engine can cut from one board.
"""

from random import Random

import numpy as np
import pytest
from scipy.optimize import Bounds, LinearConstraint, milp
from scipy.sparse import csc_matrix

from engine.cutting.board_filling import fill_boards
from engine.cutting.board_sets import board_sets
from engine.cutting.filled_board import alone, with_piece
from engine.cutting.offcut_shapes import Nesting, PieceShape, piece_shape
from engine.cutting.parting import part
from engine.cutting.price_bound import priced
from engine.geometry.board import BoardSize
from engine.geometry.shapes import Ring
from engine.planning.hand_boards import HandBoards
from engine.planning.hand_search import Found, HandSearch, Solved
from engine.slices import to_the_end
from tests.engine.planning.solved_programmes import solved
from tests.reference.test_boards_against_linear_programme import KERF, floor_of

SIZE = BoardSize(600.0, 90.0)


def sets_of(shapes: list[PieceShape], nesting: Nesting) -> list[frozenset[int]]:
    """Every set of pieces that the engine can put on one board, larger ones instead of their parts."""
    order = sorted(range(len(shapes)), key=lambda i: (not shapes[i].is_fixed, shapes[i].name))
    found: set[frozenset[int]] = set()
    stack = [(alone(shapes[i], nesting), (n,)) for n, i in enumerate(order)]
    while stack:
        board, places = stack.pop()
        found.add(frozenset(order[n] for n in places))
        for n in range(places[-1] + 1, len(order)):
            more = with_piece(board, shapes[order[n]], nesting)
            if more:
                stack.append((more, (*places, n)))
    parts = {one - {i} for one in found for i in one}
    return [one for one in found if one not in parts]


def fewest_sets(sets: list[frozenset[int]], count: int) -> int:
    """The programme's proven optimum."""
    rows = [i for one in sets for i in one]
    columns = [n for n, one in enumerate(sets) for _ in one]
    holds = csc_matrix((np.ones(len(rows)), (rows, columns)), shape=(count, len(sets)))
    solved = milp(
        np.ones(len(sets)),
        constraints=LinearConstraint(holds, 1, np.inf),
        integrality=np.ones(len(sets)),
        bounds=Bounds(0, 1),
    )
    assert solved.success
    assert solved.fun == pytest.approx(solved.mip_dual_bound)
    return round(solved.fun)


def searched(shapes: list[PieceShape], nesting: Nesting) -> tuple[Found, bool]:
    """What the engine's own programmes come to by the same solver, and whether all sets were listed."""
    boards, bound = fill_boards(shapes, nesting)
    hand = HandBoards(
        hand="R", size=nesting.size, whole=(), cut=(), shapes=tuple(shapes), nesting=nesting,
        begun=(), shared=boards, least=bound, uses_offcuts=True,
    )  # fmt: skip
    sets = to_the_end(board_sets(shapes, (), nesting))
    assert sets
    search = HandSearch(hand, (), sets)
    while search.programme:
        search.go_on(Solved(**solved(search.programme.text)))
    return search.found, sets.are_all


def hand_of(seed: int) -> list[PieceShape]:
    """Invented pieces of one hand: some keep the start, some the far end, some neither, some are ripped."""
    random = Random(seed)
    shapes = []
    for n in range(random.randint(6, 16)):
        length, lean = random.uniform(60, 420), random.uniform(-70, 70)
        low, high = random.choice([(0.0, 90.0)] * 4 + [(0.0, 40.0), (45.0, 90.0)])
        ring: Ring = ((0.0, low), (length, low), (max(20.0, length + lean), high), (0.0, high))
        kind = random.choice(["start", "far", "far", "start", "neither"])
        if kind == "far":
            ring = tuple((600 - x, y) for x, y in reversed(ring))
        if kind == "neither":
            ring = tuple((x + 60, y) for x, y in ring)
        shapes.append(piece_shape(f"p{n:02}", (ring,), SIZE))
    return shapes


# Hands with very many sets, which take the programme's side seconds to list.
MANY_SETS = (25, 29, 39)
SMALL_HANDS = [pytest.param(n, marks=pytest.mark.long if n in MANY_SETS else ()) for n in range(40)]


@pytest.mark.parametrize("seed", SMALL_HANDS)
def test_on_small_hands_the_search_ends_at_the_fewest_boards_there_are(seed: int) -> None:
    """Never fewer than the programme proves, and as few; no bound is above it."""
    shapes = hand_of(seed)
    nesting = Nesting(SIZE, KERF)
    least = fewest_sets(sets_of(shapes, nesting), len(shapes))
    boards, bound = fill_boards(shapes, nesting)
    assert bound <= least <= len(boards)
    assert priced(shapes, nesting, [alone(shape, nesting) for shape in shapes], 0).least <= least
    found, are_all = searched(shapes, nesting)
    better = found.boards
    assert len(better) <= least
    assert not are_all or found.least == len(better) == least
    assert sorted(p.shape.name for b in better for p in b.pieces) == sorted(s.name for s in shapes)
    assert all(part(board.pieces, KERF) for board in better)


HANDS = [
    pytest.param(seed, hand, marks=() if seed == 23 else pytest.mark.long)
    for seed, hand in ((7, "R"), (19, "L"), (20, "R"), (23, "R"), (25, "R"), (27, "R"))
]


@pytest.mark.parametrize(("seed", "hand"), HANDS)
def test_hands_that_were_in_doubt_end_at_the_programmes_optimum(seed: int, hand: str) -> None:
    """Of the 30 seeded floors these hands were a board above the quick bounds: each is settled now."""
    cut = [p for p in floor_of(seed).pieces if p.board.hand == hand and p.sawn.kind != "whole"]
    size = cut[0].board.size
    shapes = [piece_shape(piece.id, piece.sawn.outline, size) for piece in cut]
    nesting = Nesting(size, KERF)
    found, _ = searched(shapes, nesting)
    assert found.least == len(found.boards) == fewest_sets(sets_of(shapes, nesting), len(shapes))

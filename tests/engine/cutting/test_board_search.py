"""The longer search: every piece once, nobody moved who is to stay, the same result every time."""

from random import Random

import pytest

from engine.cutting.board_filling import fill_boards
from engine.cutting.board_search import searched
from engine.cutting.chance import Chance
from engine.cutting.filled_board import Board, alone
from engine.cutting.offcut_shapes import Nesting, PieceShape, piece_shape
from engine.cutting.parting import part
from engine.geometry.board import BoardSize

SIZE, KERF = BoardSize(600.0, 90.0), 2.4


def _pieces(seed: int) -> list[PieceShape]:
    random, shapes = Random(seed), []
    for n in range(30):
        length, at = random.uniform(60, 350), random.choice([0.0, 40.0, None])
        begin = 600 - length if at is None else at
        ring = ((begin, 0.0), (begin + length, 0.0), (begin + length, 90.0), (begin, 90.0))
        shapes.append(piece_shape(f"p{n:02}", (ring,), SIZE))
    return shapes


def _names(boards: tuple[Board, ...]) -> list[tuple[str, ...]]:
    return [tuple(placed.shape.name for placed in board.pieces) for board in boards]


@pytest.mark.parametrize("seed", range(12))
def test_a_slice_keeps_every_piece_and_takes_no_more_boards(seed: int) -> None:
    """Begun with a board for each piece, so that there is much to do; boards can be parted by the saw."""
    shapes, nesting = _pieces(seed), Nesting(SIZE, KERF)
    before = tuple(alone(shape, nesting) for shape in shapes)
    after = searched(before, nesting, 0, frozenset(), seed)
    assert len(after) < len(before)
    assert sorted(name for names in _names(after) for name in names) == [s.name for s in shapes]
    assert all(part(board.pieces, KERF) for board in after)
    assert _names(after) == _names(searched(before, Nesting(SIZE, KERF), 0, frozenset(), seed))


def test_boards_with_pieces_that_stay_are_left_as_they_are() -> None:
    shapes, nesting = _pieces(3), Nesting(SIZE, KERF)
    boards, _ = fill_boards(shapes, nesting)
    stay = {board.pieces[0].shape.name for board in boards[::2]}
    after = searched(boards, nesting, 0, stay, 1)
    assert set(_names(boards[::2])) <= set(_names(after))


def test_a_search_that_has_met_the_bound_moves_nothing() -> None:
    shapes, nesting = _pieces(5), Nesting(SIZE, KERF)
    boards, _ = fill_boards(shapes, nesting)
    assert searched(boards, nesting, len(boards), frozenset(), 7) == boards


def test_sets_that_were_found_are_followed_as_far_as_they_hold() -> None:
    """Given back, they make the same boards; with a piece that has grown the others still share theirs."""
    shapes, nesting = _pieces(8), Nesting(SIZE, KERF)
    start = tuple(alone(shape, nesting) for shape in shapes)
    found = start
    for number in range(6):
        found = searched(found, nesting, 0, frozenset(), number)
    own, _ = fill_boards(shapes, nesting)
    if len(found) <= len(own):
        again, _ = fill_boards(shapes, nesting, together=_names(found))
        assert {frozenset(names) for names in _names(again)} == {frozenset(names) for names in _names(found)}
    grown = [
        piece_shape(s.name, (((0.0, 0.0), (599.0, 0.0), (599.0, 90.0), (0.0, 90.0)),), SIZE) if i == 4 else s
        for i, s in enumerate(shapes)
    ]
    other, _ = fill_boards(grown, Nesting(SIZE, KERF), together=[*_names(found), ("gone", "p00")])
    assert sorted(name for names in _names(other) for name in names) == [s.name for s in shapes]
    assert all(len(board.pieces) == 1 or part(board.pieces, KERF) for board in other)


def test_the_drawn_numbers_are_whole_and_the_same_everywhere() -> None:
    """Written down once from this generator: another machine must draw them too."""
    chance = Chance(1)
    drawn = [chance.below(1000) for _ in range(6)]
    again = Chance(1)
    assert [again.below(1000) for _ in range(6)] == drawn
    assert sorted(Chance(2).mixed(range(20))) == list(range(20))
    counts = [0] * 10
    for _ in range(10_000):
        counts[chance.below(10)] += 1
    assert min(counts) > 850
    assert max(counts) < 1150

"""Straight rows moved against each other: as far as said, or at random within what is allowed."""

import subprocess
import sys
from itertools import pairwise

import pytest
from hypothesis import given
from hypothesis import strategies as st

from engine.model.job import Board, Floor, Stagger
from engine.patterns import find_pattern
from engine.patterns.lattice import boards_over
from engine.patterns.stagger import row_shift
from tests.engine.patterns.floors import turned_box

LENGTH, WIDTH = 1830.0, 121.5
ROWS = range(-1500, 1500)


def floor_with(pattern: str = "straight", axis: float = 0.0, **stagger: float) -> Floor:
    board = Board(length=LENGTH, width=WIDTH)
    return Floor(
        pattern=pattern,
        board=board,
        axis=axis,
        anchor=(0.0, 0.0),
        stagger=Stagger(**stagger),  # type: ignore[arg-type]
    )


def apart(first: float, second: float) -> float:
    """Distance in mm of the end joints of two rows moved on by these parts of a board."""
    rest = abs(first - second) * LENGTH % LENGTH
    return min(rest, LENGTH - rest)


@given(seed=st.integers(-(10**6), 10**6), least=st.floats(0, LENGTH / 2))
def test_a_random_looking_stagger_keeps_the_least_one_between_all_rows(seed: int, least: float) -> None:
    """Far beyond any room to either side of the anchor, and where the table of moves turns back."""
    shift = row_shift(floor_with(seed=seed, least=least))
    moves = [shift(row) for row in ROWS]
    assert all(0 <= move < 1 for move in moves)
    assert min(apart(first, second) for first, second in pairwise(moves)) >= least - 1e-6


def test_without_a_least_one_a_quarter_of_the_board_is_kept_and_the_board_at_the_anchor_stays() -> None:
    shift = row_shift(floor_with(seed=7))
    assert min(apart(shift(row), shift(row + 1)) for row in ROWS) >= LENGTH / 4 - 1e-6
    assert shift(0) == 0


def test_it_looks_random() -> None:
    """Over 400 rows: each tenth of the board begins 20 to 60 of them; joints two rows apart seldom align."""
    shift = row_shift(floor_with(seed=3, least=300))
    moves = [shift(row) for row in range(-200, 200)]
    tenths = [sum(tenth <= move * 10 < tenth + 1 for move in moves) for tenth in range(10)]
    assert min(tenths) >= 20
    assert max(tenths) <= 60
    assert sum(apart(first, second) < 50 for first, second in zip(moves, moves[2:], strict=False)) < 8
    assert len({round(move * LENGTH) for move in moves}) > 300


def test_one_seed_gives_one_stagger_and_another_gives_another() -> None:
    """In this process and in a fresh one that hashes differently."""
    ask = (
        "from tests.engine.patterns.test_stagger import floor_with, row_shift;"
        "shift = row_shift(floor_with(seed=11)); print([shift(row) for row in range(-40, 40)])"
    )
    here = [row_shift(floor_with(seed=11))(row) for row in range(-40, 40)]
    environment = {"PYTHONPATH": ":".join(sys.path), "PYTHONHASHSEED": "4"}
    told = subprocess.run(
        [sys.executable, "-c", ask], env=environment, capture_output=True, text=True, check=True
    )
    assert told.stdout.strip() == repr(here)
    assert here != [row_shift(floor_with(seed=12))(row) for row in range(-40, 40)]


@pytest.mark.parametrize(
    ("stagger", "by"), [({"by": 431.7}, 431.7), ({"by": -200.0}, -200.0), ({}, LENGTH / 3)]
)
def test_a_fixed_stagger_moves_each_row_on_by_as_much(stagger: dict[str, float], by: float) -> None:
    """The start ends of row r lie at r·by, up to whole boards; rows to the right of the axis count up."""
    boards = list(boards_over(find_pattern("straight"), floor_with(**stagger), turned_box(0, (0, 0), 2500)))
    assert len({board.row for board in boards}) > 30
    for board in boards:
        x, y = board.ring[0]
        assert y == pytest.approx(-board.row * WIDTH)
        whole = (x - board.row * by) / LENGTH
        assert whole == pytest.approx(round(whole), abs=1e-9)


def test_a_third_of_a_board_comes_back_to_the_same_joint_and_the_same_number() -> None:
    """Every third row has its joints in line with the anchor's, in spite of thirds that are no decimals."""
    shift = row_shift(floor_with())
    assert {shift(row) for row in range(-300, 301, 3)} == {0.0}


def test_diagonal_rows_are_straight_rows_turned_by_45_degrees_to_the_left() -> None:
    """Board by board, with a random-looking stagger."""
    straight = boards_over(
        find_pattern("straight"), floor_with(axis=65.0, seed=5), turned_box(0, (0, 0), 1500)
    )
    turned = boards_over(
        find_pattern("diagonal"), floor_with("diagonal", axis=20.0, seed=5), turned_box(0, (0, 0), 1500)
    )
    assert [board.ring for board in straight] == [board.ring for board in turned]

"""Every piece on a board once, none in another's way, few boards."""

from itertools import permutations
from random import Random

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.cutting.board_filling import fill_boards
from engine.cutting.filled_board import Board
from engine.cutting.offcut_shapes import Nesting, PieceShape, piece_shape
from engine.cutting.parting import offcuts, part
from engine.geometry.board import BoardSize
from engine.geometry.shapes import Point, Ring

LENGTH, WIDTH, KERF = 600.0, 90.0, 2.4
SIZE = BoardSize(LENGTH, WIDTH)


def shape(name: str, *ring: Point, size: BoardSize = SIZE) -> PieceShape:
    return piece_shape(name, (ring,), size)


def start_piece(name: str, right: float, left: float) -> PieceShape:
    """Keeps the start end; ``right`` and ``left`` long edge."""
    return shape(name, (0, 0), (right, 0), (left, WIDTH), (0, WIDTH))


def far_piece(name: str, right: float, left: float) -> PieceShape:
    return shape(name, (LENGTH - right, 0), (LENGTH, 0), (LENGTH, WIDTH), (LENGTH - left, WIDTH))


def middle_piece(name: str, length: float, slant: float = 0.0) -> PieceShape:
    return shape(name, (200, 0), (200 + length, 0), (200 + length + slant, WIDTH), (200 + slant, WIDTH))


def fill(*shapes: PieceShape, spacing: float = KERF, size: BoardSize = SIZE) -> tuple[list[set[str]], int]:
    boards, bound = fill_boards(shapes, Nesting(size, spacing))
    return sorted(({p.shape.name for p in board.pieces} for board in boards), key=sorted), bound


def test_a_start_and_a_far_piece_share_a_board_when_the_kerf_is_left() -> None:
    assert fill(start_piece("a", 300, 300), far_piece("b", 297.6, 297.6)) == ([{"a", "b"}], 1)
    assert fill(start_piece("a", 300, 300), far_piece("b", 297.7, 297.7)) == ([{"a"}, {"b"}], 2)


def test_mitred_ends_nest() -> None:
    """Their long points, 345 + 342, are more than the board; 2.4 mm of kerf take 2.4·√2 along it."""
    assert fill(start_piece("a", 345, 255), far_piece("b", 251.6, 341.6))[0] == [{"a", "b"}]
    assert fill(start_piece("a", 345, 255), far_piece("b", 251.7, 341.7))[0] == [{"a"}, {"b"}]


def test_two_pieces_that_keep_one_end_never_share_unless_they_are_ripped() -> None:
    assert fill(start_piece("a", 100, 100), start_piece("b", 100, 100)) == ([{"a"}, {"b"}], 2)
    lower = shape("low", (0, 0), (LENGTH, 0), (LENGTH, 40), (0, 40))
    upper = shape("up", (0, 42.4), (LENGTH, 42.4), (LENGTH, WIDTH), (0, WIDTH))
    wide = shape("wide", (0, 42.3), (LENGTH, 42.3), (LENGTH, WIDTH), (0, WIDTH))
    assert fill(lower, upper) == ([{"low", "up"}], 1)
    assert fill(lower, wide) == ([{"low"}, {"wide"}], 2)
    assert fill(lower, shape("low too", (0, 0), (LENGTH, 0), (LENGTH, 30), (0, 30)))[1] == 2


def test_a_piece_that_keeps_no_end_fills_what_two_others_leave() -> None:
    """200 + 190 + 205.2 and two kerfs are the board; one tenth more is not."""
    ends = start_piece("a", 200, 200), far_piece("b", 190, 190)
    assert fill(*ends, middle_piece("m", 205.2)) == ([{"a", "b", "m"}], 1)
    assert fill(*ends, middle_piece("m", 205.3)) == ([{"a", "b"}, {"m"}], 2)


def test_a_chevron_s_pieces_nest_along_their_leaning_ends() -> None:
    size = BoardSize(LENGTH, WIDTH, lean=90.0)
    first = shape("a", (0, 0), (300, 0), (390, 90), (90, 90), size=size)
    second = shape("b", (303.5, 0), (600, 0), (690, 90), (393.5, 90), size=size)
    assert fill(first, second, size=size) == ([{"a", "b"}], 1)


def test_no_boards_for_no_pieces() -> None:
    assert fill() == ([], 0)


def _fewest(starts: list[PieceShape], fars: list[PieceShape]) -> int:
    """The optimum by trying every way of pairing, each pair held against shapely's distance."""
    few, many = sorted([starts, fars], key=len)
    apart = {
        (a.name, b.name): shapely.Polygon(a.hull).distance(shapely.Polygon(b.hull)) >= KERF - 1e-6
        for a in few
        for b in many
    }
    most = max(
        sum(apart[a.name, b.name] for a, b in zip(few, chosen, strict=True))
        for chosen in permutations(many, len(few))
    )
    return len(few) + len(many) - most


@pytest.mark.parametrize("seed", range(80))
def test_two_ended_pieces_take_the_fewest_boards_there_are(seed: int) -> None:
    """Mitred at random, against every way of pairing."""
    random = Random(seed)

    def lengths() -> tuple[float, float]:
        right = random.uniform(120, 480)
        return right, right + random.choice([0, -90, 90, random.uniform(-80, 80)])

    starts = [start_piece(f"s{i}", *lengths()) for i in range(random.randint(1, 5))]
    fars = [far_piece(f"f{i}", *lengths()) for i in range(random.randint(1, 6))]
    boards, bound = fill(*starts, *fars)
    assert len(boards) == bound == _fewest(starts, fars)


def _cut_piece(name: str, random: Random) -> PieceShape:
    """A convex piece of a board: up to three straight cuts anywhere."""
    size = BoardSize(LENGTH, WIDTH)
    while True:
        part_of = shapely.Polygon(size.ring)
        for _ in range(random.randint(1, 3)):
            x, slope = random.uniform(-60, LENGTH + 60), random.choice([0, 1, -1, random.uniform(-3, 3)])
            side = random.choice([-2000, 2000])
            line = [(x - 50 * slope, -50), (x + 140 * slope, 140)]
            part_of = part_of.intersection(shapely.Polygon([*line, (line[1][0] + side, 140), (side, -50)]))
        if random.random() < 0.15:
            height = random.uniform(20, 70)
            half = shapely.box(0, 0, LENGTH, height) if random.random() < 0.5 else None
            part_of = part_of.intersection(half or shapely.box(0, height, LENGTH, WIDTH))
        if part_of.geom_type == "Polygon" and part_of.area > 200:
            ring = shapely.geometry.polygon.orient(part_of).exterior.coords[:-1]
            return piece_shape(name, (tuple((float(x), float(y)) for x, y in ring),), size)


@settings(max_examples=60, deadline=None)
@given(seed=st.integers(0, 10**9), count=st.integers(1, 40), spacing=st.sampled_from([0.0, 2.4, 8.0]))
def test_any_pieces_are_each_placed_once_and_can_be_cut_apart(seed: int, count: int, spacing: float) -> None:
    """None is used twice, none reaches beyond its board or nearer than the spacing, each keeps its edges."""
    random = Random(seed)
    shapes = [_cut_piece(f"p{i}", random) for i in range(count)]
    boards, bound = fill_boards(shapes, Nesting(SIZE, spacing))
    assert sorted(p.shape.name for b in boards for p in b.pieces) == sorted(s.name for s in shapes)
    assert bound <= len(boards) <= count
    for board in boards:
        _check(board, spacing)


@settings(max_examples=30, deadline=None)
@given(seed=st.integers(0, 10**9), spacing=st.sampled_from([0.0, 2.4, 8.0]))
def test_pieces_that_keep_no_end_are_cut_one_after_the_other(seed: int, spacing: float) -> None:
    random = Random(seed)
    slants = [0.0, 0.0, 45.0, -90.0, random.uniform(-90, 90)]
    shapes = [
        middle_piece(f"m{i}", random.choice([95, 130, 180, 210]), random.choice(slants)) for i in range(30)
    ]
    boards, bound = fill_boards(shapes, Nesting(SIZE, spacing))
    assert sorted(p.shape.name for b in boards for p in b.pieces) == sorted(s.name for s in shapes)
    assert bound <= len(boards)
    for board in boards:
        _check(board, spacing)


def _check(board: Board, spacing: float) -> None:
    hulls = [shapely.Polygon(p.hull) for p in board.pieces]
    rim = shapely.box(0, 0, LENGTH, WIDTH)
    for i, placed in enumerate(board.pieces):
        assert rim.buffer(1e-4).covers(hulls[i])
        assert not placed.shape.is_fixed or placed.way == 0
        assert all(hulls[i].distance(other) >= spacing - 1e-4 for other in hulls[:i])
        assert all(hulls[i].intersection(other).area < 0.1 for other in hulls[:i])
    blank = part(board.pieces, spacing)
    assert blank is not None
    _check_offcuts(list(offcuts(blank, SIZE.ring, spacing, 0.0)), hulls)


def _check_offcuts(left: list[Ring], hulls: list[shapely.Polygon]) -> None:
    """What is left overlaps neither a piece nor another offcut."""
    rings = [shapely.Polygon(ring) for ring in left]
    assert all(ring.is_valid for ring in rings)
    everything = [*hulls, *rings]
    assert shapely.union_all(everything, grid_size=1e-4).area > sum(s.area for s in everything) - 1.0
    assert sum(s.area for s in everything) <= LENGTH * WIDTH + 0.1


def test_offcuts_are_what_the_saw_leaves() -> None:
    """A start piece of 200 and a far one of 250: 150 less two kerfs is left, the whole width."""
    boards, _ = fill_boards([start_piece("a", 200, 200), far_piece("b", 250, 250)], Nesting(SIZE, KERF))
    (board,) = boards
    blank = part(board.pieces, KERF)
    assert blank is not None
    (ring,) = offcuts(blank, SIZE.ring, KERF, 0.0)
    assert sorted(x for x, _ in ring) == pytest.approx([202.4, 202.4, 347.6, 347.6])
    (ring,) = offcuts(blank, SIZE.ring, KERF, 5.0)
    assert sorted(x for x, _ in ring) == pytest.approx([207.4, 207.4, 342.6, 342.6])

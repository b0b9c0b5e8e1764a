"""Whether pieces find room along a board, against places on a fine grid, and the sets that come of it."""

from itertools import combinations, product
from random import Random

import pytest
import shapely

from engine.cutting.board_programme import Programme
from engine.cutting.board_sets import board_sets
from engine.cutting.offcut_shapes import Nesting, PieceShape, piece_shape
from engine.cutting.parting import Placed
from engine.cutting.room_along import have_room
from engine.geometry.board import BoardSize
from engine.slices import to_the_end

SIZE, SPACING, STEP = BoardSize(300.0, 60.0), 3.0, 8.0


def _pieces(seed: int, count: int) -> list[PieceShape]:
    """Triangles and mitred pieces that keep an end, or none."""
    random, shapes = Random(seed), []
    for n in range(count):
        length, lean = random.uniform(40, 130), random.choice([0, random.uniform(-60, 60)])
        at = random.choice([0.0, 70.0, 70.0])
        ring = ((at, 0.0), (at + length, 0.0), (at + max(length + lean, 3.0), 60.0), (at, 60.0))
        shapes.append(piece_shape(f"p{n}", (ring,), SIZE))
    return shapes


def _grid(shapes: list[PieceShape]) -> bool:
    """Is there a place for all, apart by the spacing after shapely, among those of a grid?"""
    ways = []
    for shape in shapes:
        least, most = shape.slide
        ways.append([least + k * STEP for k in range(int((most - least) / STEP) + 1)])
    return any(
        all(
            shapely.Polygon([(x + a, y) for x, y in one.hull]).distance(
                shapely.Polygon([(x + b, y) for x, y in other.hull])
            )
            >= SPACING * 1.5
            for (one, a), (other, b) in combinations(zip(shapes, place, strict=True), 2)
        )
        for place in product(*ways)
    )


@pytest.mark.parametrize("seed", range(12))
def test_no_pieces_are_said_to_have_no_room_that_have(seed: int) -> None:
    """A bound would be too high if a set were ruled out that can be cut."""
    shapes, nesting = _pieces(seed, 3), Nesting(SIZE, SPACING)
    fixed = [Placed(shape, 0.0) for shape in shapes if shape.is_fixed][:1]
    loose = [shape for shape in shapes if not shape.is_fixed]
    if _grid([each.shape for each in fixed] + loose):
        assert have_room(fixed, loose, nesting)


def test_some_find_room_and_some_do_not() -> None:
    """The same pieces a little longer: 300 mm hold 96 and 96 and 102 with two cuts of 3 mm, no more."""
    nesting = Nesting(SIZE, SPACING)
    for last, fits in ((102.0, True), (102.1, False)):
        lengths = (96.0, 96.0, last)
        rings = [((5, 0), (5 + n, 0), (5 + n, 60), (5, 60)) for n in lengths]
        shapes = [piece_shape(f"p{i}", (ring,), SIZE) for i, ring in enumerate(rings)]
        assert have_room([], shapes, nesting) is fits


def test_too_many_sets_are_told_and_the_small_ones_listed() -> None:
    shapes, nesting = _pieces(3, 12), Nesting(SIZE, SPACING)
    every = to_the_end(board_sets(shapes, (), nesting))
    few = to_the_end(board_sets(shapes, (), nesting, most=30))
    assert every
    assert few
    assert every.are_all
    assert not few.are_all
    assert {i for one in few.largest for i in one} == set(range(12))


def test_a_set_that_cannot_be_cut_is_taken_out_and_its_parts_stay() -> None:
    programme = Programme(rows=(0, 1, 2, 3), columns=((0, 1, 2), (1, 3), (2, 3)))
    assert programme.without((0, 1)).columns == ((1, 3), (2, 3), (0, 2), (1, 2))
    assert programme.covers((0, 1))
    assert not programme.covers((1, 2))
    assert not programme.covers((0, 3))

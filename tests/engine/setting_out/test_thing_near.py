"""A convex thing near an edge: its ring from the rim, and what it takes of a board, against shapely."""

from math import cos, pi, sin
from random import Random

import pytest
from shapely.affinity import translate
from shapely.geometry import Polygon

from engine.geometry.board import BoardSize
from engine.geometry.frame import Frame
from engine.setting_out.piece_left import size_left
from engine.setting_out.rim import Stretch
from engine.setting_out.thing_near import MOST_CORNERS, thing_in, thing_ring

SIZE = BoardSize(600.0, 90.0)
ROOM = Frame(0.0, 0.0, 0.0)
ISLAND = ((100.0, 20.0), (400.0, 40.0), (380.0, 260.0), (90.0, 250.0))


def round_stretch(corners: int, radius: float) -> Stretch:
    """The rim round a pipe, the floor on its left: clockwise."""
    turns = [2 * pi * corner / corners for corner in range(corners)]
    return Stretch("pipe", tuple((radius * cos(turn), -radius * sin(turn)) for turn in turns), 1.0, 1.0)


def test_a_round_thing_is_known_from_inside_by_a_few_corners() -> None:
    """Counter-clockwise, within the circle, and most of it: n/2·sin(2π/n) of π for n corners."""
    ring = thing_ring(round_stretch(160, 61.0))
    assert ring is not None
    assert len(ring) <= MOST_CORNERS
    known = Polygon(ring)
    assert known.exterior.is_ccw
    assert known.area == pytest.approx(MOST_CORNERS / 2 * sin(2 * pi / MOST_CORNERS) * 61**2, rel=1e-6)


def test_a_thing_that_is_not_convex_is_not_known() -> None:
    """An L clockwise turns left once, at its inner corner."""
    ell = ((0.0, 0.0), (0.0, 300.0), (100.0, 300.0), (100.0, 100.0), (300.0, 100.0), (300.0, 0.0))
    assert thing_ring(Stretch("ell", ell, 1.0, 1.0)) is None


@pytest.mark.parametrize("seed", range(20))
def test_what_is_left_beside_a_thing_is_what_shapely_leaves(seed: int) -> None:
    """Area above an edge and outside an island, for boards at random; half of them miss it or the edge."""
    chance = Random(seed)
    board = Frame(chance.uniform(-300, 400), chance.uniform(-200, 200), chance.uniform(0, 360))
    ring = board.ring_to_room(SIZE.ring)
    stations, across = [x for x, _ in ring], [y for _, y in ring]
    depths = thing_in(ISLAND, ROOM).depths(stations, across, 0.0, 0.0)
    taken = [] if depths is None else [depths]
    floor = Polygon([(-2000, 0), (2000, 0), (2000, 2000), (-2000, 2000)]).difference(Polygon(ISLAND))
    left = size_left(across, [], SIZE, "area", taken)
    assert left == pytest.approx(Polygon(ring).intersection(floor).area, abs=1e-6)


@pytest.mark.parametrize("seed", range(20))
def test_whatever_the_move_a_thing_takes_as_much_as_it_surely_does(seed: int) -> None:
    """The thing made smaller takes no more of the board than the whole one does after any move as far."""
    chance = Random(seed)
    board = Frame(chance.uniform(0, 200), chance.uniform(0, 200), chance.uniform(0, 360))
    ring = board.ring_to_room(SIZE.ring)
    along, up = chance.uniform(0, 40), chance.uniform(0, 40)
    depths = thing_in(ISLAND, ROOM).depths([x for x, _ in ring], [y for _, y in ring], along, up)
    above = [1.0] * 4
    taken = [] if depths is None else [depths]
    surely = SIZE.length * SIZE.width - size_left(above, [], SIZE, "area", taken)
    for _ in range(10):
        moved = translate(Polygon(ring), chance.uniform(-along, along), chance.uniform(-up, up))
        assert surely <= moved.intersection(Polygon(ISLAND)).area + 1e-6


def test_a_board_far_from_a_thing_is_not_near_it() -> None:
    """One whose corner lies inside is; one farther than both reach together is not."""
    thing = thing_in(ISLAND, ROOM)
    near, far = (Frame(x, 100.0, 0.0).ring_to_room(SIZE.ring) for x in (300.0, 1200.0))
    assert thing.is_near([x for x, _ in near], [y for _, y in near], 0.0)
    assert not thing.is_near([x for x, _ in far], [y for _, y in far], 0.0)


def test_of_a_thing_made_smaller_by_half_its_breadth_nothing_is_left() -> None:
    """The island is 300 by 200 mm or so: a move that may be half as far leaves nothing to be sure of."""
    thing = thing_in(ISLAND, ROOM)
    along, up = (size / 2 for size in thing.size)
    assert thing.is_left(along - 0.1, up - 0.1)
    assert not thing.is_left(along + 0.1, 0.0)
    assert not thing.is_left(0.0, up + 0.1)

"""A convex thing near an edge: its ring from the rim, and what it takes of a board, against shapely."""

from collections.abc import Sequence
from math import cos, hypot, inf, pi, sin
from random import Random
from typing import Any, get_args

import pytest
from shapely.affinity import translate
from shapely.geometry import Point as ShapelyPoint
from shapely.geometry import Polygon, box

from engine.geometry.board import BoardSize
from engine.geometry.frame import Frame
from engine.model.setting_out import Measure
from engine.setting_out.measures import Sizes, sizes_of
from engine.setting_out.rating import PlacedBoard
from engine.setting_out.rim import Stretch
from engine.setting_out.thing_near import MOST_CORNERS, NEARLY, thing_in, thing_ring
from engine.setting_out.thing_parts import Lying, size_beside

SIZE = BoardSize(600.0, 90.0)
MEASURES: tuple[Measure, ...] = get_args(Measure)
ROOM = Frame(0.0, 0.0, 0.0)
ISLAND = ((100.0, 20.0), (400.0, 40.0), (380.0, 260.0), (90.0, 250.0))


def round_stretch(corners: int, radius: float) -> Stretch:
    """The rim round a pipe, the floor on its left: clockwise."""
    turns = [2 * pi * corner / corners for corner in range(corners)]
    return Stretch("pipe", tuple((radius * cos(turn), -radius * sin(turn)) for turn in turns), 1.0, 1.0)


def test_a_round_thing_is_known_from_inside_to_some_hundredths_of_a_mm() -> None:
    """Counter-clockwise, in the circle, no side farther from it than is said; ranges know few corners."""
    ring = thing_ring(round_stretch(160, 61.0))
    assert ring is not None
    known = Polygon(ring)
    assert known.exterior.is_ccw
    assert len(ring) < 160
    assert max(hypot(*point) for point in ring) <= 61.0 + 1e-9
    assert known.exterior.distance(ShapelyPoint(0, 0)) >= 61.0 * cos(pi / 160) - NEARLY
    assert len(thing_in(ring, ROOM).few) <= MOST_CORNERS


def test_a_thing_that_is_not_convex_is_not_known() -> None:
    """An L clockwise turns left once, at its inner corner."""
    ell = ((0.0, 0.0), (0.0, 300.0), (100.0, 300.0), (100.0, 100.0), (300.0, 100.0), (300.0, 0.0))
    assert thing_ring(Stretch("ell", ell, 1.0, 1.0)) is None


def lies_over(line: float, stations: Sequence[float], across: Sequence[float]) -> Lying:
    """How a board lies over an edge along the x axis that is moved up by some mm."""
    return Lying(stations, across, [y - line for y in across], (-inf, inf))


@pytest.mark.parametrize("seed", range(40))
@pytest.mark.parametrize("measure", ["area", "long_point", "short_side"])
def test_beside_a_thing_is_left_what_shapely_leaves_along_the_edge(seed: int, measure: Measure) -> None:
    """Above an edge and outside an island, the part that comes to the edge; half the boards miss one."""
    chance = Random(seed)
    board = Frame(chance.uniform(-300, 400), chance.uniform(-200, 200), chance.uniform(0, 360))
    ring, line = board.ring_to_room(SIZE.ring), chance.choice((0.0, 0.0, 150.0))
    lying = lies_over(line, [x for x, _ in ring], [y for _, y in ring])
    floor = Polygon([(-2000, line), (2000, line), (2000, 2000), (-2000, 2000)]).difference(Polygon(ISLAND))
    parts = multi(Polygon(ring).intersection(floor))
    along = [part for part in parts if part.bounds[1] < line + 0.01] or parts
    expected = max((sizes_of_part(part, board).by(measure) for part in along), default=0.0)
    found = size_beside(lying, [], [ISLAND], SIZE, measure)
    if not any(part.bounds[1] < line + 0.01 for part in parts):
        assert found >= expected - 1e-6  # nothing lies along the edge: a bound
    else:
        assert found == pytest.approx(expected, abs=1e-6)


def test_of_a_wall_that_goes_on_behind_a_pipe_each_stretch_has_its_own_part() -> None:
    """A board over a pipe that stands in the wall: the triangle before it, and the rest behind it."""
    pipe = ((280.0, -30.0), (330.0, -30.0), (330.0, 140.0), (280.0, 140.0))
    board = Frame(200.0, 60.0, -45.0)
    ring = board.ring_to_room(SIZE.ring)
    stations, across = [x for x, _ in ring], [y for _, y in ring]
    parts = multi(Polygon(ring).intersection(box(-2000, 0, 2000, 2000)).difference(Polygon(pipe)))
    before, behind = sorted(parts, key=lambda part: float(part.centroid.x))
    for ends, part in (((-inf, 280.0), before), ((330.0, inf), behind)):
        lying = Lying(stations, across, across, ends)
        for measure in MEASURES:
            expected = sizes_of_part(part, board).by(measure)
            assert size_beside(lying, [], [pipe], SIZE, measure) == pytest.approx(expected, abs=1e-6)


@pytest.mark.parametrize("seed", range(20))
def test_whatever_the_move_a_thing_made_smaller_lies_within_it(seed: int) -> None:
    """Each of its corners, after any move as far."""
    chance = Random(seed)
    along, up = chance.uniform(0, 90), chance.uniform(0, 70)
    smaller = thing_in(ISLAND, ROOM).smaller(along, up)
    if smaller is None:
        return
    for x in (-along, along):
        for y in (-up, up):
            assert Polygon(ISLAND).buffer(1e-6).contains(translate(Polygon(smaller), x, y))


def test_a_board_far_from_a_thing_is_not_near_it() -> None:
    """One whose corner lies inside is; one farther than both reach together is not."""
    thing = thing_in(ISLAND, ROOM)
    near, far = (Frame(x, 100.0, 0.0).ring_to_room(SIZE.ring) for x in (300.0, 1200.0))
    assert thing.is_near([x for x, _ in near], [y for _, y in near], 0.0)
    assert not thing.is_near([x for x, _ in far], [y for _, y in far], 0.0)


def test_of_a_thing_made_smaller_by_half_its_breadth_nothing_is_left() -> None:
    """The island is 300 by 200 mm or so: a move that may be half as far leaves nothing to be sure of."""
    thing = thing_in(ISLAND, ROOM)
    assert thing.smaller(0.0, 0.0) == ISLAND
    assert thing.smaller(100.0, 0.0) is not None
    assert thing.smaller(160.0, 0.0) is None
    assert thing.smaller(0.0, 121.0) is None


def sizes_of_part(part: Polygon, board: Frame) -> Sizes:
    ring = tuple((float(x), float(y)) for x, y in part.exterior.coords[:-1])
    return sizes_of((ring[::-1] if not part.exterior.is_ccw else ring,), PlacedBoard(board, SIZE))


def multi(shape: Any) -> list[Polygon]:
    """The polygons of a shape."""
    return [
        part for part in getattr(shape, "geoms", [shape]) if part.geom_type == "Polygon" and not part.is_empty
    ]

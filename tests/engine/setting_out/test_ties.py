"""Marks by two tapes: which corners, at what angle, and what when nothing is in sight."""

from itertools import pairwise
from math import dist, hypot, radians, sin

import pytest
import shapely
from hypothesis import given
from hypothesis import strategies as st

from engine.setting_out.clear_line import Sight, clear_parts
from engine.setting_out.square import square_check
from engine.setting_out.strike_lines import WantedLine, strike_lines
from engine.setting_out.ties import best_mark

ROOM = {"A": (0.0, 0.0), "B": (4000.0, 0.0), "C": (4000.0, 3000.0), "D": (0.0, 3000.0)}
WALLS = ((*ROOM.values(), ROOM["A"]),)


def wall_between(*points: tuple[float, float]) -> Sight:
    return Sight((*WALLS, points))


@given(st.tuples(st.floats(20, 3980), st.floats(20, 2980)))
def test_no_other_two_corners_at_a_good_angle_would_leave_less(at: tuple[float, float]) -> None:
    """EC class II tapes, 0.3 mm + 0.2 mm per metre: hypot(e₁, e₂) / sin θ over all pairs (TRADE.md)."""
    mark = best_mark([at], ROOM, Sight(WALLS))
    assert mark.in_sight
    left_open = []
    for a, b in ("AB", "AC", "AD", "BC", "BD", "CD"):
        one, other = dist(at, ROOM[a]), dist(at, ROOM[b])
        cosine = (one**2 + other**2 - dist(ROOM[a], ROOM[b]) ** 2) / (2 * one * other)
        sine = max(1 - cosine**2, 0.0) ** 0.5
        if sine >= sin(radians(30)) and min(one, other) >= 150:
            left_open.append(hypot(0.3 + 0.2 * one / 1000, 0.3 + 0.2 * other / 1000) / sine)
    assert mark.known_to == pytest.approx(min(left_open), rel=1e-6)


def test_a_corner_behind_something_is_not_measured_from() -> None:
    """A wall across the sight to A and B leaves the other two."""
    sight = wall_between((200.0, 1000.0), (3800.0, 1000.0))
    mark = best_mark([(2000.0, 1500.0)], ROOM, sight)
    assert {tie.corner for tie in mark.ties} == {"C", "D"}
    assert mark.check is None


def test_a_mark_moves_inwards_where_only_there_two_tapes_reach_it() -> None:
    """Nothing but B is seen from the line's end behind the wall; the first place that sees two is taken."""
    sight = wall_between((300.0, 0.0), (300.0, 2700.0))
    places = [(120.0 + 100 * step, 2000.0) for step in range(20)]
    mark = best_mark(places, {"B": ROOM["B"], "C": ROOM["C"]}, sight)
    assert mark.in_sight
    assert mark.at == (320.0, 2000.0)


def test_a_mark_that_no_tape_reaches_freely_says_so() -> None:
    box = [(1900.0, 1400.0), (2100.0, 1400.0), (2100.0, 1600.0), (1900.0, 1600.0), (1900.0, 1400.0)]
    mark = best_mark([(2000.0, 1500.0)], ROOM, wall_between(*box))
    assert not mark.in_sight
    assert mark.angle > 60


def test_in_a_long_corridor_flat_tapes_are_taken_and_their_error_told() -> None:
    """20 m by 1 m: half-way no two corners are seen at 30°; two tapes leave 17 mm."""
    long = {"A": (0.0, 0.0), "B": (20000.0, 0.0), "C": (20000.0, 1000.0), "D": (0.0, 1000.0)}
    mark = best_mark([(10000.0, 10.0)], long, Sight(((*long.values(), long["A"]),)))
    assert mark.in_sight
    assert mark.angle < 15
    assert mark.known_to > 15


def test_a_bow_of_some_millimetres_does_not_hide_a_mark_along_the_wall_but_a_pier_does() -> None:
    at = (2000.0, 14.0)
    for depth, is_seen in ((9.0, True), (60.0, False)):
        bump = ((0.0, 0.0), (900.0, 0.0), (1000.0, depth), (1100.0, 0.0), (4000.0, 0.0))
        assert Sight((bump, ((4000.0, 0.0), *WALLS[0][2:]))).is_clear(ROOM["A"], at) == is_seen


def test_a_tape_does_not_slip_behind_a_wall_where_both_its_ends_are_held_to_one() -> None:
    """An L: from the end of one arm to a mark at the wall of the other, all the way outside of the room."""
    a, b, c, inner, e, f = (0, 0), (4000, 0), (4000, 1500), (2000, 1500), (2000, 3000), (0, 3000)
    room = tuple((float(x), float(y)) for x, y in (a, b, c, inner, e, f))
    walls = tuple(pairwise((*room, room[0])))
    at = (1990.0, 2200.0)
    sight = Sight(walls, room=room)
    assert not sight.is_clear(room[2], at)
    assert sight.is_clear(room[5], at)
    assert sight.is_clear(room[0], at)
    # A doorway in the end wall of the arm lets a tape out of the room, but not behind the other wall.
    doorway = Sight((*walls[:1], *walls[2:]), ways_out=(walls[1],), room=room)
    assert doorway.is_clear(room[1], (3990.0, 1400.0))
    assert not doorway.is_clear(room[2], at)
    # Out at the doorway in the inner wall, and back through the other one where the tape is held.
    recess = Sight((*walls[:2], *walls[3:]), ways_out=(walls[2],), room=room)
    assert not recess.is_clear(room[2], (1990.0, 1700.0))


def test_a_tape_is_not_moved_aside_to_behind_a_bowed_wall() -> None:
    """The wall stands 9 mm out in its middle; at its lower places a tape moved aside would lie outside."""
    wall = ((0.0, 0.0), (400.0, 9.0), (800.0, -2.0), (1600.0, -2.0), (4000.0, 0.0))
    room = (*wall, *(point for line in WALLS for point in line[2:4]))
    lines = (wall, (*room[4:], room[0]))
    assert not Sight(lines, room=room).is_clear((0.0, 0.0), (1600.0, -2.0))


@given(
    holes=st.lists(st.tuples(st.floats(0, 3500), st.floats(0, 2500), st.floats(20, 900)), max_size=4),
    through=st.tuples(st.floats(-500, 4500), st.floats(-500, 3500)),
    angle=st.floats(0, 360),
)
def test_a_line_is_clear_where_shapely_finds_floor(
    holes: list[tuple[float, float, float]], through: tuple[float, float], angle: float
) -> None:
    """Its parts are as long together as the line's part in the region, and each lies inside it."""
    region = shapely.box(0, 0, 4000, 3000)
    for x, y, size in holes:
        region = region.difference(shapely.box(x, y, x + size, y + size))
    shapes = [part for part in getattr(region, "geoms", [region]) if part.area > 0]
    rings = tuple(
        (tuple(shape.exterior.coords)[:-1], *(tuple(hole.coords)[:-1] for hole in shape.interiors))
        for shape in shapes
    )
    ux, uy = sin(radians(angle + 90)), sin(radians(angle))
    parts = clear_parts(rings, through, (ux, uy))
    ends = [(through[0] + far * ux, through[1] + far * uy) for far in (-9000.0, 9000.0)]
    # A line on an edge may count or not.
    least, most = (shapely.LineString(ends).intersection(region.buffer(by)).length for by in (-1e-3, 1e-3))
    assert least - 1 <= sum(high - low for low, high in parts) <= most + 1
    for low, high in parts:
        middle = (through[0] + (low + high) / 2 * ux, through[1] + (low + high) / 2 * uy)
        assert high - low < 1e-6 or region.buffer(1e-6).covers(shapely.Point(middle))


def test_a_line_that_misses_the_floor_is_left_out_and_a_short_one_kept_when_there_is_no_other() -> None:
    area = ((tuple(ROOM.values()),),)
    outside = WantedLine(name="outside", through=(0.0, -50.0), direction=(1.0, 0.0))
    corner = WantedLine(name="corner", through=(0.0, 100.0), direction=(2**-0.5, -(2**-0.5)))
    lines = strike_lines([outside, corner], area, ROOM, Sight(WALLS))
    assert [line.name for line in lines] == ["corner"]
    assert lines[0].length == pytest.approx(100 * 2**0.5)


def test_nothing_is_square_at_a_place_off_the_floor() -> None:
    """A place 4 mm outside of the lay area proves nothing; one on its edge does."""
    area = ((tuple(ROOM.values()),),)
    for x, is_floor in ((-4.0, False), (0.5, True)):
        lines = [
            WantedLine(name=name, through=(x, 1000.0), direction=way)
            for name, way in (("one", (0.5**0.5, 0.5**0.5)), ("other", (-(0.5**0.5), 0.5**0.5)))
        ]
        assert (square_check(*lines, area, Sight(())) is not None) == is_floor

"""The room's outline is what was measured, wall by wall."""

from math import cos, dist, pi, sin

import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.geometry.shapes import signed_area
from engine.model.job import Room, Tie, Wall
from engine.survey.outline import room_outline

SQUARE = {"A": (0.0, 0.0), "B": (4000.0, 0.0), "C": (4000.0, 3000.0), "D": (0.0, 3000.0)}


def test_positive_offsets_lie_inside_the_room() -> None:
    """A wall read at +20 mm takes floor away, on every side of the room."""
    names = "ABCDA"
    walls = tuple(Wall(from_=names[i], to=names[i + 1], offsets=((1500.0, 20.0),)) for i in range(4))
    outline = room_outline(Room(corners=SQUARE, walls=walls))
    assert all(wall.bulge_area > 0 for wall in outline.walls)
    assert outline.area == pytest.approx(12e6 - sum(wall.bulge_area for wall in outline.walls), rel=1e-12)


@settings(deadline=None)
@given(st.permutations(range(4)))
def test_order_of_the_list_does_not_matter(order: list[int]) -> None:
    """Walls come out counter-clockwise from the first corner, however the file lists them."""
    names = "ABCDA"
    walls = tuple(Wall(from_=names[i], to=names[i + 1], offsets=((900.0, i + 1.0),)) for i in order)
    outline = room_outline(Room(corners=SQUARE, walls=walls))
    assert [wall.name for wall in outline.walls] == ["A–B", "B–C", "C–D", "D–A"]
    assert [wall.record for wall in outline.walls] == [order.index(i) for i in range(4)]


def test_wall_not_listed_is_straight_and_said() -> None:
    """A room with one wall listed still has all four, three of them with a warning."""
    outline = room_outline(Room(corners=SQUARE, walls=(Wall(from_="B", to="C", gap=3.0),)))
    assert [wall.record for wall in outline.walls] == [None, 0, None, None]
    assert [finding.code for finding in outline.findings] == ["wall not listed"] * 3
    assert outline.walls[0].wall.gap == 10.0
    assert outline.ring == tuple(SQUARE.values())


def test_corners_belong_to_both_walls_exactly() -> None:
    """Each wall ends in the very point where the next one starts, and the ring repeats no corner."""
    walls = tuple(
        Wall(from_=a, to=b, offsets=((700.0, 12.0), (1900.0, -7.0))) for a, b in ("AB", "BC", "CD", "DA")
    )
    outline = room_outline(Room(corners=SQUARE, walls=walls))
    for wall, following in zip(outline.walls, outline.walls[1:] + outline.walls[:1], strict=True):
        assert wall.points[-1] == following.points[0] == following.start
    assert len(set(outline.ring)) == len(outline.ring)
    assert signed_area(outline.ring) > 0


def test_every_reading_is_a_point_of_the_outline() -> None:
    """What was measured is on the drawing, to the last digit that a computer keeps."""
    readings = ((700.0, 12.0), (1900.0, -7.0), (3100.0, 4.5))
    outline = room_outline(Room(corners=SQUARE, walls=(Wall(from_="C", to="D", offsets=readings),)))
    for station, offset in readings:
        spot = outline.walls[2].at(station, offset)
        assert spot == pytest.approx((4000 - station, 3000 - offset))
        assert min(dist(spot, point) for point in outline.ring) < 1e-9


def test_bow_is_the_greatest_offset_with_its_sign() -> None:
    """One reading of −18 mm off the middle makes a parabola: its top is computed by hand."""
    station, read, chord = 1500.0, -18.0, 4000.0
    wall = room_outline(
        Room(corners=SQUARE, walls=(Wall(from_="A", to="B", offsets=((station, read),)),))
    ).walls[0]
    assert wall.bow_station == pytest.approx(2000.0, abs=1e-6)
    assert wall.bow == pytest.approx(read * (chord / 2) ** 2 / (station * (chord - station)), abs=1e-9)


@pytest.mark.parametrize("lean", [0.0, 35.0, -20.0])
def test_corner_angles_say_how_far_out_of_square(lean: float) -> None:
    """A corner pushed sideways is off square by that much at its wall's end; angles add up to 360°."""
    corners = {**SQUARE, "C": (4000.0 + lean, 3000.0), "D": (lean, 3000.0)}
    found = {corner.name: corner for corner in room_outline(Room(corners=corners, walls=())).corners}
    # The wall leans out at A by `lean` over its height.
    assert found["A"].off_square_length == pytest.approx(-lean, abs=1e-9)
    assert found["B"].off_square_length == pytest.approx(lean, abs=1e-9)
    assert sum(corner.angle for corner in found.values()) == pytest.approx(360)


def test_inner_corner_is_measured_from_270_degrees() -> None:
    """The corner of a chimney breast is square at 270°."""
    corners = dict(
        zip(
            "ABCDEF",
            ((0.0, 0.0), (4000.0, 0.0), (4000.0, 1000.0), (2000.0, 1000.0), (2000.0, 3000.0), (0.0, 3000.0)),
            strict=True,
        )
    )
    found = {corner.name: corner for corner in room_outline(Room(corners=corners, walls=())).corners}
    assert (found["D"].angle, found["D"].off_square) == (270, 0)


@settings(deadline=None)
@given(st.floats(0, 2 * pi), st.floats(-9000, 9000), st.floats(-9000, 9000))
def test_outline_turns_and_moves_with_the_room(turn: float, dx: float, dy: float) -> None:
    """Areas, bows and lengths are those of the room, not of where its zero point was put."""

    def moved(x: float, y: float) -> tuple[float, float]:
        return (dx + x * cos(turn) - y * sin(turn), dy + x * sin(turn) + y * cos(turn))

    walls = (Wall(from_="A", to="B", offsets=((700.0, 12.0), (1900.0, -7.0))),)
    one = room_outline(Room(corners=SQUARE, walls=walls))
    other = room_outline(Room(corners={n: moved(*at) for n, at in SQUARE.items()}, walls=walls))
    assert other.area == pytest.approx(one.area, abs=1e-2)
    assert other.walls[0].bow == pytest.approx(one.walls[0].bow, abs=1e-6)


def test_room_of_lengths_alone_has_an_outline() -> None:
    """Corners left out are solved, and the walls' readings hang on the solved corners."""
    walls = (
        Wall(from_="A", to="B", length=4000.0, offsets=((2000.0, 9.0),)),
        Wall(from_="B", to="C", length=3000.0),
        Wall(from_="C", to="D", length=4000.0),
        Wall(from_="D", to="A", length=3000.0),
    )
    outline = room_outline(Room(walls=walls, ties=(Tie(from_="A", to="C", length=5000.0),)))
    assert outline.walls[2].start == pytest.approx((4000, 3000))
    assert outline.walls[0].bow == pytest.approx(9)


def test_chimney_breast_steps_out_and_back() -> None:
    """Two breaks with two readings each: the wall stands 300 mm into the room between them, square."""
    offsets = ((1000.0, 0.0), (1000.0, 300.0), (2200.0, 300.0), (2200.0, 0.0))
    wall = Wall(from_="A", to="B", curve="straight", offsets=offsets, breaks=(1000.0, 2200.0))
    outline = room_outline(Room(corners=SQUARE, walls=(wall,)))
    assert outline.walls[0].points == ((0, 0), *offsets, (4000, 0))
    assert outline.area == pytest.approx(12e6 - 1200 * 300)


def test_break_keeps_a_kink_a_kink() -> None:
    """A smooth wall broken at a reading is the two smooth halves, and does not swing past them."""
    offsets = ((500.0, 10.0), (1000.0, 20.0), (2000.0, 40.0), (3000.0, 20.0), (3500.0, 10.0))
    broken = Wall(from_="A", to="B", offsets=offsets, breaks=(2000.0,))
    line = room_outline(Room(corners=SQUARE, walls=(broken,))).walls[0]
    assert line.bow == 40.0
    assert line.curve.offset(1500.0) == pytest.approx(30.0)
    assert line.curve.offset(2500.0) == pytest.approx(30.0)


def test_two_readings_at_a_break_keep_the_order_of_the_file() -> None:
    """The first is the wall before the break even when it stands farther into the room."""
    offsets = ((1500.0, 30.0), (1500.0, 4.0))
    wall = Wall(from_="A", to="B", curve="straight", offsets=offsets, breaks=(1500.0,))
    line = room_outline(Room(corners=SQUARE, walls=(wall,))).walls[0]
    assert line.points[1:-1] == offsets

"""The lay area and the lines it keeps clear of, on shapes with a closed form; shapely where there is none."""

from math import pi

import pytest
from shapely import union_all
from shapely.geometry import LineString, Polygon

from engine.geometry.barrier import Barrier
from engine.geometry.shapes import region_area
from engine.model.job import FixedThing, Wall
from engine.setting_out.barriers import fixed_barriers, fixed_ring, wall_barrier
from engine.setting_out.lay_area import lay_area

ROOM = ((0.0, 0.0), (4000.0, 0.0), (4000.0, 3000.0), (0.0, 3000.0))


def walls(*gaps: float) -> list[Barrier]:
    return [
        wall_barrier("w", Wall(from_="A", to="B", gap=gap), "", (start, end), 2.0)
        for start, end, gap in zip(ROOM, ROOM[1:] + ROOM[:1], gaps, strict=True)
    ]


def test_each_wall_takes_its_own_gap() -> None:
    """Closed form: (4000 − 3 − 12) × (3000 − 10 − 8)."""
    area = lay_area(ROOM, walls(10, 3, 8, 12))
    assert region_area(area) == pytest.approx((4000 - 15) * (3000 - 18), abs=0.01)
    assert set(area[0][0]) == {(12, 10), (3997, 10), (3997, 2992), (12, 2992)}


def test_a_wall_without_a_gap_takes_nothing() -> None:
    assert region_area(lay_area(ROOM, walls(0, 0, 0, 0))) == pytest.approx(12e6)


def test_a_fixed_thing_takes_its_inside_and_its_gap_with_round_corners() -> None:
    """Closed form: 1200 × 800, 2 · 10 · (1200 + 800) along its sides and a circle of 10 round its corners.

    In whichever direction its outline was entered.
    """
    outline = ((1000.0, 1000.0), (2200.0, 1000.0), (2200.0, 1800.0), (1000.0, 1800.0))
    taken = 1200 * 800 + 2 * 10 * 2000 + pi * 10**2
    for entered in (outline, outline[::-1]):
        things = fixed_barriers([FixedThing(name="island", outline=entered, gap=10)], 2.0)
        assert region_area(lay_area(ROOM, things)) == pytest.approx(12e6 - taken, abs=0.5)


def test_a_pipe_takes_a_circle_and_never_less() -> None:
    """Radius 11 + 8; what is left keeps the gap to the true circle."""
    (pipe,) = fixed_barriers([FixedThing(name="pipe", centre=(900, 700), diameter=22, gap=8)], 2.0)
    (outer, hole), = lay_area(ROOM, [pipe])  # fmt: skip
    assert 12e6 - region_area(((outer, hole),)) == pytest.approx(pi * 19**2, rel=0.001)
    distances = [((x - 900) ** 2 + (y - 700) ** 2) ** 0.5 for x, y in hole]
    assert min(distances) > 19 - 0.005
    assert (pipe.radius, pipe.centre, pipe.solid) == (11, (900, 700), True)
    assert pipe.points[0] == pipe.points[-1]


def test_a_room_with_a_waist_falls_into_two_parts() -> None:
    """A gap of 60 on both sides closes a waist of 100 mm."""
    waist = [(0, 0), (1000, 0), (1000, 450), (1200, 450), (1200, 0), (2200, 0), (2200, 1000), (1200, 1000)]
    ring = tuple((float(x), float(y)) for x, y in [*waist, (1200, 550), (1000, 550), (1000, 1000), (0, 1000)])
    line = wall_barrier("w", Wall(from_="A", to="B", gap=60), "", (*ring, ring[0]), 2.0)
    area = lay_area(ring, [line])
    expected = Polygon(ring) - union_all(
        [LineString(pair).buffer(60, quad_segs=64) for pair in zip(ring, ring[1:] + ring[:1], strict=True)]
    )
    assert len(area) == 2
    assert region_area(area) == pytest.approx(expected.area, abs=2)


@pytest.mark.parametrize(
    ("gap", "own", "general", "leeway"),
    [
        (10, None, 2, (2, 2)),
        (10, 1, 2, (1, 1)),
        (10, 0, 2, (0, 0)),
        (3, None, 5, (3, 5)),
        (0, None, 2, (0, 2)),
        (0, 1, 2, (0, 1)),
    ],
)
def test_a_wall_s_own_tolerance_goes_first_and_no_band_reaches_into_the_wall(
    gap: float, own: float | None, general: float, leeway: tuple[float, float]
) -> None:
    wall = Wall(from_="A", to="B", gap=gap, tolerance=own)
    assert wall_barrier("A–B", wall, "", ROOM[:2], general).leeway == leeway
    thing = FixedThing(name="post", centre=(0, 0), diameter=50, gap=gap, tolerance=own)
    assert fixed_barriers([thing], general)[0].leeway == leeway


def test_fixed_things_keep_the_job_s_order_and_their_paths() -> None:
    things = [FixedThing(name=name, centre=(0, 0), diameter=9) for name in "ba"]
    assert [(b.name, b.path) for b in fixed_barriers(things, 2)] == [
        ("b", "room.fixed[0]"),
        ("a", "room.fixed[1]"),
    ]
    assert len(fixed_ring(things[0])) > 12

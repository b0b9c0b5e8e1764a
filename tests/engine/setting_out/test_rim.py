"""The rim of a lay area parted by what it keeps clear of, on rooms where the answer is seen at once."""

from math import dist, hypot

import pytest

from engine.geometry.barrier import Barrier
from engine.geometry.shapes import Point
from engine.model.job import FixedThing, Wall
from engine.setting_out.barriers import fixed_barriers, wall_barrier
from engine.setting_out.lay_area import lay_area
from engine.setting_out.rim import Stretch, rim

RECTANGLE = ((0.0, 0.0), (4000.0, 0.0), (4000.0, 3000.0), (0.0, 3000.0))
# Four outer corners and an inner one, at (2000, 1500).
ELL = ((0.0, 0.0), (4000.0, 0.0), (4000.0, 1500.0), (2000.0, 1500.0), (2000.0, 3000.0), (0.0, 3000.0))


def walls(ring: tuple[Point, ...], gap: float = 10.0) -> list[Barrier]:
    return [
        wall_barrier(name, Wall(from_="A", to="B", gap=gap), "", (start, end), 2.0)
        for name, start, end in zip("abcdef", ring, ring[1:] + ring[:1], strict=False)
    ]


def stretches(ring: tuple[Point, ...], barriers: list[Barrier]) -> list[tuple[Stretch, ...]]:
    return list(rim(lay_area(ring, barriers), barriers))


def test_a_rectangle_has_four_stretches_and_outer_corners() -> None:
    """One a wall, each from gap line to gap line, in the ring's order, every corner an outer one."""
    (ring,) = stretches(RECTANGLE, walls(RECTANGLE))
    names = "".join(stretch.barrier for stretch in ring)
    assert names in "abcdabcd"
    assert len(names) == 4
    assert [dist(stretch.points[0], stretch.points[-1]) for stretch in ring] == pytest.approx(
        [3980 if name in "ac" else 2980 for name in names]
    )
    assert all(stretch.before > 0 and stretch.after > 0 for stretch in ring)
    for stretch, after in zip(ring, ring[1:] + ring[:1], strict=True):
        assert stretch.points[-1] == after.points[0]


def test_round_an_inner_corner_the_rim_turns_the_other_way() -> None:
    """Of the six walls the two at the corner (2000, 1500) end or begin where the rim turns right."""
    (ring,) = stretches(ELL, walls(ELL))
    assert sorted(stretch.barrier for stretch in ring) == list("abcdef")
    for stretch in ring:
        assert (stretch.after > 0) == (stretch.barrier != "c")
        assert (stretch.before > 0) == (stretch.barrier != "d")


def test_every_point_keeps_its_barriers_gap() -> None:
    """A pipe away from the walls is a ring of its own; all its points lie at its gap."""
    pipe = fixed_barriers([FixedThing(name="pipe", centre=(900, 700), diameter=22, gap=8)], 2.0)
    rings = stretches(RECTANGLE, [*walls(RECTANGLE), *pipe])
    assert sorted(len(ring) for ring in rings) == [1, 4]
    (round_it,) = min(rings, key=len)
    assert round_it.barrier == "pipe"
    assert [hypot(x - 900, y - 700) for x, y in round_it.points] == pytest.approx(
        [19.0] * len(round_it.points), abs=0.01
    )


def test_a_pipe_in_the_gap_of_a_wall_parts_it() -> None:
    """The wall is met twice, before and behind the pipe, with an outer corner of the floor at either side."""
    pipe = fixed_barriers([FixedThing(name="pipe", centre=(2000, 30), diameter=60, gap=8)], 2.0)
    (ring,) = stretches(RECTANGLE, [*walls(RECTANGLE), *pipe])
    names = "".join(stretch.barrier[0] for stretch in ring)
    assert "apa" in names * 2
    (round_it,) = (stretch for stretch in ring if stretch.barrier == "pipe")
    assert round_it.before > 0
    assert round_it.after > 0
    assert max(y for _, y in round_it.points) == pytest.approx(68, abs=0.01)


def test_where_one_wall_goes_straight_on_into_the_next_the_rim_is_parted() -> None:
    """Two walls on one line with the same gap leave one edge of the lay area, but two stretches."""
    ring = (RECTANGLE[0], (1500.0, 0.0), *RECTANGLE[1:])
    (found,) = stretches(ring, walls(ring))
    ends = {stretch.barrier: (stretch.points[0], stretch.points[-1]) for stretch in found}
    assert ends["a"][1] == ends["b"][0] == pytest.approx((1500, 10))

"""How two edges of the floor meet, on corners whose rim is known."""

from math import asin, cos, pi, radians, sin

import pytest

from engine.geometry.shapes import Point
from engine.model.job import Wall
from engine.setting_out.barriers import wall_barrier
from engine.setting_out.edge_corner import edge_corner
from engine.setting_out.edge_line import EdgeLine, edge_line
from engine.setting_out.lay_area import lay_area
from engine.setting_out.rim import rim


def met(interior: float, gaps: tuple[float, float]) -> tuple[EdgeLine, EdgeLine]:
    """The edges before and after the origin, where a room's walls meet at an interior angle in degrees."""
    turned = radians(interior)
    ring: tuple[Point, ...] = ((2000 * cos(turned), 2000 * sin(turned)), (0.0, 0.0), (2000.0, 0.0))
    ring = *ring, (2500.0, 4000.0), (-2500.0, 4000.0)
    names = "abcde"
    walls = [
        wall_barrier(name, Wall(from_="A", to="B", gap=gap), "", (start, end), 2.0)
        for name, gap, start, end in zip(names, (*gaps, 5, 5, 5), ring, ring[1:] + ring[:1], strict=True)
    ]
    (found,) = rim(lay_area(ring, walls), walls)
    lines = {stretch.barrier: edge_line(stretch, 600.0) for stretch in found}
    before, after = lines["a"], lines["b"]
    assert before is not None
    assert after is not None
    return before, after


@pytest.mark.parametrize("interior", [80, 120])
def test_two_edges_with_one_gap_meet_in_an_outer_corner(interior: float) -> None:
    assert edge_corner(*met(interior, (8, 8))) == (False, 0.0, 0.0)


@pytest.mark.parametrize("gaps", [(8, 3), (3, 8)])
def test_a_blunt_corner_is_an_outer_one_although_the_greater_gap_goes_round_it(
    gaps: tuple[float, float],
) -> None:
    """8 mm from the corner the rim turns from 60° over the other wall to where it is 3 mm from that."""
    corner = edge_corner(*met(150, gaps))
    assert not corner.is_inner
    arc = pi / 3 - asin(3 / 8)
    assert corner.beyond == pytest.approx(8 * (1 - cos(arc)), abs=0.01)
    assert corner.area == pytest.approx(8 * arc * corner.beyond, abs=0.05)


def test_round_a_corner_of_the_room_that_sticks_out_the_floor_lies_above_either_edge() -> None:
    assert edge_corner(*met(260, (8, 3))).is_inner
    assert edge_corner(*met(200, (8, 8))).is_inner

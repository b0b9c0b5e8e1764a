"""What the floor keeps clear of."""

from engine.geometry.shapes import region_area
from engine.model.job import FixedThing, Wall
from engine.setting_out.barriers import fixed_barriers, wall_barrier
from engine.setting_out.lay_area import lay_area

SQUARE = ((0.0, 0.0), (1000.0, 0.0), (1000.0, 1000.0), (0.0, 1000.0))


def test_an_undercut_door_lining_takes_nothing_from_the_floor() -> None:
    """The floor runs under an undercut lining, and round the same lining that is not undercut."""
    outline = ((400.0, 0.0), (480.0, 0.0), (480.0, 30.0), (400.0, 30.0))
    lining = FixedThing(name="lining", kind="door lining", outline=outline, gap=5)
    under = FixedThing(name="lining", kind="door lining", outline=outline, gap=5, undercut=True)
    assert fixed_barriers([under], 2) == ()
    assert region_area(lay_area(SQUARE, fixed_barriers([lining], 2))) < 1e6 - 80 * 30
    assert region_area(lay_area(SQUARE, fixed_barriers([under], 2))) == 1e6


def test_a_square_room_loses_a_strip_as_wide_as_its_gap() -> None:
    """1000 × 1000 with 10 mm all round leaves 980 × 980 (by hand)."""
    corners = (*SQUARE, SQUARE[0])
    walls = [
        wall_barrier(f"w{i}", Wall(from_="A", to="B", gap=10), "", corners[i : i + 2], 2) for i in range(4)
    ]
    assert abs(region_area(lay_area(SQUARE, walls)) - 980 * 980) < 0.01


def test_a_wall_s_own_tolerance_goes_before_the_job_s_and_never_below_no_gap() -> None:
    """Own tolerance first; the band of a gap of 1 mm begins at 0, and that of no gap goes from 0 up."""
    assert wall_barrier("w", Wall(from_="A", to="B", gap=10, tolerance=0.5), "", SQUARE, 2).tolerance == 0.5
    assert wall_barrier("w", Wall(from_="A", to="B", gap=10), "", SQUARE, 2).leeway == (2, 2)
    assert wall_barrier("w", Wall(from_="A", to="B", gap=1), "", SQUARE, 2).leeway == (1, 2)
    assert wall_barrier("w", Wall(from_="A", to="B", gap=0), "", SQUARE, 2).leeway == (0, 2)

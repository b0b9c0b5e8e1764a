"""A chevron's board at the saw: 600 × 90 mm with ends at 45°, right one (lean 90) and left one (lean −90)."""

from math import hypot, sqrt

import pytest

from engine.cutting.board_edges import runs_of
from engine.geometry.board import BoardSize, side_lengths
from engine.geometry.shapes import polygon_area
from tests.engine.cutting.one_board import block, piece, pipe, wall_for

RIGHT, LEFT = BoardSize(600.0, 90.0, 90.0), BoardSize(600.0, 90.0, -90.0)


def test_a_whole_board_has_full_long_edges_and_slanted_ends() -> None:
    """Nothing is cut; either end is 90·√2 long."""
    for size in (RIGHT, LEFT):
        whole = piece(wall_for((900, 0), (900, 90)), size=size)
        assert (whole.kind, whole.cuts, whole.kept_end) == ("whole", (), "both")
        assert (whole.left, whole.right) == (600, 600)
        lengths = side_lengths(whole.outline[0], size)
        assert (lengths["start"], lengths["far"]) == pytest.approx((90 * sqrt(2), 90 * sqrt(2)))


@pytest.mark.parametrize(
    ("size", "start", "end", "left", "right", "angle"),
    [
        # Square across at 400: the left edge begins 90 further on, or 90 earlier.
        (RIGHT, (400, 0), (400, 90), 310, 400, 0),
        (LEFT, (400, 0), (400, 90), 490, 400, 0),
        # As its own end leans, so that both edges stay equally long.
        (RIGHT, (400, 0), (490, 90), 400, 400, -45),
        (LEFT, (400, 0), (310, 90), 400, 400, 45),
        # Against its own end.
        (RIGHT, (400, 0), (310, 90), 220, 400, 45),
    ],
)
def test_lengths_count_from_the_corners_that_stay_and_the_saw_from_square(
    size: BoardSize,
    start: tuple[float, float],
    end: tuple[float, float],
    left: float,
    right: float,
    angle: float,
) -> None:
    cut = piece(wall_for(start, end), size=size)
    assert (cut.kind, cut.kept_end) == ("mitre" if angle else "crosscut", "start")
    assert (cut.left, cut.right) == pytest.approx((left, right), abs=0.01)
    assert cut.saw_angle == pytest.approx(angle, abs=0.01)
    assert polygon_area(cut.outline) == pytest.approx((left + right) / 2 * 90, abs=1)


def test_the_far_end_stays_as_the_start_end_does() -> None:
    """Square across at 400: 200 mm of the right edge stay, and 290 of the left one, which ends at 690."""
    cut = piece(wall_for((400, 90), (400, 0)), size=RIGHT)
    assert (cut.kind, cut.kept_end) == ("crosscut", "far")
    assert (cut.left, cut.right) == pytest.approx((290, 200), abs=0.01)


def test_a_wall_over_the_point_of_an_end_takes_a_corner() -> None:
    """Square across at 650: the point at (690, 90) falls, the far end stays up to (650, 50)."""
    cut = piece(wall_for((650, 0), (650, 90)), size=RIGHT)
    assert (cut.kind, cut.kept_end) == ("corner", "both")
    assert (cut.left, cut.right) == pytest.approx((560, 600), abs=0.01)
    assert polygon_area(cut.outline) == pytest.approx(54000 - 40 * 40 / 2, abs=1)
    assert side_lengths(cut.outline[0], RIGHT)["far"] == pytest.approx(50 * sqrt(2), abs=0.02)


def test_a_wall_along_the_board_rips_it_from_end_to_end() -> None:
    """60 mm wide; both slanted ends stay as far."""
    ripped = piece(wall_for((800, 60), (-100, 60)), size=RIGHT)
    assert (ripped.kind, ripped.kept_end) == ("rip", "both")
    assert (ripped.left, ripped.right) == pytest.approx((0, 600))
    assert side_lengths(ripped.outline[0], RIGHT)["start"] == pytest.approx(60 * sqrt(2), abs=0.02)


def test_a_slanted_end_left_inside_the_band_is_not_cut() -> None:
    """A wall along the far end that asks for 1.5 mm off it, or for 2.5; gap 10 ± 2."""
    shift = sqrt(2)
    assert piece(wall_for((600 - 1.5 * shift, 0), (690 - 1.5 * shift, 90)), size=RIGHT).kind == "whole"
    cut = piece(wall_for((600 - 2.5 * shift, 0), (690 - 2.5 * shift, 90)), size=RIGHT)
    assert (cut.kind, cut.left, cut.right) == ("mitre", pytest.approx(cut.right), pytest.approx(cut.left))


def test_things_in_the_way_are_holes_bites_and_notches_as_in_any_board() -> None:
    """A pipe in the point beyond 600, one on the slanted end, and a block into the end."""
    assert piece(pipe(610, 50, 22), size=RIGHT).kind == "hole"
    bitten = piece(pipe(45, 45, 22), size=RIGHT)
    assert (bitten.kind, bitten.kept_end) == ("notch", "both")
    assert side_lengths(bitten.outline[0], RIGHT)["start"] == pytest.approx(90 * sqrt(2) - 38, abs=0.02)
    notched = piece(block((400, 50), (900, 50), (900, 500), (400, 500)), size=RIGHT)
    assert (notched.kind, notched.left, notched.right) == (
        "notch",
        pytest.approx(300, abs=0.01),
        pytest.approx(600, abs=0.01),
    )


def test_the_rim_is_walked_round_slanted_corners() -> None:
    """From the right edge past both far corners to the left edge; a ring on the rim has no cut."""
    assert RIGHT.walk((300.0, 0.0), (300.0, 90.0)) == ((600.0, 0.0), (690.0, 90.0))
    assert LEFT.walk((300.0, 90.0), (300.0, 0.0)) == ((-90.0, 90.0), (0.0, 0.0))
    (run,) = runs_of(RIGHT.ring, RIGHT)
    assert not run.is_cut


def test_near_a_slanted_end_is_measured_square_to_it() -> None:
    """0.0015 mm off the end is on it although 0.0021 mm along the board, 0.003 mm is not."""
    for off, side in ((0.0015, "far"), (0.003, None)):
        assert RIGHT.side_of((645.0 - off / sqrt(2), 45.0 + off / sqrt(2))) == side
        assert RIGHT.edge_side((645.0 - off * sqrt(2), 45.0), (655.0 - off * sqrt(2), 55.0)) == side
    assert hypot(RIGHT.lean, RIGHT.width) == pytest.approx(RIGHT.end)

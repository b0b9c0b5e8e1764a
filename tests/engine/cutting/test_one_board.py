"""Single boards cut by walls and things whose place is worked out by hand; 600 × 90 mm, gap 10 ± 2 mm."""

from math import atan, cos, degrees, hypot, pi, radians, sin, sqrt

import pytest
from shapely.geometry import Polygon

from engine.geometry.board import BoardSize
from engine.geometry.shapes import polygon_area, signed_area
from tests.engine.cutting.one_board import block, piece, pieces, pipe, wall, wall_for


def test_a_board_clear_of_every_wall_stays_whole() -> None:
    """No cut, no gap, both ends, its full lengths; its least width is the board's."""
    whole = piece(wall_for((900, 0), (900, 90)))
    assert (whole.kind, whole.cuts, whole.kept_end) == ("whole", (), "both")
    assert (whole.left, whole.right, whole.least_width) == (600, 600, 90)
    assert (whole.gap_least, whole.gap_most, whole.saw_angle) == (None, None, 0)


@pytest.mark.parametrize(
    ("start", "end", "left", "right", "angle", "kept"),
    [
        ((390, 0), (300, 90), 300, 390, 45, "start"),
        ((300, 0), (390, 90), 390, 300, -45, "start"),
        ((300, 90), (210, 0), 300, 390, 45, "far"),
        ((210, 90), (300, 0), 390, 300, -45, "far"),
        ((345.5, 0), (344.5, 90), 344.5, 345.5, degrees(atan(1 / 90)), "start"),
    ],
)
def test_a_mitre_has_the_lengths_and_the_sign_of_its_wall(
    start: tuple[float, float], end: tuple[float, float], left: float, right: float, angle: float, kept: str
) -> None:
    """Either end stays, either edge is the longer; the gap is the nominal one all along."""
    cut = piece(wall_for(start, end))
    assert (cut.kind, cut.kept_end, len(cut.cuts)) == ("mitre", kept, 1)
    assert (cut.left, cut.right) == pytest.approx((left, right), abs=0.01)
    assert cut.saw_angle == pytest.approx(angle, abs=0.01)
    assert (cut.gap_least, cut.gap_most) == pytest.approx((10, 10), abs=0.01)
    assert polygon_area(cut.outline) == pytest.approx((left + right) / 2 * 90, abs=1)


def test_under_a_quarter_of_a_degree_is_a_crosscut() -> None:
    """0.3 mm over 90 mm is 0.19°, 0.5 mm is 0.32°."""
    assert piece(wall_for((300.3, 0), (300, 90))).kind == "crosscut"
    assert piece(wall_for((300.5, 0), (300, 90))).kind == "mitre"


def test_a_wall_along_the_board_rips_it() -> None:
    """All of one long edge stays, none of the other; both ends stay, 60 mm wide."""
    ripped = piece(wall_for((600, 60), (0, 60)))
    assert (ripped.kind, ripped.kept_end) == ("rip", "both")
    assert (ripped.left, ripped.right) == pytest.approx((0, 600))
    assert abs(ripped.saw_angle) == pytest.approx(90, abs=0.01)
    assert ripped.least_width == pytest.approx(60, abs=0.01)


def test_a_wall_nearly_along_the_board_tapers_it() -> None:
    """70 mm at the start, 50 mm at the far end."""
    taper = piece(wall_for((600, 50), (0, 70)))
    assert (taper.kind, taper.kept_end) == ("taper", "both")
    assert (taper.left, taper.right) == pytest.approx((0, 600))
    assert polygon_area(taper.outline) == pytest.approx(600 * 60, abs=2)
    # Between its slanted edge and the corner at the start.
    assert taper.least_width == pytest.approx(70 * 600 / hypot(600, 20), abs=0.01)


def test_a_wall_that_takes_a_corner_leaves_a_corner_cut() -> None:
    """From the left long edge 30 mm short of the far end to 40 mm up that end."""
    corner = piece(wall_for((600, 40), (570, 90)))
    assert (corner.kind, corner.kept_end) == ("corner", "both")
    assert (corner.left, corner.right) == pytest.approx((570, 600), abs=0.01)
    assert polygon_area(corner.outline) == pytest.approx(54000 - 30 * 50 / 2, abs=0.5)
    assert corner.saw_angle == pytest.approx(degrees(atan(30 / 50)), abs=0.01)


def test_a_tip_between_a_long_edge_and_an_end_is_a_corner_cut_too() -> None:
    """Only the corner at the start of the right edge stays: 40 × 30 mm."""
    tip = piece(wall_for((40, 0), (0, 30)))
    assert (tip.kind, tip.kept_end) == ("corner", "start")
    assert (tip.left, tip.right) == pytest.approx((0, 40), abs=0.01)
    assert tip.least_width == pytest.approx(40 * 30 / 50, abs=0.01)


def test_a_board_between_two_walls_keeps_neither_end() -> None:
    """Cut at 100 and at 450: two cuts, each along its own wall."""
    middle = piece(wall_for((100, 90), (100, 0), name="back"), wall_for((450, 0), (440, 90), name="front"))
    assert (middle.kind, middle.kept_end) == ("mitre", "neither")
    assert (middle.left, middle.right) == pytest.approx((340, 350), abs=0.01)
    assert sorted((cut.kind, cut.barrier.name) for cut in middle.cuts) == [
        ("crosscut", "back"),
        ("mitre", "front"),
    ]
    assert middle.saw_angle == pytest.approx(degrees(atan(10 / 90)), abs=0.01)


def test_the_saw_is_set_to_its_steps_where_the_band_allows_it() -> None:
    """10.2° by the wall becomes 10° or 10.5°, still inside 10 ± 2 mm; with no step it stays as it is."""
    lean = 90 * 0.18  # atan 0.18 = 10.204°
    wanted = wall_for((300 + lean, 0), (300, 90))
    assert piece(wanted).saw_angle == pytest.approx(degrees(atan(0.18)), abs=0.01)
    stepped = piece(wanted, saw_step=0.5)
    assert stepped.saw_angle == pytest.approx(10.0, abs=1e-3)
    assert all(cut.is_set for cut in stepped.cuts)
    assert stepped.is_inside_band
    assert stepped.gap_most is not None
    assert stepped.gap_least is not None
    # Turned about the middle of the cut by 0.204°: ± half its length of 91.4 mm times sin 0.204°.
    assert stepped.gap_most - stepped.gap_least == pytest.approx(91.4 * 0.00356, abs=0.02)


def test_where_no_step_holds_the_band_the_cut_says_that_it_is_not_set() -> None:
    """10° or 15° at 11.9° would leave 10 ± 0.3 mm: the true angle stays, and the cut is marked so."""
    lean = 90 * 0.21
    cut = piece(wall_for((300 + lean, 0), (300, 90), tolerance=0.3), saw_step=5)
    assert cut.saw_angle == pytest.approx(degrees(atan(0.21)), abs=0.01)
    assert [one.is_set for one in cut.cuts] == [False]


@pytest.mark.parametrize("step", [0.5, 1.0])
def test_a_step_of_the_saw_holds_where_no_gap_is_wanted(step: float) -> None:
    """Along a wall that leans by 11.86° the board may stay off by up to 2 mm, and never reach beyond."""
    lean = 90 * 0.21
    cut = piece(wall_for((300 + lean, 0), (300, 90), gap=0, tolerance=2), saw_step=step)
    assert cut.saw_angle == pytest.approx(12, abs=1e-9)
    assert [one.is_set for one in cut.cuts] == [True]
    # By hand: the end turned towards the wall touches it, and the other is off by the 91.7 mm long cut
    # times the sine of what the saw is turned too far, 0.140°.
    over = sin(radians(12) - atan(0.21)) * 90 / cos(atan(0.21))
    assert cut.gap_least == pytest.approx(0, abs=0.005)
    assert cut.gap_most == pytest.approx(over, abs=0.005)


def test_where_no_gap_is_wanted_and_any_angle_can_be_set_the_board_touches() -> None:
    """The nominal line is still the cut."""
    cut = piece(wall_for((390, 0), (300, 90), gap=0, tolerance=2))
    assert (cut.left, cut.right) == pytest.approx((300, 390), abs=0.01)


def test_both_cuts_of_a_tip_say_that_they_are_not_set() -> None:
    """Regression: cuts that meet in the piece were always shown as set."""
    cut = piece(
        wall_for((320, 0), (360, 40), tolerance=0.2, name="one"),
        wall_for((360, 40), (330, 90), tolerance=0.2, name="two"),
        saw_step=20,
    )
    assert [(one.kind, one.barrier.name, one.is_set) for one in cut.cuts] == [
        ("corner", "one", False),
        ("corner", "two", False),
    ]


def test_at_a_corner_of_two_walls_the_board_gets_a_point() -> None:
    """Two straight cuts that meet where the two gaps do, (360, 40)."""
    pointed = piece(wall_for((320, 0), (360, 40), name="one"), wall_for((360, 40), (310, 90), name="two"))
    assert [cut.barrier.name for cut in pointed.cuts] == ["one", "two"]
    assert any(point == pytest.approx((360, 40), abs=0.01) for point in pointed.outline[0])
    assert (pointed.left, pointed.right) == pytest.approx((310, 320), abs=0.01)
    assert [cut.angle for cut in pointed.cuts] == pytest.approx([-45, 45], abs=0.01)


def test_a_bow_within_the_tolerance_is_cut_straight() -> None:
    """A wall bowed by 3 mm over the cut, gap 10 ± 2: the straight cut lies midway, 8.5 to 11.5 mm off."""
    bowed = [(y * 0.03 * (90 - y) / 90 * (3 / 0.675), y) for y in range(0, 91, 3)]
    line = [(400 + rise, y) for rise, y in ((-x, y) for x, y in bowed)]
    cut = piece(wall((400, -2000), *line, (400, 2000)))
    assert (cut.kind, len(cut.cuts[0].points)) == ("crosscut", 2)
    assert (cut.gap_least, cut.gap_most) == pytest.approx((8.5, 11.5), abs=0.15)


def test_a_wall_that_bulges_more_than_the_band_is_scribed_with_every_gap_nominal() -> None:
    """Over 300 mm of board a bulge of 25 mm: no straight line stays within ± 2."""
    bulge = [(x, 15 + 25 * (1 - ((x - 300) / 300) ** 2)) for x in range(0, 601, 10)]
    cut = piece(wall((-2000, 15), *bulge, (2600, 15)))
    assert cut.kind == "scribe"
    assert len(cut.cuts[0].points) > 10
    assert (cut.gap_least, cut.gap_most) == pytest.approx((10, 10), abs=0.02)
    assert (cut.left, cut.right) == pytest.approx((600, 0))


def test_a_wall_that_only_grazes_the_board_leaves_it_whole() -> None:
    """A bite of 1.5 mm is inside the tolerance of 2; one of 2.5 mm is cut."""
    assert piece(wall_for((0, 1.5), (600, 1.5))).kind == "whole"
    assert piece(wall_for((0, 2.5), (600, 2.5))).kind == "rip"
    assert piece(wall_for((598.5, 0), (598.5, 90))).kind == "whole"
    assert piece(wall_for((597.5, 0), (597.5, 90))).kind == "crosscut"


def test_an_edge_left_within_the_band_still_shows_its_gap() -> None:
    """The gap at the edge that was left is 8.5 mm: inside the band."""
    whole = piece(wall_for((0, 1.5), (600, 1.5)))
    assert whole.is_inside_band
    assert whole.gap_least == pytest.approx(8.5, abs=0.01)


def test_an_outside_corner_takes_a_notch_with_an_inner_round() -> None:
    """A block into the board from (400, 50): legs along x = 390 and y = 40, a round of 10 mm between them."""
    notched = piece(block((400, 50), (900, 50), (900, 500), (400, 500)))
    assert (notched.kind, notched.kept_end) == ("notch", "both")
    assert (notched.left, notched.right) == pytest.approx((390, 600), abs=0.01)
    assert polygon_area(notched.outline) == pytest.approx(54000 - 210 * 50 + (100 - pi * 25), abs=1)
    assert (notched.gap_least, notched.gap_most) == pytest.approx((10, 10), abs=0.02)


def test_a_pipe_in_the_board_is_a_hole() -> None:
    """Ø 22 with a gap of 8: a hole of Ø 38, the outer edge untouched."""
    holed = piece(pipe(250, 45, 22))
    assert (holed.kind, holed.kept_end, len(holed.outline)) == ("hole", "both", 2)
    assert (holed.left, holed.right) == (600, 600)
    assert -signed_area(holed.outline[1]) == pytest.approx(pi * 19**2, rel=0.001)
    assert (holed.gap_least, holed.gap_most) == pytest.approx((8, 8), abs=0.01)


def test_a_pipe_at_an_edge_is_a_bite() -> None:
    """Its centre on the right long edge: half of Ø 38 is gone, and the edge is 38 mm shorter."""
    bitten = piece(pipe(250, 0, 22))
    assert (bitten.kind, bitten.kept_end) == ("notch", "both")
    assert (bitten.left, bitten.right) == pytest.approx((600, 600 - 38), abs=0.01)
    assert polygon_area(bitten.outline) == pytest.approx(54000 - pi * 19**2 / 2, abs=1)
    assert (bitten.gap_least, bitten.gap_most) == pytest.approx((8, 8), abs=0.01)


def test_a_pipe_that_only_grazes_the_edge_leaves_it_whole() -> None:
    """Ø 38 reaches 1.5 mm in: inside ± 2; at 3 mm it is bitten out, as wide as the chord, 2·√(19² − 16²)."""
    assert piece(pipe(250, -17.5, 22)).kind == "whole"
    bitten = piece(pipe(250, -16, 22))
    assert bitten.kind == "notch"
    assert bitten.right == pytest.approx(600 - 2 * sqrt(19**2 - 16**2), abs=0.01)


def test_a_block_right_across_parts_the_board_in_two() -> None:
    """Each part is a crosscut with its own end: to 290 mm, and from 330 mm on."""
    first, second = pieces(block((300, -50), (320, -50), (320, 150), (300, 150)))
    assert (first.kind, first.kept_end) == ("crosscut", "start")
    assert (first.left, first.right) == pytest.approx((290, 290), abs=0.01)
    assert (second.kind, second.kept_end) == ("crosscut", "far")
    assert (second.left, second.right) == pytest.approx((270, 270), abs=0.01)


def test_a_sawncut_all_round_is_bounded_by_its_walls() -> None:
    """Four walls inside the board: a tip of 100 × 40 that keeps nothing of the rim."""
    inner = piece(
        wall_for((200, 20), (300, 20), name="a"), wall_for((300, 20), (300, 60), name="b"),
        wall_for((300, 60), (200, 60), name="c"), wall_for((200, 60), (200, 20), name="d"),
    )  # fmt: skip
    assert (inner.left, inner.right, inner.kept_end) == (0, 0, "neither")
    assert polygon_area(inner.outline) == pytest.approx(4000, abs=1)
    assert inner.is_inside_band


@pytest.mark.parametrize("tolerance", [0.0, 0.01])
def test_a_band_without_width_is_cut_exactly(tolerance: float) -> None:
    """A straight wall needs no band."""
    cut = piece(wall_for((390, 0), (300, 90), tolerance=tolerance))
    assert (cut.kind, cut.is_inside_band) == ("mitre", True)
    assert hypot(cut.left - 300, cut.right - 390) < 0.01


def test_a_board_of_another_size_is_cut_by_the_same_rules() -> None:
    """450.5 × 71.3 mm, cut at 45° from 200 mm on the left."""
    cut = piece(wall_for((271.3, 0), (200, 71.3)), size=BoardSize(450.5, 71.3))
    assert (cut.kind, cut.kept_end) == ("mitre", "start")
    assert (cut.left, cut.right, cut.saw_angle) == pytest.approx((200, 271.3, 45), abs=0.01)


@pytest.mark.parametrize(
    ("slant", "y", "diameter", "before"),
    [(-20, 50, 12, 16), (-10, 35, 12, 16), (-10, 50, 22, 6), (-10, 50, 22, 24), (5, 35, 12, 8),
     (5, 50, 22, 16), (5, 35, 40, 20), (5, 50, 40, 24), (20, 35, 12, 6), (20, 50, 22, 8)],
)  # fmt: skip
def test_a_pipe_whose_gap_runs_into_the_walls_leaves_a_sound_outline(
    slant: float, y: float, diameter: float, before: float
) -> None:
    """Where the round and the straight leg meet in a tip, shapely finds no edge that crosses another."""
    parted = pieces(wall_for((300, 0), (300 + slant, 90)), pipe(300 - before, y, diameter), saw_step=0.5)
    assert all(Polygon(sawn.outline[0], sawn.outline[1:]).is_valid for sawn in parted)

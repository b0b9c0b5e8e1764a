"""The saw's angle and its sign: 0° is square, positive leaves the right long edge longer."""

from math import radians, tan

import pytest

from engine.cutting.corridor import CutLine, saw_angle

WIDTH = 90.0


@pytest.mark.parametrize("kept", ["start", "far"])
@pytest.mark.parametrize("longer", ["right", "left"])
@pytest.mark.parametrize("degrees", [0.5, 22.5, 45.0, 70.0])
def test_the_sign_tells_which_long_edge_stays_longer(kept: str, longer: str, degrees: float) -> None:
    """θ = atan((right − left)/W), whichever end of the board stays; the piece lies on the cut's left."""
    lean = WIDTH * tan(radians(degrees)) * (1 if longer == "right" else -1)
    if kept == "start":
        right, left = 300 + lean / 2, 300 - lean / 2
        direction = (left - right, WIDTH)
    else:
        right, left = 600 - (300 + lean / 2), 600 - (300 - lean / 2)
        direction = (right - left, -WIDTH)
    assert saw_angle(direction) == pytest.approx(degrees if longer == "right" else -degrees)


@pytest.mark.parametrize("direction", [(0.0, 1.0), (0.0, -1.0)])
def test_square_across_the_board_is_no_angle(direction: tuple[float, float]) -> None:
    assert saw_angle(direction) == 0


@pytest.mark.parametrize(("direction", "angle"), [((1.0, 0.0), -90), ((-1.0, 0.0), 90)])
def test_along_the_board_is_a_right_angle(direction: tuple[float, float], angle: float) -> None:
    """A rip that keeps the left edge takes all of the right one, and the other way round."""
    assert saw_angle(direction) == angle


def test_half_a_degree_is_eight_tenths_of_a_millimetre_over_a_board() -> None:
    """METHODS.md, from piece to saw: 0.8 mm over 90 mm at square, 1.1 mm at 45° (there as printed: calc)."""
    at_square = WIDTH * tan(radians(0.5))
    assert saw_angle((-at_square, WIDTH)) == pytest.approx(0.5)
    assert at_square == pytest.approx(0.8, abs=0.05)
    long_point = WIDTH / (2**0.5 / 2)
    assert long_point * radians(0.5) == pytest.approx(1.1, abs=0.05)


def test_a_cut_knows_its_two_sides() -> None:
    """Points of the piece are positive, by their distance in mm."""
    cut = CutLine(at=(300.0, 0.0), direction=(0.0, 1.0), departure=0.0)
    assert (cut.side((290.0, 45.0)), cut.side((325.0, 0.0))) == (10.0, -25.0)

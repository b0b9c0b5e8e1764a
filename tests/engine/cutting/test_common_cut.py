"""One straight cut through boards glued to one."""

from math import cos, pi, sin

from engine.cutting.common_cut import common_cut
from engine.geometry.barrier import Leeway


def test_pieces_all_round_a_pipe_have_no_straight_cut_in_common() -> None:
    """Regression: two halves of a circle begin and end at one point, and the plan stopped."""
    circle = [(12.5 * cos(turn), 12.5 * sin(turn)) for turn in (2 * pi * step / 40 for step in range(40))]
    circle.append(circle[0])
    halves = [tuple(circle[:21]), tuple(circle[20:])]
    assert common_cut(halves, [], ([], []), Leeway(less=2.0, more=2.0)) is None

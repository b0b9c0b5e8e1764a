"""The long straight cut against a worked example, and its marks against what can be reckoned by hand."""

from math import isclose

import pytest

from engine.cutting.long_cut import long_cut_line, offset_at, part_between
from engine.cutting.long_marks import fit_edge


def test_a_bowed_edge_gets_the_line_half_way_up_its_bow() -> None:
    """By hand: an edge that bows 4 mm into the floor half-way along 2 m, gap 5: 7 at both ends, 3 between."""
    line = long_cut_line([(0, 0), (1000, 4), (2000, 0)], 5)
    assert line.ends == ((0, 7), (2000, 7))
    assert line.gaps == (7, 3, 7)
    assert line.narrowest == (1000, 3)
    assert line.widest == (0, 7)


def test_the_seam_of_a_bowed_edge_is_its_mean_gap_times_its_length() -> None:
    """By hand: 7 to 3 to 7 mm is 5 mm in the mean, over 2 m 10 000 mm²; 14 mm deep that is 140 ml."""
    line = long_cut_line([(0, 0), (1000, 4), (2000, 0)], 5)
    assert line.seam_area == pytest.approx(10_000)
    assert line.seam_area * 14 / 1000 == pytest.approx(140)


@pytest.mark.parametrize("gap", [0, 1, 2])
def test_the_edge_is_never_cut_into(gap: float) -> None:
    """By hand: half the bow of 4 mm is more than the gap or as much: 0 where it bows most, 4 at its ends."""
    line = long_cut_line([(0, 0), (1000, 4), (2000, 0)], gap)
    assert line.gaps == (4, 0, 4)


def test_a_slanted_edge_keeps_its_gap_square_to_the_cut() -> None:
    """By hand, a slope of 3 in 4: the cut lies 10 mm off square to the edge, so 12.5 mm up."""
    line = long_cut_line([(0, 0), (400, 300)], 10)
    assert isclose(line.rest, 12.5)
    assert line.gaps == pytest.approx((10, 10))
    assert line.length == pytest.approx(500)
    assert line.seam_area == pytest.approx(5000)
    assert line.moved_ends(20)[0] == pytest.approx((-18, 24))


def test_the_distance_to_a_cut_is_counted_into_the_floor() -> None:
    """A point of the floor lies on the positive side of the cut, the edge on the negative."""
    cut = long_cut_line([(0, 0), (1000, 0)], 3).as_cut()
    assert cut.side((500, 100)) == pytest.approx(97)
    assert cut.side((500, 0)) == pytest.approx(-3)


def test_part_of_an_edge_ends_on_the_edge() -> None:
    """Both ends of the part are taken from the edge between its own points; a step keeps its right side."""
    edge = ((0, 0), (100, 10), (100, 30), (200, 30))
    assert part_between(edge, 50, 150) == ((50, 5), (100, 10), (100, 30), (150, 30))
    assert part_between(edge, 100, 150) == ((100, 30), (150, 30))
    assert part_between(edge, 50, 100) == ((50, 5), (100, 10))
    assert offset_at(edge, 100) == 20
    assert offset_at(edge, -5) == 0
    assert offset_at(edge, 250) == 30


def test_two_marks_are_met_exactly() -> None:
    """A shift of 2 mm at one end and 4 at the other is 3 in the middle and turns by 1 mm a metre."""
    fit = fit_edge([0, 2000], [2, 4], 0.7)
    assert fit is not None
    assert (fit.shift, fit.turn, fit.middle) == (3, 0.001, 1000)
    assert [mark.residual for mark in fit.marks] == [0, 0]
    assert not any(mark.is_doubted for mark in fit.marks)
    assert fit.moved(500) == 2.5
    # By hand: at a mark the other says nothing, half-way the mean of two is 1/√2 as uncertain.
    assert fit.sd_at(0) == pytest.approx(0.7)
    assert fit.sd_at(1000) == pytest.approx(0.7 / 2**0.5)


def test_one_mark_of_five_that_does_not_fit_is_named_with_what_it_is_off() -> None:
    """Five marks on a line, the second 6 mm off: that one alone is doubted, and by 6 mm."""
    stations = [0, 500, 1000, 1500, 2000]
    fit = fit_edge(stations, [1 + u / 1000 + (6 if u == 500 else 0) for u in stations], 0.7)
    assert fit is not None
    assert [mark.is_doubted for mark in fit.marks] == [False, True, False, False, False]
    assert fit.marks[1].off == pytest.approx(6)


def test_of_three_marks_none_can_be_told_from_the_others() -> None:
    """One equation too many proves that something is wrong and not where: all three are doubted."""
    fit = fit_edge([0, 1000, 2000], [0, 6, 0], 0.7)
    assert fit is not None
    assert all(mark.is_doubted for mark in fit.marks)


def test_marks_within_their_own_accuracy_are_not_doubted() -> None:
    """A millimetre of scatter is what a rule and a joint leave."""
    fit = fit_edge([0, 700, 1300, 2000], [0.5, -0.5, 0.5, -0.5], 0.7)
    assert fit is not None
    assert not any(mark.is_doubted for mark in fit.marks)


@pytest.mark.parametrize(("stations", "moves"), [([], []), ([400.0], [1.0]), ([400.0, 450.0], [1.0, 1.0])])
def test_without_two_marks_apart_there_is_no_line(stations: list[float], moves: list[float]) -> None:
    """Fewer than two marks, or two side by side, say nothing of a turn."""
    assert fit_edge(stations, moves, 0.7) is None

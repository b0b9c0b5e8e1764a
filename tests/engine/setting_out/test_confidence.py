"""How sure a fit is: chance and its factors against the tables, as scipy has them."""

import pytest
from scipy import stats

from engine.setting_out.confidence import NORMAL, by_chance, most_chi_square, student


@pytest.mark.parametrize("freedom", [1, 2, 3, 4, 5, 7, 12, 31])
@pytest.mark.parametrize("t", [0.3, 2.0, 5.0, 12.0])
def test_how_often_chance_goes_beyond_is_that_of_the_tables(freedom: int, t: float) -> None:
    """Student's two-sided tail as scipy has it, and so the F-test's of one degree against many."""
    assert by_chance(t, freedom) == pytest.approx(2 * stats.t.sf(t, freedom), abs=1e-9)
    assert by_chance(t, freedom) == pytest.approx(stats.f.sf(t * t, 1, freedom), abs=1e-9)


@pytest.mark.parametrize("freedom", [1, 2, 3, 4, 5, 6, 8, 12, 20, 60])
def test_the_factors_are_those_of_the_tables(freedom: int) -> None:
    """Student's and chi-square's points as scipy has them."""
    assert student(freedom) == pytest.approx(stats.t.ppf(0.975, freedom), rel=5e-4)
    assert most_chi_square(freedom) == pytest.approx(stats.chi2.ppf(0.95, freedom), rel=0.03)
    assert pytest.approx(stats.norm.ppf(0.975), abs=1e-6) == NORMAL

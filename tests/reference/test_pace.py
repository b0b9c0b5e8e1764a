"""The pace's limits against scipy's gamma distribution, and its promise of 8 times in 10 on seeded work days.

Gamma quantiles: scipy.stats.gamma.ppf. The limits of a rate for wholly irregular work: the exact ones of a
Poisson rate, chi-square with twice as many degrees of freedom as pieces (Epstein & Sobel 1953; scipy.stats).
"""

from collections import Counter
from collections.abc import Callable
from random import Random

import pytest
from scipy.stats import chi2, gamma

from engine.planning.pace import Mark, gamma_limits, pace

DAYS = 400


@pytest.mark.parametrize("shape", [3, 4.5, 8, 20, 75, 400])
def test_limits_are_those_of_a_gamma_distribution(shape: float) -> None:
    """From three pieces on, the closed form is within 1 % of scipy's quantiles."""
    assert gamma_limits(shape) == pytest.approx(gamma.ppf([0.1, 0.9], shape), rel=0.01)


def test_the_rate_of_irregular_work_has_the_exact_limits_of_a_poisson_rate() -> None:
    """Seven pieces in an hour, too few to judge their regularity: χ² with 14 degrees of freedom over 2 T."""
    times = [0, 300, 1100, 1300, 2400, 2700, 2900, 3600]
    found = pace([Mark(kind="mitre", at=at) for at in times], Counter())
    assert found is not None
    assert found.rate == pytest.approx(chi2.ppf([0.1, 0.9], 14) / 2, rel=0.01)


def irregular(rng: Random, mean: float) -> float:
    """As calls come in."""
    return rng.expovariate(1 / mean)


def steady(rng: Random, mean: float) -> float:
    """Half the spread of that."""
    return rng.gammavariate(4, mean / 4)


def slips(rng: Random, mean: float) -> float:
    """Mostly alike, now and then much longer: log-normal with a spread of 60 %."""
    return mean * rng.lognormvariate(-0.154, 0.555)


def hits(seconds: Callable[[Random, float], float], done: int, left: int) -> tuple[float, float, float]:
    """How often rate and hours left were inside, and how wide the rate was, over all days."""
    rate = hours = width = 0.0
    for seed in range(DAYS):
        rng = Random(f"{seconds.__name__} {seed}")
        means = {"mitre": 240.0, "crosscut": 120.0}
        at, marks = 0.0, [Mark(kind="mitre", at=0.0)]
        for number in range(done):
            kind = ("mitre", "crosscut")[number % 2]
            at += min(max(seconds(rng, means[kind]), 21), 1799)
            marks.append(Mark(kind=kind, at=at))
        found = pace(marks, Counter({"mitre": left, "crosscut": left}))
        assert found is not None
        to_come = sum(min(max(seconds(rng, mean), 21), 1799) for mean in means.values() for _ in range(left))
        mitre = next(kind for kind in found.kinds if kind.kind == "mitre")
        assert mitre.rate is not None
        rate += mitre.rate[0] <= 3600 / means["mitre"] <= mitre.rate[1]
        width += mitre.rate[1] / mitre.rate[0]
        hours += found.hours[0] <= to_come / 3600 <= found.hours[1]
    return rate / DAYS, hours / DAYS, width / DAYS


@pytest.mark.parametrize("seconds", [irregular, steady, slips])
@pytest.mark.parametrize(("done", "left"), [(10, 30), (40, 20), (120, 60)])
def test_rate_and_hours_left_come_true_about_8_times_in_10(
    seconds: Callable[[Random, float], float], done: int, left: int
) -> None:
    """Seeded days of three tempers, early, half-way, late: not too much promised, nor so wide as to be idle.

    Before regularity is judged the limits are those of irregular work, and hold more often.
    """
    rate, hours, _ = hits(seconds, done, left)
    most = 0.995 if done < 16 else 0.9
    assert 0.72 <= rate <= most
    assert 0.72 <= hours <= most


def test_regular_work_is_told_more_narrowly() -> None:
    """After 60 pieces the spread of steady work is well below that of irregular work."""
    assert hits(steady, 60, 20)[2] < 0.85 * hits(irregular, 60, 20)[2]

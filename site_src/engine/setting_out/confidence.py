"""How wide a 95 % bound is: the factors of the normal and of Student's distribution, and a test of fit."""

from math import atan2, cos, pi, sin, sqrt

# Two-sided 95 %: the normal distribution's 97.5 % point.
NORMAL = 1.959964

# Student's t, two-sided 95 %, by degrees of freedom (tables in any statistics handbook).
_STUDENT = {
    1: 12.70620,
    2: 4.302653,
    3: 3.182446,
    4: 2.776445,
    5: 2.570582,
    6: 2.446912,
    7: 2.364624,
    8: 2.306004,
}

# One-sided 95 % point of the normal distribution.
_ONE_SIDED = 1.644854


def student(freedom: int) -> float:
    """Two-sided 95 % point of Student's t; beyond the table by Fisher's expansion about the normal.

    Source: R. A. Fisher, 1941; Abramowitz and Stegun 26.7.5.
    """
    if freedom in _STUDENT:
        return _STUDENT[freedom]
    z = NORMAL
    terms = (
        z,
        (z**3 + z) / 4,
        (5 * z**5 + 16 * z**3 + 3 * z) / 96,
        (3 * z**7 + 19 * z**5 + 17 * z**3 - 15 * z) / 384,
    )
    return float(sum(term / freedom**power for power, term in enumerate(terms)))


def most_chi_square(freedom: int) -> float:
    """What weighted squares exceed by chance 5 times of 100 (Wilson and Hilferty 1931, within 3 %)."""
    share = 2 / (9 * freedom)
    return float(freedom * (1 - share + _ONE_SIDED * sqrt(share)) ** 3)


def by_chance(t: float, freedom: int) -> float:
    """How often chance alone takes Student's t beyond ± ``t``: 1 − A(t | freedom).

    Source: Abramowitz and Stegun 26.7.3 and 26.7.4, exact for whole degrees of freedom. Its square is F with
    1 and ``freedom`` degrees.
    """
    angle = atan2(t, sqrt(freedom))
    sine, cosine = sin(angle), cos(angle)
    odd = freedom % 2
    term, total = (cosine if odd else 1.0), 0.0
    for power in range(2 + odd, freedom + 1, 2):
        total += term
        term *= cosine**2 * (power - 1) / power
    inside = 2 / pi * (angle + sine * total) if odd else sine * total
    return max(1 - inside, 0.0)

"""Least squares over lengths between corners: places, residuals, and what a blunder would look like.

Gauss–Newton on the lengths (Ghilani and Wolf, Adjustment Computations,
chapter 14), reliability after Baarda (redundancy numbers and data snooping).
"""

from collections.abc import Mapping, Sequence
from math import atan2, degrees, dist, inf, log, sqrt

from msgspec import Struct

from engine.errors import Finding, Refused
from engine.geometry.linear import Matrix, Singular, cholesky, inverse, normal_equations, solve_lower
from engine.geometry.shapes import Point

# Two-sided normal quantile at α = 0.001 (Baarda's test; TRADE.md).
OUTLIER = 3.2905

# Shift of w that this test finds with 80 % power: 3.29 + 0.84.
DETECTABLE = 4.13

# Below this a reading is checked by no other: rounding alone gives such numbers.
UNCHECKED = 1e-6

# Chi-square with two degrees of freedom at 95 %: -2 ln 0.05.
ELLIPSE_SCALE = sqrt(-2 * log(0.05))

# The iteration ends when no corner moves more than this, in mm.
SETTLED = 1e-7
MOST_ROUNDS = 60

Unknown = tuple[str, int]


class Length(Struct, frozen=True, kw_only=True):
    """A measured length between two corners in mm, its standard deviation, and its place in the job file."""

    from_: str
    to: str
    value: float
    sd: float
    path: str = ""

    @property
    def name(self) -> str:
        """Both corners, as a person reads them."""
        return f"{self.from_}–{self.to}"


class Adjusted(Struct, frozen=True, kw_only=True):
    """One length after the adjustment.

    ``residual`` is adjusted − observed in mm. ``redundancy`` (0 to 1) is the
    share of a blunder that shows in the residual, ``w`` the residual over its
    standard deviation (0 when nothing checks it) and ``smallest_blunder`` what
    the test finds with 80 % power, infinite when nothing checks it.
    """

    length: Length
    adjusted: float
    residual: float
    redundancy: float
    w: float
    smallest_blunder: float


class Ellipse(Struct, frozen=True, kw_only=True):
    """95 % error ellipse: half axes in mm and the heading of the greater one in degrees (0 to 180)."""

    major: float
    minor: float
    heading: float


class Adjustment(Struct, frozen=True, kw_only=True):
    """Adjusted places and what is known of them.

    ``unknowns`` are (corner, 0 for x or 1 for y) in the order of ``cofactors``
    (mm², from the given standard deviations). ``unit_sd`` is S₀, None without
    redundancy.
    """

    places: dict[str, Point]
    unknowns: tuple[Unknown, ...]
    cofactors: Matrix
    lengths: tuple[Adjusted, ...]
    redundancy: int
    sum_squares: float

    @property
    def unit_sd(self) -> float | None:
        """S₀, the residuals against what their standard deviations let expect."""
        return sqrt(self.sum_squares / self.redundancy) if self.redundancy > 0 else None

    def covariance(self, name: str) -> tuple[float, float, float]:
        """Variance in x, covariance, variance in y of a corner in mm²; zero where it is held."""
        at = {unknown: i for i, unknown in enumerate(self.unknowns)}
        x, y = at.get((name, 0)), at.get((name, 1))
        xx = self.cofactors[x][x] if x is not None else 0.0
        yy = self.cofactors[y][y] if y is not None else 0.0
        xy = self.cofactors[x][y] if x is not None and y is not None else 0.0
        return xx, xy, yy

    def ellipse(self, name: str) -> Ellipse:
        """95 % ellipse of a corner."""
        xx, xy, yy = self.covariance(name)
        middle, half = (xx + yy) / 2, sqrt(((xx - yy) / 2) ** 2 + xy * xy)
        return Ellipse(
            major=ELLIPSE_SCALE * sqrt(middle + half),
            minor=ELLIPSE_SCALE * sqrt(max(middle - half, 0.0)),
            heading=degrees(atan2(2 * xy, xx - yy) / 2) % 180,
        )


def adjust(lengths: Sequence[Length], start: Mapping[str, Point], unknowns: Sequence[Unknown]) -> Adjustment:
    """Adjust the unknown coordinates to the lengths, from a start that is near.

    Coordinates that are not unknown are held. Raises Refused, naming the
    corner, when the lengths do not determine it.
    """
    places = dict(start)
    weights = [1 / length.sd**2 for length in lengths]
    for _ in range(MOST_ROUNDS):
        shift = _shift(lengths, places, unknowns, weights)
        moved = _damped(lengths, places, unknowns, shift)
        if moved is None:
            break
        places = moved
        if max(map(abs, shift), default=0.0) < SETTLED:
            break
    return _result(lengths, places, tuple(unknowns), weights)


def sum_squares(lengths: Sequence[Length], places: Mapping[str, Point]) -> float:
    """Σ (residual / sd)²."""
    return sum(((_distance(length, places) - length.value) / length.sd) ** 2 for length in lengths)


def _distance(length: Length, places: Mapping[str, Point]) -> float:
    return dist(places[length.from_], places[length.to])


def design_row(length: Length, places: Mapping[str, Point], unknowns: Sequence[Unknown]) -> list[float]:
    """How the length changes with each unknown (without unit)."""
    at = {unknown: i for i, unknown in enumerate(unknowns)}
    (ax, ay), (bx, by) = places[length.from_], places[length.to]
    reach = dist((ax, ay), (bx, by)) or 1.0
    direction = ((bx - ax) / reach, (by - ay) / reach)
    row = [0.0] * len(at)
    for axis in (0, 1):
        for name, sign in ((length.from_, -1), (length.to, 1)):
            if (name, axis) in at:
                row[at[name, axis]] += sign * direction[axis]
    return row


def _rows(
    lengths: Sequence[Length], places: Mapping[str, Point], unknowns: Sequence[Unknown]
) -> list[list[float]]:
    return [design_row(length, places, unknowns) for length in lengths]


def _factor(matrix: Matrix, unknowns: Sequence[Unknown]) -> Matrix:
    try:
        return cholesky(matrix)
    except Singular as fault:
        corner = unknowns[fault.unknown][0]
        raise Refused(
            Finding(
                path="room.ties",
                code="corner not determined",
                sentence=f"The lengths do not hold corner {corner} in place: it can still move. "
                f"Measure one more tie to {corner}, at a good angle to the lengths that it has.",
            )
        ) from fault


def _shift(
    lengths: Sequence[Length],
    places: Mapping[str, Point],
    unknowns: Sequence[Unknown],
    weights: Sequence[float],
) -> list[float]:
    misses = [length.value - _distance(length, places) for length in lengths]
    matrix, vector = normal_equations(_rows(lengths, places, unknowns), weights, misses)
    return solve_lower(_factor(matrix, unknowns), vector)


def _moved(
    places: Mapping[str, Point], unknowns: Sequence[Unknown], shift: Sequence[float], share: float
) -> dict[str, Point]:
    coordinates = {name: [x, y] for name, (x, y) in places.items()}
    for (name, axis), step in zip(unknowns, shift, strict=True):
        coordinates[name][axis] += share * step
    return {name: (x, y) for name, (x, y) in coordinates.items()}


def _damped(
    lengths: Sequence[Length],
    places: dict[str, Point],
    unknowns: Sequence[Unknown],
    shift: Sequence[float],
) -> dict[str, Point] | None:
    """Take the whole step, or a half, a quarter … until the residuals shrink; None at the bottom."""
    before = sum_squares(lengths, places)
    for halvings in range(12):
        moved = _moved(places, unknowns, shift, 0.5**halvings)
        if sum_squares(lengths, moved) < before:
            return moved
    return None


def _result(
    lengths: Sequence[Length],
    places: dict[str, Point],
    unknowns: tuple[Unknown, ...],
    weights: Sequence[float],
) -> Adjustment:
    rows = _rows(lengths, places, unknowns)
    matrix, _ = normal_equations(rows, weights, [0.0] * len(lengths))
    cofactors = inverse(_factor(matrix, unknowns))
    return Adjustment(
        places=places,
        unknowns=unknowns,
        cofactors=cofactors,
        lengths=tuple(
            _adjusted(length, _distance(length, places), row, cofactors)
            for length, row in zip(lengths, rows, strict=True)
        ),
        redundancy=len(lengths) - len(unknowns),
        sum_squares=sum_squares(lengths, places),
    )


def _adjusted(length: Length, adjusted: float, row: Sequence[float], cofactors: Matrix) -> Adjusted:
    redundancy = min(max(1 - quadratic(row, cofactors) / length.sd**2, 0.0), 1.0)
    residual = adjusted - length.value
    checked = redundancy > UNCHECKED
    return Adjusted(
        length=length,
        adjusted=adjusted,
        residual=residual,
        redundancy=redundancy,
        w=residual / (length.sd * sqrt(redundancy)) if checked else 0.0,
        smallest_blunder=DETECTABLE * length.sd / sqrt(redundancy) if checked else inf,
    )


def quadratic(row: Sequence[float], cofactors: Matrix) -> float:
    """Variance a Q aᵀ of the linear form ``row``."""
    used = [i for i, value in enumerate(row) if value]
    return sum(row[i] * row[j] * cofactors[i][j] for i in used for j in used)

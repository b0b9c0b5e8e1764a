"""How sure we are of a wall between its readings: a band about the curve that the saw will follow.

Half the band is what the curve misses the likeliest wall by, plus two standard
deviations of the wall about that. It is an estimate: see ``roughness``.
"""

from bisect import bisect_right
from collections.abc import Sequence
from functools import lru_cache
from math import ceil, hypot, sqrt

from msgspec import Struct

from engine.errors import Finding
from engine.geometry.linear import Matrix, cholesky, solve_lower
from engine.survey.curves import Curve
from engine.survey.roughness import Stretch
from engine.survey.tolerances import ASKED_ABOUT, STATION_STEP
from engine.units import number_text

# Two standard deviations: 95 % of a normal error.
BAND = 2.0

# Spacings that make sense on a wall, mm.
LEAST_SPACING, MOST_SPACING = 50.0, 5000.0

# So many spans make a row whose ends do not matter in its middle; odd, so that its middle is half-way.
ROW = 11

# A band is drawn at about this many places between two readings.
PLACES = 8


class Known(Struct, frozen=True, kw_only=True):
    """A stretch with its readings worked in, for a given roughness."""

    stretch: Stretch
    q: float
    lower: Matrix
    weights: tuple[float, ...]

    def mean(self, station: float) -> float:
        """The likeliest offset in mm."""
        pulls = self._pulls(station)
        return self.stretch.line(station) + sum(a * b for a, b in zip(pulls, self.weights, strict=True))

    def sd(self, station: float) -> float:
        """Standard deviation of the true offset about ``mean`` in mm."""
        pulls = self._pulls(station)
        explained = sum(a * b for a, b in zip(pulls, solve_lower(self.lower, pulls), strict=True))
        return sqrt(max(self.stretch.prior(self.q, station, station) - explained, 0.0))

    def _pulls(self, station: float) -> list[float]:
        return [self.stretch.prior(self.q, station, at) for at, _ in self.stretch.points[1:-1]]


class Band(Struct, frozen=True, kw_only=True):
    """The band of one wall. All in mm."""

    curve: Curve
    parts: tuple[Known, ...]

    @property
    def chord(self) -> float:
        """Straight length of the wall."""
        return self.parts[-1].stretch.points[-1][0]

    def mean(self, station: float) -> float:
        """The likeliest offset."""
        return self._part(station).mean(station)

    def sd(self, station: float) -> float:
        """Standard deviation of the true offset about ``mean``."""
        return self._part(station).sd(station)

    def half_width(self, station: float) -> float:
        """The true wall lies within this of the curve, 95 times of 100."""
        return abs(self.curve.offset(station) - self.mean(station)) + BAND * self.sd(station)

    def drawn(self) -> tuple[tuple[float, float, float], ...]:
        """(station, offset of the curve, half width) from corner to corner, ready to draw."""
        return tuple((s, self.curve.offset(s), self.half_width(s)) for s in self.stations())

    def stations(self) -> tuple[float, ...]:
        """Corners, readings and ``PLACES`` between two of them."""
        marks = sorted({station for part in self.parts for station, _ in part.stretch.points})
        between = (
            a + (b - a) * k / PLACES for a, b in zip(marks, marks[1:], strict=False) for k in range(PLACES)
        )
        return (*between, marks[-1])

    def _part(self, station: float) -> Known:
        starts = [part.stretch.start for part in self.parts]
        return self.parts[max(bisect_right(starts, station) - 1, 0)]


def known(stretch: Stretch, q: float) -> Known:
    """Work the readings of a stretch in."""
    lower = cholesky(stretch.covariance(q))
    return Known(stretch=stretch, q=q, lower=lower, weights=tuple(solve_lower(lower, stretch.misses())))


def wall_band(curve: Curve, stretches: Sequence[Stretch], q: float) -> Band:
    """The band about a wall's curve, for the room's roughness ``q``."""
    return Band(curve=curve, parts=tuple(known(stretch, q) for stretch in stretches))


def question(band: Band, station: float, offset: float, sd: float, path: str, wall: str) -> Finding | None:
    """Ask about a new or a check reading that does not go with the others; None when it does.

    ``sd`` is the reading's own standard deviation, ``wall`` the wall's name.
    """
    away = offset - band.mean(station)
    if abs(away) <= ASKED_ABOUT * hypot(band.sd(station), sd):
        return None
    return Finding(
        path=path,
        code="reading stands out",
        level="warning",
        sentence=f"Wall {wall}, station {number_text(station, 0)} mm: {number_text(offset, 1)} mm is "
        f"{number_text(abs(away), 0)} mm away from the curve so far. Keep it, or read again?",
    )


def check_finding(
    band: Band, station: float, offset: float, sd: float, path: str, wall: str
) -> Finding | None:
    """Say when a check reading falls outside the band (widened by the reading's own error)."""
    away = offset - band.curve.offset(station)
    allowed = band.half_width(station)
    if abs(away) <= hypot(allowed, BAND * sd):
        return None
    return Finding(
        path=path,
        code="check outside the band",
        level="warning",
        sentence=f"The check at station {number_text(station, 0)} mm of wall {wall} lies "
        f"{number_text(abs(away), 1)} mm off the curve, outside its band of ±{number_text(allowed, 1)} mm. "
        "Read there again; if it stays, add it as a reading and read once more on each side of it.",
    )


@lru_cache(maxsize=16)
def spacing_for(accuracy: float, q: float, sd: float) -> float | None:
    """Greatest distance between stations in mm that keeps the band within ± ``accuracy`` half-way.

    None when the gauge alone is too coarse for that. Kept, because all walls
    of a room that were read with one gauge ask the same.
    """
    near, far = LEAST_SPACING, MOST_SPACING
    if BAND * half_way_sd(near, q, sd) > accuracy:
        return None
    while far - near > STATION_STEP / 10:
        middle = (near + far) / 2
        near, far = (middle, far) if BAND * half_way_sd(middle, q, sd) <= accuracy else (near, middle)
    return near


def half_way_sd(spacing: float, q: float, sd: float) -> float:
    """Standard deviation half-way between two readings of an evenly read row, in mm.

    With exact readings it is √(0.01093·q·h³). (q·h³/192 would hold if slopes
    were read too, not offsets alone.)
    """
    points = tuple((spacing * k, 0.0) for k in range(ROW + 1))
    row = Stretch(points=points, sds=(sd,) * (ROW + 1))
    return known(row, q).sd(spacing * ROW / 2)


def readings_for(chord: float, spacing: float) -> int:
    """How many evenly spaced stations a wall of that length needs between its corners."""
    return max(ceil(chord / spacing) - 1, 0)

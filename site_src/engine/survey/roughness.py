"""What a wall may do between readings: a prior, and how rough this room's walls turn out to be.

Between two points that are held, the wall is taken as an integrated random
walk: its bend is white noise of strength ``q`` (mm²/mm³), its offset a Gaussian
process. Second differences of readings cannot see a bump that lies between two
of them, so q never falls below a floor and every band is an estimate.
"""

from collections.abc import Iterable, Sequence
from math import exp, log

from msgspec import Struct

from engine.geometry.linear import Matrix, cholesky, solve_lower
from engine.model.job import Pair
from engine.survey.curves import split_at_breaks
from engine.survey.tolerances import LEAST_ROUGHNESS

# Roughness is looked for on this ladder, half a decade from rung to rung, floor first.
LADDER = tuple(LEAST_ROUGHNESS * 10 ** (rung / 2) for rung in range(7))


class Stretch(Struct, frozen=True, kw_only=True):
    """A wall or a part of it between two breaks, as read.

    ``points`` are (station, offset), its two ends first and last. ``sds`` are
    the standard deviations of the points in mm: 0 where a corner is meant.
    """

    points: tuple[Pair, ...]
    sds: tuple[float, ...]

    @property
    def start(self) -> float:
        """Station of the first end."""
        return self.points[0][0]

    @property
    def length(self) -> float:
        """From end to end along the stations, mm."""
        return self.points[-1][0] - self.points[0][0]

    def line(self, station: float) -> float:
        """Offset of the straight line between the two ends as read."""
        share = (station - self.start) / self.length
        return self.points[0][1] + share * (self.points[-1][1] - self.points[0][1])

    def prior(self, q: float, one: float, other: float) -> float:
        """Covariance in mm² of the wall's offsets from that line at two stations, before any reading inside.

        A beam's influence line (the wall bends) and the errors of both ends.
        """
        low, high = sorted((one - self.start, other - self.start))
        rest = self.length - high
        bent = low * rest * (self.length**2 - low**2 - rest**2) / (6 * self.length)
        u, v = low / self.length, high / self.length
        ends = self.sds[0] ** 2 * (1 - u) * (1 - v) + self.sds[-1] ** 2 * u * v
        return q * bent + ends

    def covariance(self, q: float) -> Matrix:
        """Covariance of the readings inside, their own errors included."""
        inside = [station for station, _ in self.points[1:-1]]
        matrix = [[self.prior(q, a, b) for b in inside] for a in inside]
        for i, sd in enumerate(self.sds[1:-1]):
            matrix[i][i] += sd**2
        return matrix

    def misses(self) -> list[float]:
        """Offsets of the readings inside from the line between the ends."""
        return [offset - self.line(station) for station, offset in self.points[1:-1]]


def log_likelihood(stretch: Stretch, q: float) -> float:
    """How well that roughness explains the readings inside, up to a constant."""
    misses = stretch.misses()
    if not misses:
        return 0.0
    lower = cholesky(stretch.covariance(q))
    weighted = solve_lower(lower, misses)
    squares = sum(a * b for a, b in zip(misses, weighted, strict=True))
    return -squares / 2 - sum(log(lower[i][i]) for i in range(len(lower)))


def room_roughness(stretches: Iterable[Stretch]) -> float:
    """The q of all stretches together, in mm²/mm³: the mean of the ladder weighted by likelihood.

    Walls of one room were built by one hand, so their few readings are pooled.
    """
    return weighted_roughness(likelihoods(stretches))


def likelihoods(stretches: Iterable[Stretch]) -> tuple[float, ...]:
    """Log-likelihood of the readings for each rung of the ladder."""
    pooled = [0.0] * len(LADDER)
    for stretch in stretches:
        for rung, q in enumerate(LADDER):
            pooled[rung] += log_likelihood(stretch, q)
    return tuple(pooled)


def weighted_roughness(pooled: Sequence[float]) -> float:
    """Geometric mean of the ladder, each rung as likely as the readings make it."""
    best = max(pooled)
    weights = [exp(value - best) for value in pooled]
    mean = sum(w * log(q) for w, q in zip(weights, LADDER, strict=True)) / sum(weights)
    return exp(mean)


def wall_stretches(
    chord: float, readings: Sequence[Pair], breaks: Sequence[float], sd: float
) -> tuple[Stretch, ...]:
    """The wall between its corners (which are exact in the wall's own frame) and breaks, each as read."""
    return tuple(
        Stretch(points=part, sds=tuple(0.0 if station in (0.0, chord) else sd for station, _ in part))
        for part in split_at_breaks(chord, readings, breaks)
    )

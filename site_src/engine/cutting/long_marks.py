"""Where an edge lies against the floor as laid, from distances measured between the two.

The survey knows the shape of the edge; the floor may have come to lie a little
beside its plan, and turned. Each mark on the laid floor, with its distance to the
edge, is one equation for a shift and a turn of the edge against the floor. Two
marks give both exactly, more give them by least squares and are held against one
another. All in the frame of the straight line between the wall's corners: u along
it, v into the room, mm.
"""

from collections.abc import Sequence
from math import sqrt

from msgspec import Struct

# A residual beyond this many standard deviations is doubted (Baarda, α = 0.001), as in the survey.
DOUBTED = 3.29
# Marks nearer together than this say nothing of a turn, mm.
LEAST_SPAN = 100.0
# Two marks are doubted alike when their tests differ by less than this part.
ALIKE = 0.05
# A mark that alone holds a part of the fit is proved by no other.
HELD = 1e-6


class MarkFit(Struct, frozen=True, kw_only=True):
    """How one mark goes with the others, mm.

    ``residual`` is where the fit puts the edge less where this mark does; ``off``
    what the mark is off from the fit of the others, None when they say nothing of
    its place.
    """

    residual: float
    off: float | None
    is_doubted: bool


class EdgeFit(Struct, frozen=True, kw_only=True):
    """The edge lies ``shift + turn · (u − middle)`` farther into the floor than surveyed.

    ``sd`` is the standard deviation of one mark in mm, ``spread`` the sum of squares of the marks'
    stations about their middle.
    """

    shift: float
    turn: float
    middle: float
    spread: float
    sd: float
    marks: tuple[MarkFit, ...]

    def moved(self, station: float) -> float:
        """How much farther into the floor the edge lies at a station, mm."""
        return self.shift + self.turn * (station - self.middle)

    def sd_at(self, station: float) -> float:
        """Standard deviation in mm of the edge's place at a station."""
        return self.sd * sqrt(1 / len(self.marks) + (station - self.middle) ** 2 / self.spread)


def fit_edge(stations: Sequence[float], moves: Sequence[float], sd: float) -> EdgeFit | None:
    """The least-squares shift and turn; None with fewer than two marks, or all of them in one place.

    ``moves`` is how much farther into the floor than surveyed each mark finds the edge.
    """
    if len(stations) < 2 or max(stations) - min(stations) < LEAST_SPAN:
        return None
    middle, shift = sum(stations) / len(stations), sum(moves) / len(moves)
    spread = sum((u - middle) ** 2 for u in stations)
    turn = sum((u - middle) * move for u, move in zip(stations, moves, strict=True)) / spread
    residuals = [shift + turn * (u - middle) - move for u, move in zip(stations, moves, strict=True)]
    held = [1 / len(stations) + (u - middle) ** 2 / spread for u in stations]
    marks = _tested(residuals, [1 - part for part in held], sd)
    return EdgeFit(shift=shift, turn=turn, middle=middle, spread=spread, sd=sd, marks=marks)


def _tested(residuals: Sequence[float], redundancies: Sequence[float], sd: float) -> tuple[MarkFit, ...]:
    """Each mark against the others, w = v / (sd · √r); of alike ones none can be told to be at fault."""
    tests = [
        abs(v) / (sd * sqrt(r)) if r > HELD else 0.0 for v, r in zip(residuals, redundancies, strict=True)
    ]
    worst = max(tests)
    return tuple(
        MarkFit(
            residual=v,
            off=-v / r if r > HELD else None,
            is_doubted=worst > DOUBTED and test >= (1 - ALIKE) * worst,
        )
        for v, r, test in zip(residuals, redundancies, tests, strict=True)
    )

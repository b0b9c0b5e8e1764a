"""A wall that is part of a circle through both corners, fitted to its readings with one unknown.

Frame as in ``curves``: station along the chord, offset square to it, mm.
"""

from collections.abc import Sequence
from math import asin, ceil, sin, sqrt

from msgspec import Struct

from engine.model.job import Pair
from engine.survey.tolerances import CHORD_ERROR, MOST_SAGITTA


class Arc(Struct, frozen=True):
    """A circular arc through both corners; ``sagitta`` is its offset in the middle, signed."""

    chord: float
    sagitta: float

    @property
    def stations(self) -> tuple[float, ...]:
        """Both corners."""
        return (0.0, self.chord)

    @property
    def radius(self) -> float:
        """R = c²/8s + s/2 in mm (railway versine); signed as the sagitta, infinite when straight."""
        if self.sagitta == 0:
            return float("inf")
        return self.chord**2 / (8 * self.sagitta) + self.sagitta / 2

    def offset(self, station: float) -> float:
        """Offset in mm at that station."""
        m = self._sharpness()
        rest = station * (self.chord - station)
        return m * rest / (1 + sqrt(1 + m * m * rest))

    def slope(self, station: float) -> float:
        """Rise of the offset per mm of station."""
        m = self._sharpness()
        rest = station * (self.chord - station)
        return m * (self.chord / 2 - station) / sqrt(1 + m * m * rest)

    def bend(self, station: float) -> float:
        """Second derivative of the offset in 1/mm."""
        m = self._sharpness()
        rest = station * (self.chord - station)
        return -m * (1 + (m * self.chord / 2) ** 2) / sqrt(1 + m * m * rest) ** 3

    def between(self, start: float, end: float) -> tuple[float, ...]:
        """Stations to add so that the drawn chords keep to the arc."""
        if abs(self.sagitta) <= CHORD_ERROR:
            return ()
        radius, middle = abs(self.radius), self.chord / 2
        first, last = asin((start - middle) / radius), asin((end - middle) / radius)
        parts = ceil((last - first) / sqrt(8 * CHORD_ERROR / radius))
        return tuple(middle + radius * sin(first + (last - first) * k / parts) for k in range(1, parts))

    def _sharpness(self) -> float:
        """One over the distance of the centre from the chord: stays finite as the wall gets straight."""
        return 8 * self.sagitta / (self.chord**2 - 4 * self.sagitta**2)


def best_sagitta(chord: float, readings: Sequence[Pair]) -> float:
    """The sagitta of the arc whose offsets miss the readings least, squares summed (Gauss–Newton).

    It is held inside ± ``MOST_SAGITTA`` of the chord.
    """
    most = MOST_SAGITTA * chord
    rests = [station * (chord - station) for station, _ in readings]
    sagitta = sum(r * y for r, (_, y) in zip(rests, readings, strict=True)) / sum(r * r for r in rests)
    sagitta = min(max(sagitta * chord**2 / 4, -most), most)
    for _ in range(60):
        stepped = min(max(sagitta + _sagitta_step(chord, sagitta, readings), -most), most)
        if abs(stepped - sagitta) <= 1e-13 * chord:
            break
        sagitta = stepped
    return sagitta


def _sagitta_step(chord: float, sagitta: float, readings: Sequence[Pair]) -> float:
    arc = Arc(chord, sagitta)
    squares = chord**2 - 4 * sagitta**2
    sharpness = 8 * sagitta / squares
    by_sagitta = 8 * (chord**2 + 4 * sagitta**2) / squares**2
    above = below = 0.0
    for station, read in readings:
        rest = station * (chord - station)
        root = sqrt(1 + sharpness**2 * rest)
        rate = rest / (root * (1 + root)) * by_sagitta
        above += rate * (read - arc.offset(station))
        below += rate * rate
    return above / below

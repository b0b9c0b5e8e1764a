"""The pieces at a phase that only clipping tells, and what they gain a mm along and across."""

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from math import inf

from engine.model.setting_out import Measure
from engine.setting_out.climb import Slope
from engine.setting_out.rating import PieceKey, Rated
from engine.setting_out.stood import WAYS, Stood, Way, slope

# The height of a piece that clipping tells: it is there.
IN: Slope = (1.0, 0.0, 0.0)

Clip = Callable[[Way, Collection[int]], Rated | None]
"""How some boards, by number, are rated a way off the phase; None without any."""


class ClippedParts:
    """The pieces of some boards at a phase; ``weights`` are those of the edges that matter, by name."""

    def __init__(
        self, clip: Clip, unsure: Collection[int], measure: Measure, weights: Mapping[str, float]
    ) -> None:
        self._clip, self._measure, self._weights = clip, measure, weights
        rated = clip((0.0, 0.0), unsure)
        self.smallest = inf if rated is None else rated.value
        self.sizes = {} if rated is None else {key: self._size(key, rated) for key in rated.pieces}
        self._stood: dict[PieceKey, Stood | None] = {}

    def _size(self, key: PieceKey, rated: Rated) -> float:
        return rated.pieces[key].by(self._measure) / self._weights[key[2]]

    def stood(self, keys: Collection[PieceKey]) -> Iterator[Stood]:
        """Some of the pieces with what they gain, without those that are gone a little way off."""
        new = {key[0] for key in keys if key not in self._stood}
        if new:
            probes = [self._clip(way, new) for way in WAYS]
            self._stood |= {key: self._probed(key, probes) for key in keys if key[0] in new}
        yield from (stood for key in keys if (stood := self._stood[key]) is not None)

    def _probed(self, key: PieceKey, probes: Sequence[Rated | None]) -> Stood | None:
        found = [self._size(key, probe) for probe in probes if probe is not None and key in probe.pieces]
        if len(found) < len(WAYS):
            return None
        along, across = found
        number, part, edge = key
        return Stood(number, edge, IN, slope(self.sizes[key], along, across), part)

"""Which reading on the walls is most likely wrong: each is held against what all others say.

The roughness is found anew without the reading in question, else a blunder
would pass for a rough wall.
"""

from collections.abc import Sequence
from math import hypot

from msgspec import Struct
from msgspec.structs import replace

from engine.survey.band import known
from engine.survey.network import DETECTABLE, OUTLIER
from engine.survey.roughness import Stretch, likelihoods, weighted_roughness


class OffsetCheck(Struct, frozen=True, kw_only=True):
    """One offset reading against the others of its room.

    ``stretch`` and ``point`` say which. ``away`` is reading − expectation in
    mm, ``w`` the same over its standard deviation, ``smallest_blunder`` what
    this test finds with 80 % power.
    """

    stretch: int
    point: int
    station: float
    offset: float
    away: float
    w: float
    smallest_blunder: float

    @property
    def suspect(self) -> bool:
        """Whether the reading fails its test."""
        return abs(self.w) > OUTLIER


def check_offsets(stretches: Sequence[Stretch]) -> tuple[OffsetCheck, ...]:
    """Every reading inside the stretches of a room against all others."""
    each = [likelihoods([stretch]) for stretch in stretches]
    pooled = [sum(values) for values in zip(*each, strict=True)]
    return tuple(
        _check(stretches, index, point, [a - b for a, b in zip(pooled, each[index], strict=True)])
        for index, stretch in enumerate(stretches)
        for point in range(1, len(stretch.points) - 1)
    )


def most_likely_wrong(checks: Sequence[OffsetCheck]) -> OffsetCheck | None:
    """The reading that stands out most, if any stands out at all."""
    worst = max(checks, key=lambda check: abs(check.w), default=None)
    return worst if worst is not None and worst.suspect else None


def _check(stretches: Sequence[Stretch], index: int, point: int, others: Sequence[float]) -> OffsetCheck:
    stretch = stretches[index]
    station, offset = stretch.points[point]
    rest = replace(
        stretch,
        points=stretch.points[:point] + stretch.points[point + 1 :],
        sds=stretch.sds[:point] + stretch.sds[point + 1 :],
    )
    q = weighted_roughness([a + b for a, b in zip(others, likelihoods([rest]), strict=True)])
    expected = known(rest, q)
    away, spread = offset - expected.mean(station), hypot(expected.sd(station), stretch.sds[point])
    return OffsetCheck(
        stretch=index,
        point=point,
        station=station,
        offset=offset,
        away=away,
        w=away / spread,
        smallest_blunder=DETECTABLE * spread,
    )

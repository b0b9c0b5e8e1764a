"""A board at an edge at one phase, and what its piece gains a mm along and across: told a little way off."""

from typing import NamedTuple

from engine.setting_out.climb import Slope

Way = tuple[float, float]
"""So many mm along and across from a phase."""

# How far to look to learn how the pieces change, mm.
PROBE = 0.05
WAYS: tuple[Way, Way] = (PROBE, 0.0), (0.0, PROBE)


class Stood(NamedTuple):
    """A board at an edge: how far it stands into the floor, below 0 where it ends short, and its piece.

    ``part`` is which of the board's parts it is, where that was told by clipping.
    """

    number: int
    edge: str
    height: Slope
    size: Slope
    part: int | None = None

    def is_short(self, least: float) -> bool:
        """Must it stay off the edge? It ends short, and would be no larger there than so much."""
        return self.height[0] <= 0 and self.size[0] <= least


def slope(here: float, along: float, across: float) -> Slope:
    """A value with what it gains, from its values a probe away."""
    return here, (along - here) / PROBE, (across - here) / PROBE

"""How boards stand at one phase, and what that gains a mm along and across; each is worked out once."""

from collections.abc import Callable, Collection, Iterator, Sequence
from math import inf
from typing import NamedTuple

from engine.model.setting_out import Measure
from engine.setting_out.board_at_edge import BoardAtEdge, Stand
from engine.setting_out.climb import Slope
from engine.setting_out.moving_edge import Move

# How far to look to learn how the pieces change, mm.
PROBE = 0.05
# A climb takes no board for one that gains or loses more than so many mm of length a mm; areas cannot
# change by more than a board's length a mm.
STEEPEST = 10.0
# Both the piece looked at and the smallest one may change, along and across.
FARTHEST = 3.0

Moves = Callable[[tuple[float, float]], Sequence[Move]]
"""How a phase so many mm along and across from the one that is asked about moves boards past each edge."""


class Stood(NamedTuple):
    """A board at an edge: how far it stands into the floor, below 0 where it ends short, and its piece."""

    number: int
    edge: str
    height: Slope
    size: Slope


class Stands:
    """How some boards stand at a phase."""

    def __init__(self, boards: Sequence[BoardAtEdge], measure: Measure, moves: Moves) -> None:
        self._measure, self._moves, here = measure, moves, moves((0.0, 0.0))
        found = [(board, board.stand(here, measure)) for board in boards]
        self._stands = [(board, stand) for board, stand in found if stand is not None]
        self._slopes: dict[int, Stood | None] = {}
        self._probes: Sequence[Sequence[Move]] = ()

    @property
    def smallest(self) -> float:
        """The smallest piece; 0 where a board all but reaches in, −∞ without a board."""
        counted = (stand for _, stand in self._stands if stand.counts)
        return min((stand.size if stand.top > 0 else 0.0 for stand in counted), default=-inf)

    def slopes(self, reach: float) -> tuple[list[Slope], list[Slope]]:
        """The sizes of the pieces and how far boards end short, with what both gain a mm along and across.

        Of those alone that may decide within ``reach`` mm.
        """
        sizes: list[Slope] = []
        short: list[Slope] = []
        for stood in self.deciding(reach):
            if stood.height[0] > 0:
                sizes.append(stood.size)
            else:
                short.append(stood.height)
        return sizes, short

    def deciding(self, reach: float, least: float = inf, numbers: Collection[int] = ()) -> Iterator[Stood]:
        """Those that may decide within ``reach`` mm, by what they gain a mm.

        ``least`` is how large the smallest piece is, if that is known better than by straight edges;
        boards of some numbers are looked at whatever their size.
        """
        known = (stand.size for _, stand in self._stands if stand.top > 0 and stand.is_known)
        least = min([least, *known])
        for place, (board, stand) in enumerate(self._stands):
            steepest = board.size.length if self._measure == "area" else STEEPEST
            is_large = not stand.is_known or stand.size > least + FARTHEST * reach * steepest
            if stand.is_off(FARTHEST * reach) or (stand.top > 0 and is_large and board.number not in numbers):
                continue
            found = self._stood(place)
            if found is not None:
                yield found

    def _stood(self, place: int) -> Stood | None:
        """A board with what it gains; None where it is not at its edge a little way off."""
        if place not in self._slopes:
            self._slopes[place] = self._probed(*self._stands[place])
        return self._slopes[place]

    def _probed(self, board: BoardAtEdge, stand: Stand) -> Stood | None:
        self._probes = self._probes or [self._moves(way) for way in ((PROBE, 0.0), (0.0, PROBE))]
        along, across = (board.stand(moves, self._measure) for moves in self._probes)
        if along is None or across is None:
            return None
        name = board.edges[board.edge].moving.line.name
        height = _slope(stand.top, along.top, across.top)
        return Stood(board.number, name, height, _slope(stand.size, along.size, across.size))


def _slope(here: float, along: float, across: float) -> Slope:
    """A value with what it gains, from its values a probe away."""
    return here, (along - here) / PROBE, (across - here) / PROBE

"""How boards stand at one phase, and what that gains a mm along and across; each is worked out once."""

from collections.abc import Callable, Collection, Iterator, Mapping, Sequence
from math import inf

from engine.model.setting_out import Measure
from engine.setting_out.board_at_edge import BoardAtEdge, Stand
from engine.setting_out.climb import Slope
from engine.setting_out.clipped_parts import Clip, ClippedParts
from engine.setting_out.moving_edge import Move
from engine.setting_out.stood import WAYS, Stood, Way, slope

# A climb takes no board for one that gains or loses more than so many mm of length a mm; areas cannot
# change by more than a board's length a mm.
STEEPEST = 10.0
# Both the piece looked at and the smallest one may change, along and across.
FARTHEST = 3.0


class Stands:
    """How some boards stand at a phase.

    ``moves`` tells how a way off the phase moves boards past each edge, ``clip`` how boards are rated there
    of which straight edges do not tell all; None where nobody tells that. ``weights`` by an edge's name.
    """

    def __init__(
        self,
        boards: Sequence[BoardAtEdge],
        measure: Measure,
        moves: Callable[[Way], Sequence[Move]],
        clip: Clip | None,
        weights: Mapping[str, float],
    ) -> None:
        self._measure, self._moves, here = measure, moves, moves((0.0, 0.0))
        found = [(board, board.stand(here, measure)) for board in boards]
        stands = [(board, stand) for board, stand in found if stand is not None]
        unsure = {board.number for board, stand in stands if not stand.is_all and not stand.is_off(0.0)}
        self._clipped = None if clip is None else ClippedParts(clip, unsure, measure, weights)
        if clip is not None:
            stands = [(board, stand) for board, stand in stands if stand.is_all or stand.is_off(0.0)]
        self._stands, self._slopes = stands, dict[int, Stood | None]()
        self._probes: Sequence[Sequence[Move]] = ()

    @property
    def smallest(self) -> float:
        """The smallest piece; 0 where a board all but reaches in, −∞ without a board."""
        counted = (stand for _, stand in self._stands if stand.is_known and not stand.is_off(0.0))
        told = min((stand.size for stand in counted), default=inf)
        smallest = told if self._clipped is None else min(told, self._clipped.smallest)
        return smallest if smallest < inf else -inf

    def slopes(self, reach: float) -> tuple[list[Slope], list[Slope]]:
        """The sizes of the pieces and how far boards end short, with what both gain a mm along and across.

        Of those alone that may decide within ``reach`` mm.
        """
        sizes: list[Slope] = []
        short: list[Slope] = []
        for stood in self.deciding(reach):
            if stood.is_short(self.smallest):
                short.append(stood.height)
            else:
                sizes.append(stood.size)
        return sizes, short

    def deciding(self, reach: float, least: float = inf, numbers: Collection[int] = ()) -> Iterator[Stood]:
        """Those that may decide within ``reach`` mm, by what they gain a mm.

        ``least`` is how large the smallest piece is, if that is known better than by straight edges;
        boards of some numbers are looked at whatever their size.
        """
        told = (stand.size for _, stand in self._stands if stand.top > 0 and stand.is_known)
        clipped = {} if self._clipped is None else self._clipped.sizes
        least = min([least, *told, *clipped.values()])
        most = least + max((self._farthest(board, reach) for board, _ in self._stands), default=0.0)
        for place, (board, stand) in enumerate(self._stands):
            # One that lies in the floor already and only comes to the edge is no smaller for that.
            is_large = stand.size > least + self._farthest(board, reach)
            is_left_out = is_large or (stand.top > 0 and not stand.is_known)
            if stand.is_off(FARTHEST * reach) or (is_left_out and board.number not in numbers):
                continue
            found = self._stood(place)
            if found is not None:
                yield found
        if self._clipped is not None:
            yield from self._clipped.stood(
                [key for key, size in clipped.items() if size <= most or key[0] in numbers]
            )

    def _farthest(self, board: BoardAtEdge, reach: float) -> float:
        """By how much a board's piece may come nearer to the smallest within ``reach`` mm."""
        return FARTHEST * reach * (board.size.length if self._measure == "area" else STEEPEST)

    def _stood(self, place: int) -> Stood | None:
        """A board with what it gains; None where it is not at its edge a little way off."""
        if place not in self._slopes:
            self._slopes[place] = self._probed(*self._stands[place])
        return self._slopes[place]

    def _probed(self, board: BoardAtEdge, stand: Stand) -> Stood | None:
        self._probes = self._probes or [self._moves(way) for way in WAYS]
        along, across = (board.stand(moves, self._measure) for moves in self._probes)
        if along is None or across is None:
            return None
        name = board.edges[board.edge].moving.line.name
        height = slope(stand.top, along.top, across.top)
        return Stood(board.number, name, height, slope(stand.size, along.size, across.size))

"""What is asked of a search for the best phase, and what a phase is worth by true clipping."""

from collections.abc import Iterable, Mapping, Sequence

from msgspec import Struct
from msgspec.structs import replace

from engine.geometry.shapes import Region
from engine.model.setting_out import Measure
from engine.setting_out.measures import Placed
from engine.setting_out.phase import PhaseCell, Span
from engine.setting_out.rating import NamedEdge, Rated, moved, rate
from engine.setting_out.searched_edge import SearchedEdge
from engine.setting_out.straight_edges import Phase

Top = tuple[Rated, Phase]
"""A phase and how it is rated."""


class Sought(Struct, frozen=True):
    """What is asked: boards of a pattern before it is moved, over an area, with the edges that matter.

    ``boards``, by number, must cover the area at every phase; ``edges`` are all edges of the
    floor, ``named`` those that matter.
    """

    lay_area: Region
    boards: Mapping[int, Placed]
    cell: PhaseCell
    edges: Sequence[SearchedEdge]
    named: Sequence[NamedEdge]
    measure: Measure
    spans: Sequence[Span]

    def rated(self, phase: Phase) -> Rated:
        """A phase by true clipping."""
        return rate(self.lay_area, moved(self.boards, self.cell.shift(*phase)), self.named, self.measure)

    def only(self, numbers: Iterable[int]) -> "Sought":
        """The same with some of the boards alone."""
        return replace(self, boards={number: self.boards[number] for number in sorted(set(numbers))})

"""What is asked of a search for the best phase, and what a phase is worth by true clipping."""

from collections.abc import Iterable, Mapping, Sequence
from math import dist

from msgspec import Struct
from msgspec.structs import replace

from engine.geometry.shapes import Region
from engine.model.setting_out import Measure
from engine.setting_out.inner_round import InnerRound
from engine.setting_out.measures import Placed
from engine.setting_out.phase import Phase, PhaseCell, Span
from engine.setting_out.rating import NamedEdge, PlacedBoard, Rated, moved, outlines, rate
from engine.setting_out.searched_edge import TOUCH, SearchedEdge

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

    def at_rounds(self, phase: Phase) -> set[int]:
        """Boards, by number, that come to the round about an inner corner: they may lie along both walls."""
        rounds = [each for edge in self.named for each in edge.rounds]
        if not rounds:
            return set()
        boards = moved(self.boards, self.cell.shift(*phase))
        near = {
            number: board for number, board in boards.items() if any(_is_near(board, each) for each in rounds)
        }
        rings = outlines(near).items()
        return {number for number, ring in rings if any(each.is_met_by(ring, TOUCH) for each in rounds)}

    def only(self, numbers: Iterable[int]) -> "Sought":
        """The same with some of the boards alone."""
        return replace(self, boards={number: self.boards[number] for number in sorted(set(numbers))})


def _is_near(board: PlacedBoard, corner: InnerRound) -> bool:
    """May a board come to a round, told by one of its corners?"""
    frame, size = board.frame, board.size
    reach = size.length + abs(size.lean) + size.width + corner.radius + TOUCH
    return dist((frame.x, frame.y), corner.corner) <= reach

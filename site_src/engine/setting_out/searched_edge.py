"""An edge of the floor in the search for phases, and what a board along it comes to besides."""

from collections.abc import Sequence
from typing import NamedTuple

from msgspec import Struct

from engine.model.setting_out import Measure
from engine.setting_out.board_over import Over
from engine.setting_out.corner_wedge import Wedge
from engine.setting_out.edge_corner import EdgeCorner
from engine.setting_out.moving_edge import MovingEdge
from engine.setting_out.piece_left import clipped
from engine.setting_out.thing_near import Thing

# A piece this near to the edge's gap line lies along it, mm.
TOUCH = 0.01
# A board that ends just short of the floor is kept this far off, mm: no rounding may turn it into a piece.
CLEAR = 0.01


class Beside(NamedTuple):
    """The edge that goes on at an end of another, and how they meet.

    ``edge`` is None where the same wall goes on behind a thing; ``wedge`` is that of an outer corner.
    """

    edge: int | None
    corner: EdgeCorner
    wedge: Wedge | None = None


class Cut(NamedTuple):
    """How a board lies over an ``edge`` beside, how far it rises, and how the edges meet."""

    edge: int
    over: Over
    rise: float
    corner: EdgeCorner
    wedge: Wedge | None

    def top(self, over: Over) -> float:
        """How high some point of a board over an edge lies above both that one and the one beside, in mm.

        Where the board misses the corner with one side alone, by how much.
        """
        one, other = (each.straightened(0.0, "long_point") for each in (over, self.over))
        rows = [[height - beside, beside] for height, beside in zip(one, other, strict=True)]
        others = [[-more, beside + more] for more, beside in rows]
        top = max(lower for _, lower in (*clipped(rows, 0), *clipped(others, 0)))
        if top > 0 or self.wedge is None:
            return top
        missed = self.wedge.missed(list(zip(over.stations, over.across, strict=True)))
        return top if missed is None else -missed


class Near(NamedTuple):
    """What a board comes to besides an edge: other edges, one of its ends, and things.

    ``is_known`` unless the board may reach round two corners, where more of the floor may lie.
    """

    cuts: list[Cut]
    is_past: bool
    is_known: bool
    things: list[Thing]

    def beyond(self, measure: Measure) -> tuple[float, float]:
        """By how much to lift the board, in mm, and what to add, so that no corner has more of the floor."""
        if measure == "area":
            return 0.0, sum(cut.corner.area for cut in self.cuts)
        return max((cut.corner.beyond for cut in self.cuts), default=0.0), 0.0


class SearchedEdge(Struct, frozen=True):
    """An edge of the search: its weight if it is one that matters, what goes on at its ends, and things."""

    moving: MovingEdge
    weight: float | None
    before: Beside | None
    after: Beside | None
    things: Sequence[Thing]

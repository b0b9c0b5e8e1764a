"""An edge of the floor in the search for phases, and what a board along it comes to besides."""

from collections.abc import Callable, Sequence
from math import inf
from typing import NamedTuple

from msgspec import Struct

from engine.model.setting_out import Measure
from engine.setting_out.board_over import Over
from engine.setting_out.corner_wedge import Wedge, depths_in
from engine.setting_out.edge_corner import EdgeCorner
from engine.setting_out.moving_edge import MovingEdge
from engine.setting_out.piece_left import Heights, Side, clipped
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
    """How a board lies over an ``edge`` beside, how far it rises, and how the edges meet.

    ``beyond``: how it lies over the next edge, where it gets there round an inner corner behind an outer one.
    """

    edge: int
    over: Over
    rise: float
    corner: EdgeCorner
    wedge: Wedge | None
    beyond: "Cut | None" = None

    @property
    def is_bent(self) -> bool:
        """Does the floor go on round an inner corner?"""
        return self.corner.is_inner or self.beyond is not None

    def side(self, over: Callable[[Over, float], Heights]) -> Side:
        """The same as heights alone, worked out from how it lies and rises."""
        beyond = over(self.beyond.over, self.beyond.rise) if self.beyond is not None else None
        return Side(over(self.over, self.rise), self.corner.is_inner, beyond)

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

    def depth(self, over: Over) -> float:
        """How deep the outer corner lies in a board, mm: one in which it lies is along both edges."""
        if self.wedge is None:
            return -inf
        ring = list(zip(over.stations, over.across, strict=True))
        return min(depth for _, depth in depths_in(ring, self.wedge.corner))


class Near(NamedTuple):
    """What a board comes to besides an edge: other edges, one of its ends, and things.

    ``is_known`` unless the board may reach farther round corners, where more of the floor may lie.
    """

    cuts: list[Cut]
    is_past: bool
    is_known: bool
    things: list[Thing]

    @property
    def is_bent(self) -> bool:
        """Does the floor go on round an inner corner?"""
        return any(cut.is_bent for cut in self.cuts)

    def beyond(self, measure: Measure) -> tuple[float, float]:
        """By how much to lift the board, in mm, and what to add, so that no corner has more of the floor."""
        if measure == "area":
            return 0.0, sum(cut.corner.area for cut in self.cuts)
        return max((cut.corner.beyond for cut in self.cuts), default=0.0), 0.0


class SearchedEdge(Struct, frozen=True):
    """An edge of the search: its weight if it is one that matters, what goes on at its ends, and things.

    ``near``: the edges that a board along it may come to besides those that it meets.
    """

    moving: MovingEdge
    weight: float | None
    before: Beside | None
    after: Beside | None
    things: Sequence[Thing]
    near: Sequence[int] = ()

    @property
    def ends(self) -> tuple[float, float]:
        """Its first and its last station."""
        stations = self.moving.line.stations
        return stations[0], stations[-1]

    def ends_at_things(self, along: float) -> tuple[float, float]:
        """The stations at which a thing ends it, moved out by some mm; −∞ or ∞ where none does."""
        (first, last), (before, after) = self.ends, (self.before, self.after)
        return (
            first - along if before is not None and before.edge is None else -inf,
            last + along if after is not None and after.edge is None else inf,
        )

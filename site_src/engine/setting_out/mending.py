"""A top of the search mended by true clipping, which knows the edges' bend and every corner and thing."""

from collections.abc import Iterator

from msgspec import Struct

from engine.setting_out.climb import climb, shorter
from engine.setting_out.moving_edge import Reach
from engine.setting_out.phase import Phase
from engine.setting_out.rating import PieceKey, Rated
from engine.setting_out.sought import Sought, Top
from engine.setting_out.stands import Stands
from engine.setting_out.stood import Way
from engine.setting_out.straight_edges import StraightEdges

# From which to which step a top is mended, mm; while the search runs it is mended less closely.
FIRST_STEP, LAST_STEP, ROUGH_STEP = 2.0, 0.004, 0.1
# A top that is worth less than it promised by this is mended while the search runs, by that at its end, mm.
ROUGHLY, EXACTLY = 0.1, 0.005
# A piece of less than this part of what a top promised need not be there: its board is moved off the floor,
# farther than straight edges ask for by this part of a step.
NEEDLESS, OFF = 0.5, 0.1
# Pieces up to so much larger than a top promised are looked at though straight edges take them for large, mm.
SMALL = 20.0


class Mender(Struct, frozen=True):
    """Mends tops of a search that are worth less than they promised.

    ``mm`` is what a millimetre is by the measure: 1, or for areas the width of a board.
    """

    sought: Sought
    edges: StraightEdges
    mm: float

    def truth(self, promised: float, phase: Phase) -> Top:
        """What a top is worth, and where it is worth most near by."""
        rated = self.sought.rated(phase)
        if rated.value < promised - ROUGHLY * self.mm:
            return self._mended(promised, rated, phase, ROUGH_STEP)
        return rated, phase

    def mended_to_the_last(self, top: Top) -> Top:
        """The best place near a top that is worth less than straight edges promise there."""
        rated, phase = top
        promised = self.edges.smallest(phase, self.edges.boards)
        if rated.value >= promised - EXACTLY * self.mm:
            return top
        return self._mended(promised, rated, phase, LAST_STEP)

    def _mended(self, promised: float, rated: Rated, phase: Phase, last: float) -> Top:
        """The best place near a top, by steps down to ``last`` mm."""
        near = self.edges.reaching(Reach(*phase, 0.0, 0.0))
        sought = self.sought.only(board.number for board in near.boards)
        start, here, step = phase, near.at(phase), FIRST_STEP
        while step > last:
            ways = [
                (way, sought.rated(near.moved(phase, way)))
                for way in self._ways(near, here, promised, rated, phase, step)
            ]
            way, again = max(ways, key=lambda each: each[1].value)
            there, gain = near.moved(phase, way), again.value - rated.value
            if gain > 0 and near.is_near(start, there):
                rated, phase, here = again, there, near.at(there)
            if gain < ROUGHLY * self.mm or not near.is_near(start, there):
                step = shorter(step, way, last)
        return rated, phase

    def _ways(
        self, near: StraightEdges, here: Stands, promised: float, rated: Rated, phase: Phase, step: float
    ) -> Iterator[Way]:
        """Where to go: every piece made larger, or, where some are needless, those moved off the floor.

        How large pieces are is known by clipping, how they change by straight edges.
        """
        span = min(self.sought.spans, key=lambda span: max(span[0] - phase[1], phase[1] - span[1], 0.0))
        limits = near.limits(phase, span)
        small = {key[0] for key in rated.pieces if self._value(rated, key) < promised + SMALL * self.mm}
        stands = list(here.deciding(step, rated.value, small))
        sizes = [
            (stood.number, (self._value(rated, key), *stood.size[1:]))
            for stood in stands
            for key in rated.pieces
            if key[0] == stood.number and key[2] == stood.edge and stood.part in (None, key[1])
        ]
        short = [stood.height for stood in stands if stood.is_short(rated.value)]
        yield climb([row for _, row in sizes], short, step, limits).way
        needless = {key[0] for key in rated.pieces if self._value(rated, key) < NEEDLESS * promised}
        if needless or rated.value == 0:
            kept = [row for number, row in sizes if number not in needless]
            off = [
                (stood.height[0] + OFF * step, *stood.height[1:])
                for stood in stands
                if stood.height[0] <= 0 or stood.number in needless
            ]
            yield climb(kept, off, step, limits).way

    def _value(self, rated: Rated, key: PieceKey) -> float:
        weight = next(edge.weight for edge in self.sought.named if edge.name == key[2])
        return rated.pieces[key].by(self.sought.measure) / weight

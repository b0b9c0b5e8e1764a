"""One board at one edge of the floor: how large its piece can be at the most, over a whole range of phases.

A board moves with the pattern, its corners rise and fall over the edge, and what
the edge leaves of it lies between what it leaves at the highest and at the
lowest. That bounds the piece for every phase of a range at once.
"""

from collections.abc import Iterator, Mapping, Sequence
from math import hypot, inf
from typing import NamedTuple

from msgspec import Struct

from engine.geometry.board import BoardSize
from engine.geometry.shapes import Point
from engine.model.setting_out import Measure
from engine.setting_out.barred import Strip
from engine.setting_out.between_stations import heights_between, heights_inside
from engine.setting_out.board_over import Over, board_over
from engine.setting_out.corner_wedge import corner_strips
from engine.setting_out.measures import Placed
from engine.setting_out.moving_edge import Move
from engine.setting_out.piece_left import size_left
from engine.setting_out.searched_edge import CLEAR, TOUCH, Cut, Near, SearchedEdge
from engine.setting_out.tangent_strip import Cutting, tangent_strips

# A board farther outside the floor than this cannot come in by a small move, mm.
FAR = 25.0
# How often the range of lifts is halved to find one near a corner.
HALVINGS = 3


class Stand(NamedTuple):
    """How far a board stands into the floor at one phase (mm; below 0 it ends short), and its piece's size.

    ``is_known`` unless more of the board may lie in the floor round two corners.
    """

    top: float
    size: float
    is_known: bool


class Judged(NamedTuple):
    """The most and the least that a piece measures; ``is_there``: it lies at the edge whatever the phase.

    ``most`` is worked out only for one that is there, infinite else. ``over`` and ``near`` tell how the
    board lies in the middle of the range.
    """

    most: float
    least: float
    is_there: bool
    over: Over
    near: Near


class BoardAtEdge(Struct, frozen=True):
    """A board that may lie along an edge at some phase.

    ``number`` is the board's; ``edge`` counts among ``edges``, all those of the search; ``corners`` are
    those of the board in the frame of each edge before it is moved; ``levels`` are the lowest and the
    highest of them across its own.
    """

    number: int
    size: BoardSize
    edge: int
    edges: Sequence[SearchedEdge]
    corners: Sequence[Sequence[Point]]
    levels: tuple[float, float]

    def judge(self, moves: Sequence[Move], measure: Measure, *, is_sure: bool = False) -> Judged | None:
        """Judge the piece over a range of phases; None when it is nowhere along the edge.

        ``moves`` are those of all edges. ``is_sure`` asks for a bound that holds although an edge
        bends within the board.
        """
        found = self._along(moves)
        if found is None:
            return None
        over, near = found
        # A thing or an inner corner may part a piece, so nothing is known of the least that it leaves.
        may_part = near.things or not near.is_known or any(cut.corner.is_inner for cut in near.cuts)
        is_there = self._is_there(over, near, moves[self.edge])
        weight = self.edges[self.edge].weight or 1.0
        most = self._left(over, near, moves, 1, measure, is_sure) if is_there else inf
        least = 0.0 if may_part else self._left(over, near, moves, -1, measure, False)
        return Judged(most / weight, least / weight, is_there, over, near)

    def comes_near(self, moves: Sequence[Move]) -> bool:
        """Is the board anywhere along the edge, somewhere in a range of phases?"""
        return self._along(moves) is not None

    def _along(self, moves: Sequence[Move]) -> tuple[Over, Near] | None:
        """How the board lies over the edge and what else it comes to; None when it is nowhere along it."""
        move = moves[self.edge]
        if self._is_off(move, move.rise, move.rise + TOUCH):
            return None
        over = self._over(self.edge, moves)
        if max(over.heights) + move.rise <= 0 or min(over.heights) - move.rise > TOUCH:
            return None
        near = self._near(over, moves)
        if near is not None and near.is_past:
            low, high = self._ends
            widest = heights_between(over.heights, over.stations, low - move.along, high + move.along)
            if not widest or max(widest) + move.rise <= 0 or min(widest) - move.rise > TOUCH:
                return None
        return None if near is None else (over, near)

    def stand(self, moves: Sequence[Move], measure: Measure) -> Stand | None:
        """How the board stands at one phase; None when it is nowhere near."""
        if self._is_off(moves[self.edge], FAR, TOUCH):
            return None
        over = self._over(self.edge, moves)
        heights, stations = over.heights, over.stations
        if max(heights) < -FAR or min(heights) > TOUCH:
            return None
        start, end = self._ends
        top = min(end - min(stations), max(stations) - start)
        near = self._near(over, moves)
        if near is None:
            return Stand(top, 0.0, True) if top > -FAR else None
        inside = heights_between(heights, stations, start, end) if near.is_past else heights
        if not inside or min(inside) > TOUCH:
            return None
        outer = [cut for cut in near.cuts if not cut.corner.is_inner]
        top = min(top, *([cut.top(over) for cut in outer] or [max(inside)]))
        if top > 0 and outer:
            top = min(top, TOUCH - min(heights_inside(over, outer, start, end), default=FAR))
        weight = self.edges[self.edge].weight or 1.0
        return Stand(top, self._left(over, near, moves, 0, measure, False) / weight, near.is_known)

    def barred(
        self,
        judged: Judged,
        moves: Sequence[Move],
        half: tuple[float, float],
        measure: Measure,
        wanted: float,
    ) -> Iterator[Strip]:
        """The moves within a range of phases after which its piece is there and smaller than wanted.

        It has been ``judged`` over the range. ``moves`` are those of all edges, ``half`` how far the range
        reaches to either side.
        """
        over, near = judged.over, judged.near
        if not near.is_known:
            return
        wanted *= self.edges[self.edge].weight or 1.0
        is_between_outer = bool(near.cuts) and not any(cut.corner.is_inner for cut in near.cuts)
        is_there = is_between_outer and judged.is_there
        strip = (
            None if is_there and not near.things else self._barred_along(over, near, moves, measure, wanted)
        )
        if strip is not None:
            yield strip
        if is_there:
            more, extra = near.beyond(measure)
            if wanted > extra:
                cuttings = self._cuttings(over, near, moves, more)
                yield from tangent_strips(cuttings, self.size, measure, wanted - extra, half)
        elif is_between_outer:
            move, moving = moves[self.edge], self.edges[self.edge].moving
            ring, ways = list(zip(over.stations, over.across, strict=True)), (moving.place, moving.row)
            for wedge in filter(None, (cut.wedge for cut in near.cuts)):
                yield from corner_strips(wedge, ring, ways, (move.along, move.up), measure, wanted, CLEAR)

    def _is_there(self, over: Over, near: Near, move: Move) -> bool:
        """Does the board lie at the edge wherever a range moves it?"""
        if not near.is_known:
            return False
        low, high = self._ends
        inside = over.heights
        if near.is_past:
            inside = heights_between(inside, over.stations, low + move.along, high - move.along)
        return bool(inside) and max(inside) > move.rise and min(inside) < -move.rise

    def _cuttings(self, over: Over, near: Near, moves: Sequence[Move], lift: float) -> list[Cutting]:
        """Its edge and those beside as lines that the floor keeps above, the board lifted by some mm."""
        found = []
        for edge, each in ((self.edge, over), *((cut.edge, cut.over) for cut in near.cuts)):
            heights, slope = each.below(moves[edge].rise, moves[edge].along, lift)
            found.append(Cutting(heights, each.stations, self.edges[edge].moving.rises(slope)))
        return found

    def _barred_along(
        self, over: Over, near: Near, moves: Sequence[Move], measure: Measure, wanted: float
    ) -> Strip | None:
        """Those between two lines along the edge."""
        edge, move = self.edges[self.edge], moves[self.edge]
        line, first, last = edge.moving.line, min(over.stations), max(over.stations)
        least, most = line.slopes_between(first - move.along, last + move.along)
        doubt, inside = (most - least) / 2 * move.along, over.heights
        if near.is_past:
            low, high = self._ends
            inside = heights_between(over.heights, over.stations, low + move.along, high - move.along)
            if not inside:
                return None
            doubt += line.strays(first, last, first, last)
        # A board that just ends short is as bad as a piece that is too small.
        low, high = -max(inside) - (0.0 if near.is_past else CLEAR), -min(inside)
        if near.cuts or near.things:
            between = max(low, -move.rise), min(high, move.rise)
            high = self._lift_beside(over, near, moves, between, measure, wanted)
        else:
            high = min(high, over.lift_to(self.size, measure, wanted))
        low, high = low + doubt, high - doubt
        return Strip(*edge.moving.rises((least + most) / 2), low, high) if low < high else None

    def _lift_beside(
        self,
        over: Over,
        near: Near,
        moves: Sequence[Move],
        between: tuple[float, float],
        measure: Measure,
        wanted: float,
    ) -> float:
        """A lift up to which surely no more than wanted is left near a corner or thing, −∞ without one."""
        more, extra = near.beyond(measure)
        others = [(cut.over.surely(cut.rise + more), cut.corner.is_inner) for cut in near.cuts]
        taken = self._taken(over, near, moves, 1)

        def is_less(lift: float) -> bool:
            return size_left(over.surely(lift + more), others, self.size, measure, taken) + extra <= wanted

        low, high = between
        if low > high or not is_less(low):
            return -inf
        if is_less(high):
            return high
        for _ in range(HALVINGS):
            middle = (low + high) / 2
            low, high = (middle, high) if is_less(middle) else (low, middle)
        return low

    def _is_off(self, move: Move, below: float, above: float) -> bool:
        """Is the board all of so many mm below every point of its edge, or above, by the edge's own frame?"""
        lowest, highest = self.edges[self.edge].moving.line.levels
        low, high = self.levels
        return high + move.y < lowest - below or low + move.y > highest + above

    @property
    def _ends(self) -> tuple[float, float]:
        stations = self.edges[self.edge].moving.line.stations
        return stations[0], stations[-1]

    def _over(self, edge: int, moves: Sequence[Move]) -> Over:
        """How the board lies over an edge."""
        x, y, *_ = moves[edge]
        return board_over(self.edges[edge].moving.line, self.corners[edge], x, y)

    def _near(self, over: Over, moves: Sequence[Move]) -> Near | None:
        """What the board comes to besides this edge; None when it lies wholly beyond it."""
        edge, move = self.edges[self.edge], moves[self.edge]
        first, last = min(over.stations) - move.along, max(over.stations) + move.along
        start, end = self._ends
        if first > end or last < start:
            return None
        cuts: list[Cut] = []
        is_known = True
        for beside, is_past, is_after in (
            (edge.before, first < start, False),
            (edge.after, last > end, True),
        ):
            if is_past and beside is None:
                is_known = False
            elif is_past and beside is not None and beside.edge is not None:
                there = moves[beside.edge]
                cuts.append(
                    Cut(beside.edge, self._over(beside.edge, moves), there.rise, beside.corner, beside.wedge)
                )
                other = self.edges[beside.edge]
                beyond = other.after if is_after else other.before
                if beyond is None or beyond.corner.is_inner:
                    # Round an outer corner only what lies above this edge can get there.
                    lift = inf if beside.corner.is_inner else move.rise + edge.moving.line.most_sag
                    passes = cuts[-1].over.passes(is_after, there.along, over.heights, lift)
                    is_known = is_known and not passes
        more = hypot(move.along, move.up)
        things = [thing for thing in edge.things if thing.is_near(over.stations, over.across, more)]
        return Near(cuts, first < start or last > end, is_known, things)

    def _left(
        self, over: Over, near: Near, moves: Sequence[Move], way: int, measure: Measure, is_sure: bool
    ) -> float:
        """What all leave of the board, at the most (``way`` 1), at the least (−1) or just now (0)."""
        more, extra = near.beyond(measure) if way > 0 else (0.0, 0.0)
        rises = ((over, moves[self.edge].rise), *((cut.over, cut.rise) for cut in near.cuts))
        lifts = [(each, way * rise + more) for each, rise in rises]
        own, *others = (
            each.surely(lift) if is_sure else each.straightened(lift, measure) for each, lift in lifts
        )
        inner = (cut.corner.is_inner for cut in near.cuts)
        taken = self._taken(over, near, moves, way)
        return size_left(own, list(zip(others, inner, strict=True)), self.size, measure, taken) + extra

    def _taken(self, over: Over, near: Near, moves: Sequence[Move], way: int) -> list[list[list[float]]]:
        """How deep the board stands in things, made smaller by the moves of a range."""
        along, up = way * moves[self.edge].along, way * moves[self.edge].up
        depths = (
            thing.depths(over.stations, over.across, along, up)
            for thing in near.things
            if thing.is_left(along, up)
        )
        return [depth for depth in depths if depth is not None]


def boards_at_edges(boards: Mapping[int, Placed], edges: Sequence[SearchedEdge]) -> tuple[BoardAtEdge, ...]:
    """Every board at every edge that matters, before any range rules it out."""
    rings = {number: board.frame.ring_to_room(board.size.ring) for number, board in boards.items()}
    corners = {
        number: [edge.moving.line.frame.ring_to_board(ring) for edge in edges]
        for number, ring in rings.items()
    }
    return tuple(
        BoardAtEdge(number, board.size, which, edges, corners[number], _levels(corners[number][which]))
        for which, edge in enumerate(edges)
        if edge.weight is not None
        for number, board in boards.items()
    )


def _levels(corners: Sequence[Point]) -> tuple[float, float]:
    across = [y for _, y in corners]
    return min(across), max(across)

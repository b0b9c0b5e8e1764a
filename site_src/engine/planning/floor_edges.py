"""The edges of the floor, ready for a search: each stretch of its rim, and what goes on at its ends."""

from collections.abc import Iterator, Sequence

from msgspec import Struct

from engine.geometry.shapes import Ring
from engine.model.setting_out import EdgeThatMatters, SettingOut
from engine.planning.floor_plan import RoomPlan
from engine.planning.kept import Kept
from engine.setting_out.corner_wedge import wedge_at
from engine.setting_out.edge_corner import EdgeCorner, edge_corner
from engine.setting_out.edge_line import EdgeLine, edge_line
from engine.setting_out.inner_round import InnerRound, inner_round
from engine.setting_out.moving_edge import moving_edge
from engine.setting_out.one_wall import turn_to_follow
from engine.setting_out.phase import PhaseCell
from engine.setting_out.rating import NamedEdge
from engine.setting_out.rim import Stretch, rim
from engine.setting_out.searched_edge import TOUCH, Beside, SearchedEdge
from engine.setting_out.thing_near import Thing, thing_in, thing_ring

# No board reaches farther than so many lengths of a long edge.
BOARDS = 2.0


class FloorEdge(Struct, frozen=True):
    """One edge, and which edges go on before and after it."""

    line: EdgeLine
    before: Beside | None
    after: Beside | None


class FloorEdges(Struct, frozen=True):
    """All edges of a floor, and the convex things it goes round.

    ``names``: pair of a wall's corners, either way round → the wall's name; ``rounds``: that name → the
    rounds about the inner corners in which the wall ends.
    """

    edges: tuple[FloorEdge, ...]
    things: tuple[Ring, ...]
    rounds: dict[str, tuple[InnerRound, ...]]
    names: dict[tuple[str, str], str]

    def has(self, edge: EdgeThatMatters) -> bool:
        """Does the floor reach that wall anywhere?"""
        name = self.names.get((edge.from_, edge.to))
        return any(each.line.name == name for each in self.edges)

    def named(self, wishes: SettingOut) -> tuple[NamedEdge, ...]:
        """The edges that matter, by wall."""
        return tuple(self._named(name, weight) for name, weight in self._weights(wishes).items())

    def walls(self) -> tuple[NamedEdge, ...]:
        """Every wall, as if all mattered alike."""
        return tuple(self._named(name, 1.0) for name in dict.fromkeys(self.names.values()))

    def _named(self, name: str, weight: float) -> NamedEdge:
        lines = tuple(each.line for each in self.edges if each.line.name == name)
        return NamedEdge(name, weight, lines, self.rounds.get(name, ()))

    def searched(self, wishes: SettingOut, cell: PhaseCell, diagonal: float) -> tuple[SearchedEdge, ...]:
        """All edges as a search over a pattern takes them, whose boards measure so much across corners."""
        weights = self._weights(wishes)
        return tuple(
            SearchedEdge(
                moving=moving_edge(each.line, cell),
                weight=weights.get(each.line.name),
                before=each.before,
                after=each.after,
                things=tuple(_things_near(self.things, each.line, diagonal)),
                near=tuple(_edges_near(self.edges, number, diagonal)),
            )
            for number, each in enumerate(self.edges)
        )

    def turns(self, wishes: SettingOut, cell: PhaseCell) -> Iterator[float]:
        """By how many degrees the pattern would have to be turned to follow each edge that matters."""
        for edge in self.named(wishes):
            for line in edge.lines:
                turn = turn_to_follow(line, cell)
                if turn is not None:
                    yield turn

    def _weights(self, wishes: SettingOut) -> dict[str, float]:
        return {self.names[edge.from_, edge.to]: edge.weight for edge in wishes.edges}


def _things_near(rings: Sequence[Ring], line: EdgeLine, diagonal: float) -> Iterator[Thing]:
    """Those things that a board may come to while it lies at an edge."""
    for ring in rings:
        if min(line.height(point) for point in ring) < diagonal + line.most_sag:
            yield thing_in(ring, line.frame)


def _meeting(edge: FloorEdge) -> list[int]:
    return [
        beside.edge for beside in (edge.before, edge.after) if beside is not None and beside.edge is not None
    ]


def _edges_near(edges: Sequence[FloorEdge], number: int, diagonal: float) -> Iterator[int]:
    """Those edges of which some point is near to one, besides those that meet it."""
    line, meet = edges[number].line, {number, *_meeting(edges[number])}
    (first, last), (low, high) = line.stations[:: len(line.stations) - 1], line.levels
    for other, each in enumerate(edges):
        ring = line.frame.ring_to_board(each.line.points)
        stations, across = [x for x, _ in ring], [y for _, y in ring]
        is_beside = min(stations) < last + diagonal and max(stations) > first - diagonal
        if other not in meet and is_beside and min(across) < high + diagonal and max(across) > low - diagonal:
            yield other


def floor_edges(room: RoomPlan, board_length: float) -> FloorEdges:
    """The edges of a room's floor, for boards of that length in mm."""
    return _kept.get((room.record, board_length), lambda: _floor_edges(room, board_length))


_kept: Kept[FloorEdges] = Kept()


def _floor_edges(room: RoomPlan, board_length: float) -> FloorEdges:
    found: list[FloorEdge] = []
    solid = {barrier.name for barrier in room.barriers if barrier.solid}
    things: list[Ring] = []
    for ring in rim(room.lay_area, room.barriers):
        rings = [thing_ring(stretch) if stretch.barrier in solid else None for stretch in ring]
        things += [each for each in rings if each is not None]
        found += _of_ring(ring, [each is not None for each in rings], board_length, len(found))
    return FloorEdges(tuple(found), tuple(things), _rounds(room), _names(room))


def _of_ring(
    ring: Sequence[Stretch], is_thing: Sequence[bool], board_length: float, first: int
) -> Iterator[FloorEdge]:
    lines = [edge_line(stretch, board_length) for stretch in ring]
    kept = [place for place, line in enumerate(lines) if line is not None]
    # A ring of one stretch has nothing beside it.
    numbers = {place: first + number for number, place in enumerate(kept) if len(ring) > 1}

    def corner(before: int, after: int, beside: int) -> Beside | None:
        """What goes on round the corner between two stretches."""
        one, other = lines[before % len(ring)], lines[after % len(ring)]
        number = numbers.get(beside % len(ring))
        if is_thing[beside % len(ring)]:
            own = before + after - beside
            behind = ring[(2 * beside - own) % len(ring)].barrier
            return Beside(None, EdgeCorner(False)) if ring[own % len(ring)].barrier == behind else None
        if one is None or other is None or number is None:
            return None
        met = edge_corner(one, other)
        if met.is_inner:
            return Beside(number, met)
        is_after = beside == after
        line, there = (one, other) if is_after else (other, one)
        return Beside(number, met, wedge_at(line, there, is_after, BOARDS * board_length))

    for place, line in enumerate(lines):
        if line is not None:
            yield FloorEdge(line, corner(place - 1, place, place - 1), corner(place, place + 1, place + 1))


def _rounds(room: RoomPlan) -> dict[str, tuple[InnerRound, ...]]:
    walls = [barrier for barrier in room.barriers if not barrier.solid]
    found = {
        wall.name: [
            inner_round(end, wall.gap, room.lay_area, TOUCH) for end in (wall.points[0], wall.points[-1])
        ]
        for wall in walls
    }
    return {name: tuple(each for each in both if each) for name, both in found.items()}


def _names(room: RoomPlan) -> dict[tuple[str, str], str]:
    """Both ways round, for a wall may be named from either end."""
    names: dict[tuple[str, str], str] = {}
    for line in room.outline.walls:
        start, end = line.wall.from_, line.wall.to
        names[start, end] = names[end, start] = line.name
    return names

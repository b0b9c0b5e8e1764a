"""What a range of phases leaves of a board at an edge, against true clipping at phases drawn from it."""

from math import cos, pi, sin
from random import Random
from typing import Any

import msgspec
import pytest

from engine.model.job import Job
from engine.model.setting_out import SettingOut
from engine.planning.best_place import sought_at
from engine.planning.floor_edges import floor_edges
from engine.planning.floor_plan import plan_room
from engine.setting_out.best_phase import best_phase, straight_edges
from engine.setting_out.moving_edge import Reach
from engine.setting_out.phase import Phase
from engine.setting_out.sought import Sought
from engine.setting_out.straight_edges import StraightEdges
from engine.slices import to_the_end
from tests.reference.crooked_floors import crooked_floor

RANGES, PHASES = 8, 3
SIDES = ("AB", "BC", "CD", "DE", "EF", "FA")
# By how much an edge that bends within a board may make its piece smaller than a straight one, mm.
BEND = 0.2
# Boards that reach over an edge by less are not held against clipping one by one, mm; and how near the others
# come to it: what a round corner of a gap or a round thing takes off a flat cut is left out.
CLOSE, ROUND = 0.2, 1.0


def asked_of(floor: dict[str, Any]) -> tuple[Sought, StraightEdges]:
    job = msgspec.convert(floor, Job)
    wishes, room = job.setting_out or SettingOut(), plan_room(job)
    sought = sought_at(room, job.floor, wishes, floor_edges(room, job.floor.board.length))
    return sought, straight_edges(sought)


def blunt_floor(seed: int) -> dict[str, Any]:
    """Six blunt corners between walls that want 3 and 15 mm in turn: the rim goes round the walls' ends."""
    floor, chance = crooked_floor(seed), Random(seed)
    radius = chance.uniform(1200, 2200)
    corners = {
        name: [
            round(2500 + radius * cos(pi / 3 * place + chance.uniform(-0.15, 0.15)), 1),
            round(2500 + radius * sin(pi / 3 * place + chance.uniform(-0.15, 0.15)), 1),
        ]
        for place, name in enumerate("ABCDEF")
    }
    walls = [{"from": a, "to": b, "gap": 3 + 12 * (place % 2)} for place, (a, b) in enumerate(SIDES)]
    edges = [{"from": a, "to": b} for a, b in SIDES]
    floor["room"] = {"corners": corners, "walls": walls}
    floor["floor"]["anchor"] = [2500, 2500]
    floor["setting_out"]["edges"] = edges
    return floor


def a_range(chance: Random) -> Reach:
    half = 0.5 ** chance.randint(3, 8)
    return Reach(chance.uniform(half, 1 - half), chance.uniform(half, 1 - half), half, half)


def a_phase(chance: Random, reach: Reach) -> Phase:
    u, v, a, b = reach
    return u + chance.uniform(-a, a), v + chance.uniform(-b, b)


def a_mm(sought: Sought) -> float:
    """What a millimetre is by the measure: for areas, of a piece as wide as a board."""
    return next(iter(sought.boards.values())).size.width if sought.measure == "area" else 1.0


FLOORS = [crooked_floor(seed) for seed in (1, 4, 8, 14, 26, 61, 71)] + [
    blunt_floor(seed) for seed in (0, 1, 2)
]


@pytest.mark.parametrize("seed", range(len(FLOORS)))
def test_no_piece_is_larger_than_its_range_allows(seed: int) -> None:
    """A board that lies at an edge whatever the phase is there at each, and no larger than the bound."""
    sought, edges = asked_of(FLOORS[seed])
    chance, checked = Random(seed), 0
    for _ in range(RANGES):
        reach = a_range(chance)
        moves = edges.moves(reach)
        judged = [(board, board.judge(moves, sought.measure, is_sure=True)) for board in edges.boards]
        sure = [(board, found.most) for board, found in judged if found is not None and found.is_there]
        for _ in range(PHASES):
            pieces = sought.rated(phase := a_phase(chance, reach)).pieces
            for board, most in sure:
                edge = edges.edges[board.edge]
                sizes = [
                    sizes.by(sought.measure) / (edge.weight or 1.0)
                    for (number, _, name), sizes in pieces.items()
                    if (number, name) == (board.number, edge.moving.line.name)
                ]
                assert sizes, (board.number, edge.moving.line.name, phase)
                assert min(sizes) <= most + 1e-4
                checked += 1
    assert checked > 20


@pytest.mark.parametrize("seed", [2, 4, 24, 61])
def test_what_straight_edges_tell_of_a_phase_is_what_clipping_gives(seed: int) -> None:
    """Beside pipes that stand in a wall and islands near one, and past the sides of chimney breasts."""
    sought, edges = asked_of(crooked_floor(seed))
    chance, checked = Random(seed), 0
    for _ in range(2 * RANGES):
        phase = chance.random(), chance.random()
        moves, pieces = edges.moves(Reach(*phase, 0.0, 0.0)), sought.rated(phase).pieces
        for board in edges.boards:
            stand, edge = board.stand(moves, sought.measure), edges.edges[board.edge]
            if stand is None or not stand.is_known or stand.top < CLOSE:
                continue
            sizes = [
                sizes.by(sought.measure) / (edge.weight or 1.0)
                for (number, _, name), sizes in pieces.items()
                if (number, name) == (board.number, edge.moving.line.name)
            ]
            assert any(abs(size - stand.size) < ROUND * a_mm(sought) for size in sizes), (board.number, phase)
            checked += 1
    assert checked > 20


@pytest.mark.parametrize("seed", [1, 4, 8, 26, 71])
def test_no_piece_is_smaller_than_its_range_allows(seed: int) -> None:
    """Without things in the way no piece in a range is smaller than what its board keeps at the least."""
    floor = crooked_floor(seed)
    floor["room"]["fixed"] = []
    sought, edges = asked_of(floor)
    chance, checked = Random(seed), 0
    for _ in range(RANGES):
        reach = a_range(chance)
        moves = edges.moves(reach)
        judged = [(board, board.judge(moves, sought.measure)) for board in edges.boards]
        least = {
            (board.number, edges.edges[board.edge].moving.line.name): found.least
            for board, found in judged
            if found is not None and found.least > 0
        }
        for _ in range(PHASES):
            for (number, _, name), sizes in sought.rated(a_phase(chance, reach)).pieces.items():
                if (number, name) in least:
                    weight = next(edge.weight for edge in sought.named if edge.name == name)
                    assert sizes.by(sought.measure) / weight >= least[number, name] - BEND * a_mm(sought)
                    checked += 1
    assert checked > 20


@pytest.mark.parametrize("seed", range(len(FLOORS)))
def test_what_a_board_bars_has_its_piece_and_that_is_too_small(seed: int) -> None:
    """At phases inside a strip the board lies at its edge with a piece smaller than wanted."""
    sought, edges = asked_of(FLOORS[seed])
    chance, checked = Random(seed), 0
    for _ in range(2 * RANGES):
        reach = a_range(chance)
        moves, wanted = edges.moves(reach), chance.uniform(10, 300) * a_mm(sought)
        barred = [
            (board, strip)
            for board in edges.boards
            if (judged := board.judge(moves, sought.measure)) is not None
            for strip in board.barred(
                judged, moves, (reach.half_along, reach.half_across), sought.measure, wanted
            )
        ]
        for _ in range(PHASES):
            phase = a_phase(chance, reach)
            u, v = phase[0] - reach.along, phase[1] - reach.across
            rated = sought.rated(phase)
            for board, strip in barred:
                if not strip.low < u * strip.along + v * strip.across < strip.high:
                    continue
                edge = edges.edges[board.edge]
                sizes = [
                    sizes.by(sought.measure) / (edge.weight or 1.0)
                    for (number, _, name), sizes in rated.pieces.items()
                    if (number, name) == (board.number, edge.moving.line.name)
                ]
                # A board that ends short by less than a hundredth of a millimetre has none, and is as bad.
                assert sizes or rated.value == 0
                assert min(sizes, default=0.0) <= wanted + 1e-4
                checked += 1
    assert checked > 20


@pytest.mark.parametrize("seed", [3, 11, 32])
def test_no_phase_is_better_than_the_bound_of_a_search(seed: int) -> None:
    """At phases drawn from all there are, and near the best one."""
    sought, _ = asked_of(crooked_floor(seed))
    found, chance = to_the_end(best_phase(sought)), Random(seed)
    assert found.top is not None
    u, v = found.top[1]
    phases = [(chance.random(), chance.random()) for _ in range(20)]
    phases += [(u + chance.uniform(-0.01, 0.01), (v + chance.uniform(-0.01, 0.01)) % 1) for _ in range(20)]
    assert all(sought.rated(phase).value <= found.bound + 1e-4 for phase in phases)

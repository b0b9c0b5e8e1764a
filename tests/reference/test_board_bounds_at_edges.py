"""What a range of phases leaves of a board at an edge, against true clipping at phases drawn from it."""

from random import Random

import msgspec
import pytest

from engine.model.job import Job
from engine.model.setting_out import SettingOut
from engine.planning.best_place import sought_at
from engine.planning.floor_edges import floor_edges
from engine.planning.floor_plan import plan_room
from engine.setting_out.best_phase import straight_edges
from engine.setting_out.board_at_edge import Reach
from tests.reference.crooked_floors import crooked_floor

RANGES, PHASES = 8, 3


@pytest.mark.parametrize("seed", [1, 4, 8, 14, 26, 71])
def test_no_piece_is_larger_than_its_range_allows(seed: int) -> None:
    """A board that lies at an edge whatever the phase is there at each, and no larger than the bound."""
    job = msgspec.convert(crooked_floor(seed), Job)
    wishes, room = job.setting_out or SettingOut(), plan_room(job)
    sought = sought_at(room, job.floor, wishes, floor_edges(room, job.floor.board.length))
    edges, chance, checked = straight_edges(sought), Random(seed), 0
    for _ in range(RANGES):
        half = 0.5 ** chance.randint(3, 8)
        reach = Reach(chance.uniform(half, 1 - half), chance.uniform(half, 1 - half), half, half)
        moves = edges.moves(reach)
        judged = [(board, board.judge(moves, sought.measure, is_sure=True)) for board in edges.boards]
        sure = [(board, found.most) for board, found in judged if found is not None and found.is_there]
        for _ in range(PHASES):
            phase = reach.along + chance.uniform(-half, half), reach.across + chance.uniform(-half, half)
            pieces = sought.rated(phase).pieces
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

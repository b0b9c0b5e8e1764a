"""Which edges lock, what must be glued, and to what."""

from typing import Any

import msgspec
import shapely

from engine.geometry.board import side_lengths
from engine.model.job import Job
from engine.planning.floor_plan import FloorPlan, plan_floor
from tests.engine.small_jobs import ask, small_job


def plan_of(**changes: Any) -> FloorPlan:
    return plan_floor(msgspec.convert(small_job(**changes), Job))


def test_a_piece_keeps_the_edges_of_which_enough_is_left_to_lock() -> None:
    """At least 10 mm; a whole board keeps all four."""
    plan = plan_of()
    for piece in plan.pieces:
        lengths = side_lengths(piece.sawn.outline[0], piece.board.size)
        joints = plan.joints[piece.id]
        assert set(joints.keeps) == {side for side, length in lengths.items() if length >= 10}
        assert joints.lost == {side: length for side, length in lengths.items() if 1 <= length < 10}
        assert joints.must_be_glued == (not joints.keeps)
        if piece.sawn.kind == "whole":
            assert set(joints.keeps) == {"left", "right", "start", "far"}


def test_herringbone_boards_lock_with_left_edge_and_start_into_what_lies() -> None:
    """As its joints say: of a left board, left edge and start end join; right edge and far end wait."""
    plan = plan_of()
    whole = next(p for p in plan.pieces if p.sawn.kind == "whole" and p.board.hand == "L")
    joints = plan.joints[whole.id]
    assert set(joints.laid_into) == {"left", "start"}
    assert set(joints.takes) == {"right", "far"}


def test_small_pieces_are_glued_to_the_neighbour_that_they_touch_most() -> None:
    """Slivers up to 60 mm: each is in a glue-up, its pieces touch, and shapely finds no better one."""
    plan = plan_of(cutting__sliver=60, cutting__glue_first=True)
    shapes = {piece.id: shapely.Polygon(piece.ideal[0]) for piece in plan.pieces}
    small = {p.id for p in plan.pieces if p.is_sliver and not p.can_be_left_out}
    grouped = {name: group.pieces for group in plan.glue_ups for name in group.pieces}
    assert small
    assert small <= set(grouped)
    for name in small:
        touch = {
            other: shapes[name].buffer(0.3).intersection(shape).area
            for other, shape in shapes.items()
            if other != name
        }
        most = max(touch.values())
        together = [other for other in grouped[name] if other != name]
        # Its best neighbour, or the piece whose own best neighbour it is.
        assert max(touch[other] for other in together) > most - 1.5 or len(together) > 1
    for group in plan.glue_ups:
        united = shapely.union_all([shapes[name].buffer(0.01) for name in group.pieces])
        assert united.geom_type == "Polygon"


def test_the_card_says_what_to_keep_and_what_to_glue() -> None:
    reply = ask("plan", job=small_job(cutting__sliver=60, cutting__glue_first=True))
    cards = {card["id"]: card for card in reply["cards"]}
    plan = plan_of(cutting__sliver=60, cutting__glue_first=True)
    for group in plan.glue_ups:
        for name in group.pieces:
            if name in cards:
                others = [other for other in group.pieces if other != name]
                (flag,) = [flag for flag in cards[name]["flags"] if flag.startswith("Glued to")]
                assert all(other in flag for other in others)
    for name, card in cards.items():
        locks = [step for step in card["steps"] if step.startswith("Keep the edges that lock: ")]
        assert bool(locks) == bool(plan.joints[name].keeps)

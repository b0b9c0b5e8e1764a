"""Glued pieces are one thing at the saw: one line through all, one setting, one place in the saw's order."""

from typing import Any

import pytest
import shapely
import shapely.affinity

from engine.cutting.corridor import CutLine
from engine.cutting.joined_cut import line_between, line_in
from engine.geometry.frame import Frame
from tests.engine.small_jobs import ask, small_job

SLIVERS = [20, 60]


def planned(sliver: float, **changes: Any) -> dict[str, Any]:
    return ask("plan", job=small_job(cutting__sliver=sliver, cutting__glue_first=True, **changes))


@pytest.mark.parametrize("sliver", SLIVERS)
def test_the_cuts_of_glued_pieces_lie_on_the_line_of_the_glue_up(sliver: float) -> None:
    """Each piece is told, drawn and counted as the common cut leaves it, not as one of its own would."""
    plan, seen = planned(sliver)["plan"], 0
    pieces = {piece["id"]: piece for piece in plan["pieces"]}
    for group in plan["glue_ups"]:
        for cut in group["cuts"]:
            for name in cut["pieces"] if cut["cut"] else ():
                piece = pieces[name]
                frame = Frame(*(piece["board"][key] for key in ("x", "y", "angle")))
                (own,) = [each for each in piece["cuts"] if each["along"] == cut["along"]]
                line = shapely.affinity.scale(shapely.LineString(cut["cut"]), 100, 100)
                ends = [shapely.Point(frame.to_room(tuple(point))) for point in own["points"]]
                assert max(line.distance(end) for end in ends) < 0.01
                seen += 1
    assert seen > 6


@pytest.mark.parametrize("sliver", SLIVERS)
def test_one_piece_stands_for_all_at_the_saw(sliver: float) -> None:
    reply = planned(sliver)
    plan, cards = reply["plan"], {card["id"]: card for card in reply["cards"]}
    at_saw = {name for setting in plan["saw_settings"] for name in setting["pieces"]}
    steps = {piece["id"]: piece["steps"] for piece in plan["pieces"]}
    turned = 0
    for group in plan["glue_ups"]:
        first, *others = [name for name in group["pieces"] if name in cards]
        assert not at_saw & set(others)
        assert all(step["work"] != "turn" for name in others for step in steps[name])
        assert [saw["number"] for name in others for saw in cards[name]["saws"]] == [0] * len(others)
        turned += first in at_saw
        for name in (first, *others):
            assert sorted(cards[name]["together"]) == sorted([first, *others])
            assert "cut as one" in cards[name]["kind_text"]
        if first in at_saw:
            assert all(len(saw["joined"]) == len(group["pieces"]) - 1 for saw in cards[first]["saws"])
    assert turned >= 4


def test_the_board_that_stands_for_all_lies_with_a_free_edge_at_the_fence() -> None:
    """No joined blank reaches past the fence, in the picture as in the room."""
    plan = planned(60)["plan"]
    pieces = {piece["id"]: piece for piece in plan["pieces"]}
    sides = {(name, s["turned"]): s["side"] for s in plan["saw_settings"] for name in s["pieces"]}
    assert sides
    seen = 0
    for group in plan["glue_ups"]:
        first = pieces[group["pieces"][0]]
        turns = [step for step in first["steps"] if step["work"] == "turn"]
        frame = Frame(*(first["board"][key] for key in ("x", "y", "angle")))
        others = [
            frame.to_board(tuple(point))
            for name in group["pieces"][1:]
            for point in pieces[name]["outline"][0]
        ]
        for step in turns:
            cut = next(each for each in first["cuts"] if each["along"] == step["along"])
            (_, begin), (_, end) = cut["points"]
            # Face up the piece lies left of the blade when its start end stays, its left edge at the fence.
            is_right = (step["side"] == "left") == (end < begin)
            assert all(y > -0.01 if is_right else y < 90.01 for _, y in others)
            seen += 1
    assert seen >= 10


def test_a_cut_goes_from_one_boards_frame_to_anothers_and_back() -> None:
    """Two frames at right angles, by hand: a line along x at y = 5 of the one is one along y of the other."""
    now, then = Frame(100.0, 50.0, 0.0), Frame(200.0, 0.0, 90.0)
    line = CutLine(at=(0.0, 5.0), direction=(1.0, 0.0), departure=0.0)
    moved = line_between(line, now, then)
    assert moved.at == pytest.approx((55.0, 100.0))
    assert moved.direction == pytest.approx((0.0, -1.0))
    assert line_in(CutLine(at=(100.0, 55.0), direction=(1.0, 0.0), departure=0.0), now).at == pytest.approx(
        (0, 5)
    )
    back = line_between(moved, then, now)
    assert (*back.at, *back.direction) == pytest.approx((*line.at, *line.direction))

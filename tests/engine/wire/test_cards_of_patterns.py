"""What a card says where boards are not those of a herringbone: ends that lean, or one kind of board only."""

from math import atan, degrees
from typing import Any

import pytest

from tests.engine.small_jobs import ask, small_job


def reply_for(pattern: str, **more: Any) -> dict[str, Any]:
    floor = {
        "pattern": pattern,
        "board": {"length": 600, "width": 90},
        "axis": 88,
        "anchor": [910, 640],
        **more,
    }
    return ask("plan", job=small_job(floor=floor, room__fixed=[]))


@pytest.mark.parametrize(
    ("pattern", "is_handed"),
    [("straight", False), ("diagonal", False), ("chevron", True), ("double herringbone", True)],
)
def test_only_a_pattern_of_either_hand_speaks_of_left_and_right_boards(pattern: str, is_handed: bool) -> None:
    """On the card, in its first step and in the sums."""
    reply = reply_for(pattern)
    for card in reply["cards"]:
        words = {"L": "left board", "R": "right board"}[card["hand"]] if is_handed else "board"
        assert card["steps"][0].startswith((f"Take a {words};", "Take the offcut of "))
        assert card["kind_text"].startswith(f"{words.capitalize()}, ")
    sums = {figure["key"]: int(figure["text"]) for figure in reply["summary"] if "boards" in figure["key"]}
    assert set(sums) == ({"boards left", "boards right"} if is_handed else {"boards"})
    assert sum(sums.values()) == len({piece["from_board"] for piece in reply["plan"]["pieces"]})


def test_a_chevrons_card_tells_how_far_the_ends_lean_beside_the_saws_angle() -> None:
    """The angle follows from both lengths and the lean: θ = atan((right − left ± lean) / W)."""
    reply = reply_for("chevron", angle=30)
    pieces = {piece["id"]: piece for piece in reply["plan"]["pieces"]}
    seen = 0
    for card in reply["cards"]:
        piece, figures = pieces[card["id"]], {figure["key"]: figure for figure in card["figures"]}
        if piece["kind"] not in ("mitre", "crosscut") or len(piece["cuts"]) > 1:
            continue
        inputs = {name: float(text.split()[0]) for name, text in figures["angle 1"]["inputs"]}
        lean = inputs["the ends lean by"] * (
            1 if (piece["hand"] == "R") == (piece["kept_end"] == "start") else -1
        )
        angle = degrees(atan((inputs["right"] - inputs["left"] - lean) / 90))
        assert float(figures["angle 1"]["text"].removesuffix("°")) == pytest.approx(abs(angle), abs=0.3)
        seen += 1
    assert seen > 5

"""Cards for boards marked on the back: names and numbers of edges change places, the piece does not."""

from typing import Any

from tests.engine.small_jobs import ask, small_job

OTHER = {"left": "right", "right": "left"}


def cards_of(**changes: Any) -> dict[str, dict[str, Any]]:
    return {card["id"]: card for card in ask("plan", job=small_job(**changes))["cards"]}


def texts(card: dict[str, Any]) -> dict[str, str]:
    return {figure["key"]: figure["text"] for figure in card["figures"]}


def test_lengths_marks_and_names_are_those_of_the_edges_as_seen_from_the_back() -> None:
    """Also what each length is of when it is measured otherwise, and marks are read from the other edge."""
    face, back = cards_of(), cards_of(cutting__marked_on="back")
    seen_marks = 0
    for name, card in back.items():
        was = face[name]
        for side, other in OTHER.items():
            assert texts(card)[side] == texts(was)[other]
        assert [figure["label"] for figure in card["figures"][:2]] == [
            "Left on the back",
            "Right on the back",
        ]
        sides = [(each["side"], each["name"]) for each in card["planned"]]
        assert sides == [("right", "Left on the back"), ("left", "Right on the back")]
        for mark, before in zip(card["marks"], was["marks"], strict=True):
            assert mark["along"] == before["along"]
            assert abs(float(mark["across"]) + float(before["across"]) - 90) < 0.11
            seen_marks += 1
        assert any("as seen from its back" in step for step in card["steps"])
    assert seen_marks > 5


def test_marks_that_lie_underneath_on_the_saw_are_carried_over() -> None:
    """Only where there is no stop, and where the side that is marked looks down."""

    def carried(**changes: Any) -> int:
        return sum(
            "carry them over" in step for card in cards_of(**changes).values() for step in card["steps"]
        )

    corridor = {"A": [0, 0], "B": [480, 0], "C": [470, 1500], "D": [12, 1500]}
    room = {"corners": corridor, "walls": [{"from": "A", "to": "B"}]}
    floor = {"board": {"length": 600, "width": 90}, "axis": 45, "anchor": [-60, 300]}
    for face, marked_on, is_under in (
        ("up", "face", False), ("down", "face", True), ("up", "back", True), ("down", "back", False)
    ):  # fmt: skip
        job = {"room": room, "floor": floor, "cutting__face": face, "cutting__marked_on": marked_on}
        assert (carried(**job) > 0) == is_under

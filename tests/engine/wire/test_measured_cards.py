"""A piece measured at the wall: what its card says, and what is said before the lengths are taken."""

import re
from typing import Any

import pytest

from tests.engine.small_jobs import ask, small_job
from tests.engine.wire.test_cards import UNROUNDED, cards_of, figures_of, number, texts_of


@pytest.fixture(scope="module")
def planned() -> dict[str, dict[str, Any]]:
    return cards_of(ask("plan", job=small_job()))


def mitred(planned: dict[str, dict[str, Any]]) -> dict[str, Any]:
    return next(
        card for card in planned.values() if card["kind"] == "mitre" and "angle 2" not in figures_of(card)
    )


def lengths_of(card: dict[str, Any]) -> tuple[float, float]:
    shown = figures_of(card)
    return number(shown["left"]["text"]), number(shown["right"]["text"])


def measured(card: dict[str, Any], decimal: str = ".", **lengths: float) -> dict[str, Any]:
    """The card anew, with these lengths measured."""
    job = small_job(progress={card["id"]: lengths})
    return cards_of(ask("plan", job=job, decimal=decimal))[card["id"]]


def test_the_measured_length_comes_first_and_the_card_says_instead_of_what(
    planned: dict[str, dict[str, Any]],
) -> None:
    """Also the picture: the length stands on it, and its outline is another."""
    card = mitred(planned)
    left, right = lengths_of(card)
    now = measured(card, left=left - 0.6)
    assert [shown["key"] for shown in now["figures"][:2]] == ["left", "right"]
    assert now["figures"][0]["text"] == f"{left - 0.6:.1f}"
    assert now["figures"][0]["label"] == "Left as measured"
    assert ["planned", f"{left:.1f} mm"] in now["figures"][0]["inputs"]
    assert now["figures"][1]["label"] == "Right"
    assert now["flags"][0] == f"Measured at the wall: left {left - 0.6:.1f} instead of {left:.1f}."
    assert [(each["name"], each["text"]) for each in now["planned"]] == [
        ("Left", f"{left:.1f}"), ("Right", f"{right:.1f}")
    ]  # fmt: skip
    assert now["saws"][0]["keep"] != card["saws"][0]["keep"]
    assert f"left {left - 0.6:.1f}" in [label["text"] for label in now["saws"][0]["labels"]]
    assert "gap" not in figures_of(now)


def test_where_one_length_was_measured_the_other_is_asked_for(planned: dict[str, dict[str, Any]]) -> None:
    """On a wall that nobody has read; with both lengths from the wall nothing is left to ask."""
    unread = next(
        card
        for card in planned.values()
        if card["kind"] == "mitre" and any(f.startswith("Measure this one") for f in card["flags"])
    )
    left, right = lengths_of(unread)

    def asked(**lengths: float) -> list[str]:
        return [f.partition(":")[0] for f in measured(unread, **lengths)["flags"] if f.startswith("Measure ")]

    assert asked(left=left + 1) == ["Measure the right length too at the wall"]
    assert asked(right=right + 1) == ["Measure the left length too at the wall"]
    assert asked(left=left + 1, right=right + 1) == []


def test_a_comma_is_honoured_on_a_measured_card(planned: dict[str, dict[str, Any]]) -> None:
    card = mitred(planned)
    left, _ = lengths_of(card)
    read = measured(card, ",", left=left - 7.3)
    for text in texts_of([read["figures"], read["steps"], read["flags"], read["planned"]]):
        assert not re.search(r"\d\.\d", text), text
    refused = measured(card, ",", left=600.5)
    assert "600,5 mm is longer than the board, 600,0 mm" in refused["flags"][0]


def test_no_text_of_a_measured_card_shows_a_number_that_was_not_rounded(
    planned: dict[str, dict[str, Any]],
) -> None:
    for card in list(planned.values())[::4]:
        left, right = lengths_of(card)
        now = measured(card, left=max(left - 3.14159, 1.23456), right=max(right - 1.41421, 1.23456))
        for text in texts_of([now["figures"], now["steps"], now["flags"], now["planned"]]):
            assert not UNROUNDED.search(re.sub(r"\d+-\d+[LR]", "", text)), text


def test_the_saw_angle_is_told_anew_with_its_step(planned: dict[str, dict[str, Any]]) -> None:
    """A step that moves the ends of the cut by what a tape can tell is said, with what to do about it."""
    card = mitred(planned)
    left, right = lengths_of(card)
    now = measured(card, left=left - 15, right=right)
    assert figures_of(now)["angle 1"]["text"] != figures_of(card)["angle 1"]["text"]
    assert float(figures_of(now)["angle 1"]["text"].removesuffix("°")) % 0.5 == 0
    turned = [step for step in now["steps"] if "turn the saw" in step]
    assert figures_of(now)["angle 1"]["text"] in turned[0]
    steps = [measured(card, left=left - by / 10, right=right)["steps"] for by in range(1, 9)]
    assert any("half-way across the board" in step for each in steps for step in each)


def test_a_notch_keeps_its_marks_and_says_so(planned: dict[str, dict[str, Any]]) -> None:
    """What two lengths cannot say is not made up."""
    card = next(
        card for card in planned.values() if card["kind"] in ("notch", "corner", "hole") and card["marks"]
        and 20 < lengths_of(card)[0] < 580
    )  # fmt: skip
    now = measured(card, left=lengths_of(card)[0] - 2)
    assert now["marks"] == card["marks"]
    assert now["saws"][0]["keep"] == card["saws"][0]["keep"]
    assert "Two lengths do not say all of this cut" in now["flags"][1]


def test_the_difference_is_told_before_the_lengths_are_taken(planned: dict[str, dict[str, Any]]) -> None:
    """Against the plan, not against what was measured before."""
    card = mitred(planned)
    left, right = lengths_of(card)
    job = small_job(progress={card["id"]: {"left": left + 9}})
    reply = ask("measured", job=job, piece=card["id"], left=left - 2.5, right=right)
    assert reply["reply"] == "measured"
    assert reply["fault"] is None
    assert reply["differences"][0] == f"Left 2.5 mm shorter than the planned {left:.1f} mm."
    assert reply["differences"][1] == f"Right as planned, {right:.1f} mm."
    assert re.fullmatch(r"Saw angle \d+\.\d°, (instead of \d+\.\d°|as planned)\.", reply["differences"][2])


def test_what_cannot_be_is_told_before_it_is_taken(planned: dict[str, dict[str, Any]]) -> None:
    card = mitred(planned)
    reply = ask("measured", job=small_job(), piece=card["id"], left=720, decimal=",")
    assert "720,0 mm is longer than the board" in reply["fault"]["sentence"]
    stranger = ask("measured", job=small_job(), piece="77-77L", right=300)
    assert "this plan does not cut it" in stranger["fault"]["sentence"]
    assert stranger["differences"] == []
    assert ask("measured", job=small_job(), piece=card["id"])["differences"] == []


def test_a_length_that_is_no_number_is_refused_with_the_piece_named() -> None:
    reply = ask("plan", job=small_job(progress={"3-4L": {"left": "wide"}}))
    assert reply["reply"] == "refused"
    assert reply["findings"][0]["path"] == "progress.3-4L.left"

"""What a card says beside the cut: neighbours, the turn in laying, and the words for a voice."""

import re

from tests.engine.small_jobs import ask, small_job


def test_a_card_names_its_neighbours_and_where_they_lie() -> None:
    """Each with the edge that it lies against; its name stands inside what the card draws."""
    reply = ask("plan", job=small_job())
    pieces = {piece["id"] for piece in reply["floor"]["pieces"]}
    for card in reply["cards"]:
        x, y, wide, high = card["near"]
        assert card["neighbours"]
        for neighbour in card["neighbours"]:
            assert neighbour["id"] in pieces
            assert neighbour["id"] in neighbour["words"]
            assert neighbour["path"].startswith("M")
            assert x <= neighbour["label"]["at"][0] <= x + wide
            assert y <= neighbour["label"]["at"][1] <= y + high


def test_every_piece_to_cut_has_its_own_turn_in_laying() -> None:
    """No two have the same, and none comes after the last piece of the floor."""
    reply = ask("plan", job=small_job())
    turns = [card["laying"] for card in reply["cards"]]
    assert len(set(turns)) == len(turns)
    assert 1 <= min(turns) <= max(turns) <= len(reply["floor"]["pieces"])


def test_a_voice_says_both_lengths_and_the_angle_with_their_names() -> None:
    """In the reader's decimals, as the card shows them."""
    reply = ask("plan", job=small_job(), decimal=",")
    card = next(card for card in reply["cards"] if card["kind"] == "mitre")
    left, right, angle = (
        next(f for f in card["figures"] if f["key"] == k) for k in ("left", "right", "angle 1")
    )
    assert card["spoken"] == (
        f"Left: {left['text']} mm. Right: {right['text']} mm. {angle['label']}: {angle['text']}."
    )


def test_an_angle_and_its_sign_are_one_word_wherever_figures_are_shown() -> None:
    """SI brochure, 9th ed., 5.4.3: no space between the number and ° of an angle."""
    reply = ask("plan", job=small_job())
    shown = [figure for card in reply["cards"] for figure in card["figures"]]
    shown += [corner["angle"] for corner in reply["room"]["corners"]]
    angles = [figure for figure in shown if "angle" in figure["key"]]
    assert len(angles) > len(reply["room"]["corners"])
    assert all(re.fullmatch(r"\d+\.\d+°", figure["text"]) and figure["unit"] == "" for figure in angles)
    assert all("°" not in figure["unit"] for figure in shown)


def test_each_turn_of_the_saw_names_its_figures() -> None:
    """What is set for a turn is what the card's figures of that turn say."""
    cards = ask("plan", job=small_job())["cards"]
    turns = [(card, saw) for card in cards for saw in card["saws"] if saw["figures"]]
    assert turns
    for card, saw in turns:
        angle, stop = (next(f for f in card["figures"] if f["key"] == key) for key in saw["figures"])
        assert saw["setting"].startswith(("Set square", f"Set {angle['text']} "))
        assert stop["text"] == saw["stop_length"]


def test_a_piece_that_is_laid_long_says_so_on_its_card_once_the_cut_is_measured() -> None:
    """Who goes by the card alone would cut the row too short; before there is a line nothing is said."""
    job = small_job(floor__board__thickness=14)
    marks = [{"at": [1700, 200], "distance": 100}, {"at": [1705, 1250], "distance": 105}]
    for measured in ([], marks):
        job["long_cuts"] = [{"from": "B", "to": "C", "marks": measured}]
        reply = ask("plan", job=job)
        rough = {board["id"]: board["take"].lower() for board in reply["long_cuts"][0]["boards"]}
        told = {
            card["id"]: [flag for flag in card["flags"] if "Laid long" in flag] for card in reply["cards"]
        }
        for name, flags in told.items():
            if measured and name in rough:
                assert flags[0].startswith(f"Laid long for the cut along B–C: {rough[name]}")
            else:
                assert flags == []

"""A glue-up on the page, in the plan file and on paper: the same numbers in all three."""

from base64 import b64decode
from io import BytesIO
from itertools import chain

from pypdf import PdfReader

from tests.engine.small_jobs import ask, small_job


def test_card_file_and_list_tell_one_glue_up() -> None:
    job = small_job(cutting__sliver=60, cutting__glue_first=True)
    reply = ask("plan", job=job)
    drawn, written = reply["glue_ups"], reply["plan"]["glue_ups"]
    assert [each["pieces"] for each in drawn] == [each["pieces"] for each in written]
    cards = {card["id"]: card for card in reply["cards"]}
    for picture, group in zip(drawn, written, strict=True):
        steps = " ".join(picture["steps"])
        marks = [mark for cut in group["cuts"] for mark in cut["marks"]]
        # The file has a ten-thousandth, the sentence a tenth of what is between two of them.
        told = ({f"{mark['distance'] + way:.1f} mm" for way in (-1e-4, 1e-4)} for mark in marks)
        assert all(any(text in steps for text in texts) for texts in told)
        assert all(name in steps for name in group["pieces"])
        assert len(picture["cuts"]) == sum(cut["cut"] is not None for cut in group["cuts"])
        assert {label["text"] for label in picture["labels"]} <= set(group["pieces"])
        for name in group["blanks"]:
            assert any(flag.startswith("Glued to") for flag in cards[name]["flags"])
    assert {figure["formula"] for each in drawn for figure in each["figures"]} <= set(reply["formulas"])


def test_the_printed_list_has_the_steps_once() -> None:
    job = small_job(cutting__glue_first=True)
    reply = ask("plan", job=job)
    sheets = ask("sheets", job=job)
    pages = PdfReader(BytesIO(b64decode(sheets["binary_files"]["cuts.pdf"]))).pages
    text = " ".join(" ".join(page.extract_text() for page in pages).split())
    steps = list(chain.from_iterable(each["steps"] for each in reply["glue_ups"]))
    taken = [step for step in steps if step.startswith("Take for")]
    assert len(taken) == len(reply["glue_ups"]) == 4
    for step in taken:
        assert text.count(step) == 1


def test_a_glue_up_is_offered_until_it_is_chosen() -> None:
    """Before that nothing is bought for it, and the card says what could be."""
    offered, chosen = (ask("plan", job=small_job(cutting__glue_first=is_first)) for is_first in (False, True))
    assert offered["glue_ups"] == []
    assert len(chosen["glue_ups"]) == 4
    # Chosen, their cuts share the saw's settings with the others.
    assert [each["pieces"] for each in offered["plan"]["glue_ups"]] == [
        each["pieces"] for each in chosen["plan"]["glue_ups"]
    ]
    assert len(offered["plan"]["boards"]) < len(chosen["plan"]["boards"])
    for card in offered["cards"]:
        others = [each for each in offered["plan"]["glue_ups"] if card["id"] in each["pieces"]]
        assert bool(card["glue_offer"]) == bool(others)
        assert all(
            name in card["glue_offer"] for each in others for name in each["pieces"] if name != card["id"]
        )
        assert not any(flag.startswith("Glued to") for flag in card["flags"])

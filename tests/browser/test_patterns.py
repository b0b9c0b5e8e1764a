"""Choosing a pattern on the phone: every one the engine has, with only the fields it takes."""

import pytest
from playwright.sync_api import Page, expect

from engine.patterns import find_pattern, pattern_names
from tests.browser.screens import ENGINE_MS, open_demo

FIELDS = {
    "strips": "Boards side by side",
    "angle": "Ends cut from square by",
    "stagger": "How the rows are moved",
}


@pytest.fixture
def job(page: Page) -> str:
    job = open_demo(page)
    page.goto(f"/{job}/set-out")
    return job


def choose(page: Page, name: str) -> None:
    page.get_by_label("Pattern", exact=True).select_option(name)
    expect(page.get_by_role("status")).to_contain_text(f"Pattern: {name}")


def test_every_pattern_of_the_engine_can_be_chosen_and_asks_for_its_own_fields(page: Page, job: str) -> None:
    """Promise: a new pattern is one file in the engine; the screen needs no edit for it."""
    for name in pattern_names():
        choose(page, name)
        for field, label in FIELDS.items():
            shown = int(field in find_pattern(name).uses)
            expect(page.get_by_text(label, exact=True)).to_have_count(shown)


def test_another_pattern_gives_another_floor_and_counts_its_pieces_anew(page: Page, job: str) -> None:
    """Promise: a chevron floor is planned as readily; no piece keeps the number of another floor."""
    choose(page, "chevron")
    page.goto(f"/{job}/plan")
    expect(page.locator("#kept-plan")).to_have_count(0, timeout=ENGINE_MS)
    ids = page.locator("path[data-piece]").evaluate_all(
        "pieces => pieces.map((piece) => piece.dataset.piece)"
    )
    # Number 1 is kept free for a corner that is read anew (engine.planning.numbering).
    assert min(int(name.split("-")[0]) for name in ids) == 2


def test_a_pattern_that_does_not_close_says_what_would_and_stays_to_be_changed(page: Page, job: str) -> None:
    """Promise: a wrong choice is answered with a sentence, and the way back is on the same screen.

    Six boards of 90 mm make 540, seven make 630: a board of 600 closes no basket.
    """
    choose(page, "basket")
    expect(page.locator(".finding.error")).to_contain_text("do not close", timeout=ENGINE_MS)
    choose(page, "straight")
    page.get_by_label("As if by chance").check()
    page.get_by_label("Joints at least apart").fill("180")
    page.get_by_label("Joints at least apart").press("Tab")
    page.goto(f"/{job}/plan")
    expect(page.locator(".finding.error")).to_have_count(0, timeout=ENGINE_MS)
    page.locator("path.piece").first.wait_for(timeout=ENGINE_MS)

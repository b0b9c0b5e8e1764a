"""A glue-up at the saw: one card has the cut for all its pieces, one mark and one undo are for all."""

from playwright.sync_api import Page, expect

from tests.browser.screens import ENGINE_MS, bring_in
from tests.engine.small_jobs import small_job


def test_glued_pieces_are_one_thing_at_the_saw(page: Page) -> None:
    job = bring_in(page, small_job(cutting__glue_first=True))
    page.goto(f"/{job}/cut")
    page.get_by_label("In the order").select_option("sawing")
    page.locator("h2", has_text="Set ").first.wait_for(timeout=ENGINE_MS)
    names = [text.split(" · ")[0] for text in page.locator("main .piece-line .name").all_inner_texts()]
    assert "3-15R" in names
    assert "3-16R" not in names
    page.goto(f"/{job}/piece/3-16R")
    expect(page.get_by_text("Glued to 3-15R, cut as one:")).to_be_visible()
    expect(page.get_by_text("The cut is on the card of 3-15R")).to_be_visible()
    page.goto(f"/{job}/piece/3-15R")
    picture = page.locator(".drawing.saw").first
    expect(picture.locator("text", has_text="3-16R")).to_be_visible()
    expect(picture.locator(".fence")).to_have_count(1)
    page.get_by_role("button", name="Cut, next").tap()
    expect(page.get_by_role("heading", level=1)).not_to_have_text("Piece 3-15R", timeout=ENGINE_MS)
    page.goto(f"/{job}/piece/3-16R")
    cut = page.get_by_role("button", name="Cut", exact=True)
    expect(cut).to_have_attribute("aria-pressed", "true")
    page.get_by_role("button", name="Undo").tap()
    expect(cut).to_have_attribute("aria-pressed", "false")
    page.goto(f"/{job}/piece/3-15R")
    expect(cut).to_have_attribute("aria-pressed", "false")

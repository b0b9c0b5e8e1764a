"""Saving a board from the phone: asked for, stopped, kept, undone."""

from playwright.sync_api import Page, expect

from tests.browser.screens import ENGINE_MS, bring_in, exported_job
from tests.engine.planning.planned_boards import begun_floor_in_doubt
from tests.reference.test_boards_against_linear_programme import seeded_job


def test_the_search_says_how_far_it_is_and_keeps_what_it_found(page: Page) -> None:
    """Promise: a board less after the search ends by itself, one step in the job, and undo takes it back."""
    job = bring_in(page, begun_floor_in_doubt())
    page.goto(f"/{job}/boards")
    section = page.get_by_role("region", name="Saving boards")
    expect(section).to_contain_text("1 board might be saved at most", timeout=ENGINE_MS)
    boards = page.locator(".figure.boards.right .value")
    before = int(boards.inner_text())
    section.get_by_role("button", name="Look for boards to save").click()
    expect(section.get_by_role("progressbar")).to_be_visible()
    expect(section).to_contain_text("1 board saved after", timeout=ENGINE_MS)
    expect(section).to_contain_text("Proven: these pieces cannot be had from fewer boards", timeout=ENGINE_MS)
    expect(boards).to_have_text(str(before - 1))
    assert len(exported_job(page, job)["shared_boards"]) > 10
    page.goto(f"/{job}/boards")
    page.get_by_role("button", name="Undo").click()
    expect(section).to_contain_text("1 board might be saved at most", timeout=ENGINE_MS)
    expect(boards).to_have_text(str(before))
    expect(section).not_to_contain_text("1 board saved")


def test_a_search_that_finds_nothing_is_stopped_by_a_tap(page: Page) -> None:
    """Promise: between two slices the tap gets through, and the job stays as it was."""
    job = bring_in(page, seeded_job(39))
    page.goto(f"/{job}/boards")
    section = page.get_by_role("region", name="Saving boards")
    section.get_by_role("button", name="Look for boards to save").click(timeout=ENGINE_MS)
    expect(section).to_contain_text("No board saved so far", timeout=ENGINE_MS)
    section.get_by_role("button", name="Stop").click()
    expect(section.get_by_role("button", name="Look for boards to save")).to_be_visible(timeout=5_000)
    assert "shared_boards" not in exported_job(page, job)

"""The last row along the threshold, cut in one pass, driven from the phone."""

from playwright.sync_api import Page, expect

from tests.browser.screens import ENGINE_MS, exported_job, open_demo


def add_mark(page: Page, distance: str) -> None:
    """Take the corner that is proposed, type what was measured from it."""
    entry = page.get_by_role("region", name="Next mark")
    expect(entry.get_by_label("From the corner of board")).to_contain_text("along B–C", timeout=ENGINE_MS)
    entry.get_by_label("To the edge, as measured").fill(distance)
    entry.get_by_role("button", name="Take it").click()


def test_two_marks_give_line_gaps_guide_and_filler(page: Page) -> None:
    """Promise: from the Cut step to the numbers to strike, and the marks stand in the job file."""
    job = open_demo(page)
    page.goto(f"/{job}/cut")
    page.get_by_role("link", name="The long straight cut").click()
    page.get_by_role("button", name="B–C, threshold").click()
    expect(page.get_by_text("Never cut over heating film")).to_be_visible(timeout=ENGINE_MS)
    add_mark(page, "54")
    expect(page.get_by_role("region", name="Mark 1")).to_be_visible()
    add_mark(page, "80")
    expect(page.locator(".figure.huge .label")).to_have_text(
        ["Mark 1 to the cut, mm", "Mark 2 to the cut, mm"], timeout=ENGINE_MS
    )
    # The demo's threshold bows by 1.5 mm and its gap is 3 mm: one straight cut halves the bow.
    expect(page.locator(".figure.narrowest .value")).to_have_text("2.2 mm")
    expect(page.locator(".figure.widest .value")).to_have_text("3.8 mm")
    expect(page.locator(".figure.filler .value")).to_have_text("171 ml")
    page.get_by_label("Guide to blade").fill("95")
    page.get_by_label("Guide to blade").press("Enter")
    expect(page.get_by_text("its edge 95.0 mm from the cut")).to_be_visible(timeout=ENGINE_MS)
    page.locator(".figure.filler").click()
    expect(page.get_by_role("dialog")).to_contain_text("Area of the seam seen from above")
    page.get_by_role("button", name="Close").click()
    (cut,) = exported_job(page, job)["long_cuts"]
    assert [mark["distance"] for mark in cut["marks"]] == [54, 80]
    assert cut["guide"] == 95

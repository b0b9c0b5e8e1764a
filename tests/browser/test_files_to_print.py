"""The files to print, as a person gets them on the screen of files."""

from pathlib import Path

from playwright.sync_api import Page, expect
from pypdf import PdfReader

from tests.browser.screens import ENGINE_MS, open_demo


def test_paper_and_label_sheet_are_chosen_and_what_cannot_be_is_told(page: Page) -> None:
    """Promise: what is saved is for the paper and labels chosen; a slip in a measure loses nothing else."""
    job = open_demo(page)
    page.goto("/#/settings")
    page.get_by_label("Letter").check()
    page.goto(f"/{job}/more")
    sheet = page.get_by_label("Label sheet")
    sheet.select_option("own", timeout=ENGINE_MS)
    measures = {
        "columns": 2,
        "rows": 5,
        "left": 4,
        "top": 13,
        "width": 100,
        "height": 50,
        "across": 90,
        "down": 50,
    }
    for name, value in measures.items():
        page.locator(f"#labels-{name}").fill(str(value))
        page.locator(f"#labels-{name}").press("Tab")
    expect(page.get_by_text("they overlap")).to_be_visible(timeout=ENGINE_MS)
    expect(page.get_by_role("button", name="labels.pdf")).to_be_disabled()
    expect(page.get_by_role("button", name="cuts.pdf")).to_be_enabled()
    page.locator("#labels-across").fill("104")
    page.locator("#labels-across").press("Tab")
    labels = page.get_by_role("button", name="labels.pdf")
    expect(labels).to_be_enabled(timeout=ENGINE_MS)
    with page.expect_download() as waiting:
        labels.click()
    first = PdfReader(Path(waiting.value.path())).pages[0]
    assert (float(first.mediabox.width), float(first.mediabox.height)) == (612, 792)
    assert first.extract_text().count("far end") == 10

"""The files to print, as a person gets them on the screen of files."""

import json
import re
from base64 import b64decode
from pathlib import Path

from playwright.sync_api import Page, expect
from pypdf import PdfReader

from builder.places import DEMO_JOB
from engine.entry import handle
from tests.browser.screens import ENGINE_MS, open_demo

DEMO = json.loads(DEMO_JOB.read_text(encoding="utf-8"))


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


SPOIL = """
const Real = Worker;
window.Worker = class extends Real {
  postMessage(message) {
    const asked = message.kind === 'ask' ? JSON.parse(message.text) : {};
    if (asked.only?.[0] !== 'saw.pdf') return super.postMessage(message);
    const reply = { reply: 'fault', name: 'KeyError', message: 'spoiled by the test', trace: '' };
    setTimeout(() => this.onmessage({ data: { kind: 'reply', id: message.id, reply } }));
  }
};
"""


def test_the_screen_answers_at_once_and_a_fault_costs_one_file(page: Page) -> None:
    """Promise: all files are listed before any is made, each is ready by itself, one that fails says so."""
    page.add_init_script(SPOIL)
    job = open_demo(page)
    page.goto(f"/{job}/more")
    lines = page.locator("main .list button")
    assert lines.count() == 13
    expect(lines.get_by_text("being made…").first).to_be_visible()
    saw = page.get_by_role("button", name="saw.pdf")
    expect(saw).to_contain_text("could not be made (KeyError: spoiled by the test)", timeout=ENGINE_MS)
    expect(saw).to_be_disabled()
    expect(page.get_by_text("being made…")).to_have_count(0, timeout=ENGINE_MS)
    ready = [line for line in lines.all() if line.is_enabled()]
    # Of the demo no piece needs a scribe strip or all do; whatever there is bears its size.
    assert len(ready) >= 10
    for line in ready:
        assert re.search(r"\d kB$", line.inner_text().strip())


def test_labels_go_on_a_sheet_that_is_begun(page: Page) -> None:
    """Promise: the first free label is typed once, is kept, and a number that is not on the sheet is told."""
    job = open_demo(page)
    page.goto(f"/{job}/more")
    first = page.get_by_label("First free label on the sheet")
    first.fill("99", timeout=ENGINE_MS)
    first.press("Tab")
    expect(page.get_by_text("whole number from 1 to 24")).to_be_visible(timeout=ENGINE_MS)
    expect(page.get_by_role("button", name="labels.pdf")).to_be_disabled()
    first.fill("21")
    first.press("Tab")
    labels = page.get_by_role("button", name="labels.pdf")
    expect(labels).to_be_enabled(timeout=ENGINE_MS)
    with page.expect_download() as waiting:
        labels.click()
    pages = PdfReader(Path(waiting.value.path())).pages
    assert pages[0].extract_text().count("far end") == 4
    page.reload()
    expect(first).to_have_value("21", timeout=ENGINE_MS)


def test_the_setting_out_sheet_is_a_tap_from_the_lines_and_the_same_as_on_the_desk(page: Page) -> None:
    """Promise: byte for byte, whatever made it."""
    job = open_demo(page)
    page.goto(f"/{job}/strike")
    page.get_by_role("link", name="Print the setting-out sheet").click()
    sheet = page.get_by_role("button", name="setting-out.pdf")
    expect(sheet).to_be_enabled(timeout=ENGINE_MS)
    with page.expect_download() as waiting:
        sheet.click()
    on_desk = json.loads(handle(json.dumps({"ask": "sheets", "job": DEMO, "only": ["setting-out.pdf"]})))
    assert Path(waiting.value.path()).read_bytes() == b64decode(on_desk["binary_files"]["setting-out.pdf"])

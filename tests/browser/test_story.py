"""The whole job as a user does it, on a phone, with the signal lost half-way."""

import json
from io import BytesIO
from pathlib import Path

import pytest
from playwright.sync_api import Browser, BrowserContext, Page, expect
from pypdf import PdfReader

from tests.browser.conftest import PHONE, Watch
from tests.browser.screens import give_file
from tests.browser.served_site import Site

ENGINE_MS = 60_000


def start_room(page: Page) -> None:
    page.goto("/")
    page.get_by_role("link", name="Start a job").click()
    page.get_by_label("Name of the room").fill("Back bedroom")
    page.get_by_role("button", name="Measure the room").click()
    page.get_by_label("Length along x").fill("3200")
    page.get_by_label("Width along y").fill("2400")
    page.get_by_role("button", name="Start from this rectangle").click()
    page.get_by_label("C, x mm").fill("3212,5")
    page.get_by_label("C, x mm").press("Enter")
    expect(page.get_by_role("status")).to_contain_text("Saved")


def read_wall(page: Page) -> None:
    """Readings as a laser that acts as a keyboard gives them: digits and Enter, nothing else."""
    page.get_by_role("link", name="Back").click()
    page.get_by_role("link", name="A–B").click()
    page.get_by_role("link", name="Take readings").click()
    page.get_by_label("Offset at 500 mm from A").focus()
    for station, offset in ((500, "4"), (1000, "7.5"), (1500, "9,5"), (2000, "8"), (2500, "5")):
        expect(page.get_by_label(f"Offset at {station} mm from A")).to_be_focused()
        page.keyboard.type(offset)
        page.keyboard.press("Enter")
        expect(page.get_by_role("status")).to_contain_text(f"at {station}")
    page.get_by_role("link", name="Back").click()
    expect(page.get_by_role("row")).to_have_count(6)


def wait_for_plan(page: Page) -> None:
    page.locator("path.piece").first.wait_for(timeout=ENGINE_MS)
    expect(page.locator("#kept-plan")).to_have_count(0, timeout=ENGINE_MS)


def set_out(page: Page) -> None:
    page.get_by_role("link", name="Set out").click()
    page.get_by_label("Length", exact=True).fill("500")
    page.get_by_label("Length", exact=True).press("Enter")
    page.get_by_role("button", name="Move right").click()
    wait_for_plan(page)
    expect(page.get_by_label("Boards meet at x")).to_have_value("1610")


def figure(page: Page, name: str) -> str:
    return page.locator(f".figure.{name} .value").first.inner_text()


def cut_two(page: Page) -> tuple[str, str, str]:
    """Mark one piece cut and one fitted; give the fitted one's title and lengths."""
    page.get_by_role("link", name="Cut", exact=True).click()
    page.locator(".piece-line").first.click()
    page.get_by_role("button", name="Cut", exact=True).click()
    page.get_by_role("link", name="Next, piece").click()
    page.get_by_role("button", name="Fitted", exact=True).click()
    expect(page.get_by_role("status")).to_contain_text("fitted")
    return page.get_by_role("heading", level=1).inner_text(), figure(page, "left"), figure(page, "right")


def download(page: Page, name: str) -> str:
    return download_bytes(page, name).decode()


def download_bytes(page: Page, name: str) -> bytes:
    with page.expect_download() as waiting:
        page.get_by_role("button", name=name).click()
    return Path(waiting.value.path()).read_bytes()


@pytest.fixture
def elsewhere(browser: Browser, site: Site, watch: Watch) -> BrowserContext:
    """Another phone."""
    context = browser.new_context(base_url=site.address, **PHONE)  # type: ignore[arg-type]
    watch.over(context)
    return context


def test_a_job_is_measured_cut_and_taken_elsewhere_though_the_signal_goes(
    phone: BrowserContext, page: Page, site: Site, watch: Watch, elsewhere: BrowserContext
) -> None:
    """Promise: what a user enters outlives a closed app and a lost signal, and opens elsewhere."""
    start_room(page)
    read_wall(page)
    page.get_by_role("link", name="Plan").click()
    wait_for_plan(page)
    set_out(page)
    title, left, right = cut_two(page)
    address = page.url
    page.goto("/#/jobs")
    expect(page.locator("#readiness")).to_have_attribute("data-ready", "yes", timeout=ENGINE_MS)
    page.close()

    site.stop()
    watch.expect("Failed to load resource|ERR_CONNECTION_REFUSED|Failed to update|fetching the script")
    page = phone.new_page()
    page.goto(address)
    expect(page.get_by_role("heading", name=title)).to_be_visible()
    expect(page.get_by_role("button", name="Fitted", exact=True)).to_have_attribute("aria-pressed", "true")
    expect(page.locator("#kept-plan")).to_have_count(0, timeout=ENGINE_MS)
    assert (figure(page, "left"), figure(page, "right")) == (left, right)
    widen_gap(page)
    job_text, plan_text = export(page)

    site.start()
    other = elsewhere.new_page()
    other.goto("/")
    give_file(other, job_text)
    wait_for_plan(other)
    other.get_by_role("link", name="Files and more").click()
    assert json.loads(download(other, "Plan file")) == json.loads(plan_text)
    elsewhere.close()


def widen_gap(page: Page) -> None:
    """Without a signal a change is still computed: a wider gap leaves less to lay."""
    page.get_by_role("link", name="Plan").click()
    before = page.locator(".figure .value").first.inner_text()
    page.get_by_role("link", name="Room").click()
    page.get_by_role("link", name="A–B").click()
    page.get_by_label("Gap to the floor").fill("40")
    page.get_by_label("Gap to the floor").press("Tab")
    page.get_by_role("link", name="Plan").click()
    wait_for_plan(page)
    after = page.locator(".figure .value").first.inner_text()
    assert float(after.split()[0]) < float(before.split()[0])


def export(page: Page) -> tuple[str, str]:
    """The job file holds what was entered; the plan file holds what was computed."""
    page.get_by_role("link", name="Files and more").click()
    job_text = download(page, "Job file")
    job = json.loads(job_text)
    assert job["name"] == "Back bedroom"
    assert job["room"]["corners"]["C"] == [3212.5, 2400]
    readings = [(reading["station"], reading["typed"]) for reading in job["survey"]["readings"]]
    assert readings == [(500, "4"), (1000, "7.5"), (1500, "9,5"), (2000, "8"), (2500, "5")]
    assert job["room"]["walls"][0]["gap"] == 40
    cut, fitted = sorted(job["progress"].values(), key=lambda done: done["fitted"])
    assert (cut["cut"], cut["fitted"], fitted["cut"], fitted["fitted"]) == (True, False, True, True)
    assert cut["cut_at"].endswith("Z")
    assert fitted["fitted_at"].endswith("Z")
    plan_text = download(page, "Plan file")
    assert json.loads(plan_text)["format"] == "out-of-true plan"
    assert "left" in download(page, "cuts.csv").splitlines()[0]
    assert download(page, "plan.svg").startswith("<")
    assert "Back bedroom" in PdfReader(BytesIO(download_bytes(page, "cuts.pdf"))).pages[0].extract_text()
    return job_text, plan_text

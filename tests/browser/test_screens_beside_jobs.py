"""What stands beside the jobs: records that could not be read, new versions, the licences of others."""

import json
from collections.abc import Callable
from pathlib import Path

import pytest
from playwright.sync_api import Page, expect

from tests.browser.conftest import Watch
from tests.browser.screens import ENGINE_MS, open_demo
from tests.browser.served_site import Site, make_next_version
from tests.browser.store_story import TAMPER


@pytest.fixture
def site(dist_copy: Path, serve: Callable[..., Site]) -> Site:
    """A copy of the app, so that a test may alter it or stop it."""
    return serve(dist_copy)


def until_kept(page: Page) -> None:
    page.goto("/#/jobs")
    expect(page.locator("#readiness")).to_have_attribute("data-ready", "yes", timeout=ENGINE_MS)


def test_records_that_could_not_be_read_can_be_saved_to_a_file(page: Page) -> None:
    """Promise: what was set aside has its place on the first screen, and none where there is nothing."""
    job = open_demo(page)
    unreadable = page.get_by_role("region", name="Records that could not be read")
    page.goto("/#/jobs")
    page.get_by_role("link", name="Start a job").wait_for()
    expect(unreadable).to_have_count(0)
    page.evaluate(TAMPER, ["jobs", job.rsplit("/", 1)[1], {"made": 5}])
    page.reload()
    page.get_by_role("link", name="A damaged job").click()
    expect(page.get_by_role("status")).to_contain_text("nothing is lost")
    page.goto("/#/jobs")
    expect(unreadable).to_contain_text("1 stored record could not be read.")
    with page.expect_download() as download:
        unreadable.get_by_role("button", name="Save to a file").click()
    assert download.value.suggested_filename == "unreadable-records.txt"
    record = json.loads(download.value.path().read_text(encoding="utf-8"))
    assert record["raw"]["doc"]["name"] == "Demo: loft room"


def test_a_new_version_is_looked_for_when_asked_and_found(page: Page, site: Site) -> None:
    """Promise: the answer is true: none, one on its way, and then the way to use it."""
    until_kept(page)
    page.goto("/#/settings")
    look = page.get_by_role("button", name="Look for a new version")
    look.click()
    expect(page.get_by_role("status")).to_have_text("This is the newest version.")
    make_next_version(site.folder, "next")
    look.click()
    expect(page.get_by_role("status")).to_have_text("A new version is on its way. Keep the page open.")
    expect(page.get_by_role("button", name="Use the new version now")).to_be_visible(timeout=ENGINE_MS)


def test_without_a_signal_no_version_is_called_the_newest(page: Page, site: Site, watch: Watch) -> None:
    watch.expect("ERR_CONNECTION_REFUSED")
    until_kept(page)
    page.goto("/#/settings")
    site.stop()
    page.get_by_role("button", name="Look for a new version").click()
    expect(page.get_by_role("status")).to_contain_text("could not be asked for")


def test_the_licence_of_every_part_is_read_without_a_signal(page: Page, site: Site) -> None:
    """Promise: each shipped part of others stands in the list, and a tap shows the text of its licence."""
    until_kept(page)
    site.stop()
    parts = json.loads((site.folder / "THIRD_PARTY.json").read_text(encoding="utf-8"))["parts"]
    page.goto("/#/licences")
    expect(page.locator("ul.list > li")).to_have_count(len(parts))
    for part in parts:
        page.get_by_role("link", name=f"{part['name']} {part['version']}").click()
        expect(page.get_by_role("heading", level=1)).to_have_text(part["name"])
        texts = page.locator("pre.licence")
        expect(texts).to_have_count(len(part["texts"]))
        for index, path in enumerate(part["texts"]):
            start = (site.folder / path).read_text(encoding="utf-8").split()[:12]
            expect(texts.nth(index)).to_contain_text(" ".join(start))
        page.get_by_role("link", name="Back").click()

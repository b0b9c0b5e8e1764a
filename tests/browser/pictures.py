"""Takes a picture of every screen on a phone, so that people can look at them.

``python3 tests/browser/pictures.py ADDRESS FOLDER`` against a served app. Pictures
prove nothing by themselves: they are made to be looked at.
"""

import argparse
import os
from collections.abc import Iterator
from contextlib import contextmanager
from pathlib import Path

from playwright.sync_api import Browser, Page, ViewportSize, sync_playwright

PHONE: ViewportSize = {"width": 360, "height": 740}
NARROW: ViewportSize = {"width": 320, "height": 640}

EMPTY = {
    "jobs-empty": "#/jobs",
    "start": "#/start",
    "cautions": "#/cautions",
    "settings": "#/settings",
    "licences": "#/licences",
}
OF_A_JOB = {
    "plan": "plan", "room": "room", "corners": "corners", "wall": "wall/0", "readings": "read/0",
    "read-corners": "read/corners", "read-lengths": "read/lengths", "read-datum": "read/datum",
    "read-thing": "read/thing/1/0", "thing": "thing/0", "thing-pipe": "thing/1", "thing-new": "thing/new",
    "set-out": "set-out", "cut": "cut", "more": "more",
}  # fmt: skip


@contextmanager
def chromium() -> Iterator[Browser]:
    """Playwright's own Chromium, or the one ``CHROMIUM`` names."""
    with sync_playwright() as playwright:
        browser = playwright.chromium.launch(
            executable_path=os.environ.get("CHROMIUM"), args=["--no-sandbox"]
        )
        yield browser
        browser.close()


def take(page: Page, folder: Path, name: str) -> None:
    """One picture of what the phone shows and one of the whole length of the screen."""
    page.wait_for_timeout(250)
    page.screenshot(path=folder / f"{name}.png")
    page.screenshot(path=folder / f"{name}-whole.png", full_page=True)


def pictures(browser: Browser, address: str, folder: Path) -> None:
    """Every screen: empty, a job just started, the demo job, and in the sun theme."""
    page = browser.new_page(viewport=PHONE, device_scale_factor=2)
    page.goto(address)
    page.get_by_role("heading", name="Jobs").wait_for()
    for name, place in EMPTY.items():
        page.goto(f"{address}{place}")
        take(page, folder, f"0-{name}")
    start_job(page, address, folder)
    open_demo(page, address)
    job = page.evaluate("location.hash").split("/")[2]
    each_screen(page, address, folder, job)
    in_other_dress(page, address, folder, job)


def start_job(page: Page, address: str, folder: Path) -> None:
    """A job with nothing in it yet."""
    page.goto(f"{address}#/start")
    page.get_by_label("Name of the room").fill("Back bedroom")
    page.get_by_role("button", name="Measure the room").click()
    page.get_by_role("heading", name="Corners").wait_for()
    take(page, folder, "1-new-corners")
    job = page.evaluate("location.hash").split("/")[2]
    for screen in ("plan", "room", "set-out", "cut", "more"):
        page.goto(f"{address}#/job/{job}/{screen}")
        take(page, folder, f"1-new-{screen}")


def open_demo(page: Page, address: str) -> None:
    """The demo job with its plan computed."""
    page.goto(f"{address}#/jobs")
    page.get_by_role("button", name="Open the demo job").click()
    page.locator("path.piece").first.wait_for(timeout=60_000)


def each_screen(page: Page, address: str, folder: Path, job: str) -> None:
    """The demo job's screens, the plan looked at closer, and a few pieces."""
    for name, place in OF_A_JOB.items():
        page.goto(f"{address}#/job/{job}/{place}")
        take(page, folder, f"2-{name}")
    pieces(page, address, folder, job)
    page.goto(f"{address}#/job/{job}/plan")
    page.get_by_role("button", name="Bow").click()
    take(page, folder, "2-plan-bow")
    page.get_by_role("button", name="Bow").click()
    for button in ("Closer", "Closer", "Closer", "Look left", "Look down", "Look down"):
        page.get_by_role("button", name=button).click()
    take(page, folder, "2-plan-close")
    page.locator(".figure").first.click()
    take(page, folder, "2-explain")
    page.get_by_role("button", name="Close", exact=True).click()


def pieces(page: Page, address: str, folder: Path, job: str) -> None:
    """A piece as it comes, one marked cut and one fitted."""
    page.goto(f"{address}#/job/{job}/cut")
    page.locator(".piece-line").first.click()
    take(page, folder, "2-piece")
    page.get_by_role("button", name="Cut", exact=True).click()
    page.get_by_role("link", name="Next, piece").click()
    page.get_by_role("button", name="Fitted", exact=True).click()
    take(page, folder, "2-piece-fitted")


def in_other_dress(page: Page, address: str, folder: Path, job: str) -> None:
    """Sun theme for the left hand, then the narrowest phone with letters twice as large."""
    page.goto(f"{address}#/settings")
    page.get_by_label("Bright sun").check()
    page.get_by_label("Left hand").check()
    for screen in ("plan", "cut", "read/0", "set-out"):
        page.goto(f"{address}#/job/{job}/{screen}")
        take(page, folder, f"3-sun-{screen.replace('/', '-')}")
    page.goto(f"{address}#/settings")
    page.get_by_label("Paper").check()
    page.get_by_label("Right hand").check()
    page.set_viewport_size(NARROW)
    for screen in ("plan", "corners", "read/0", "cut"):
        page.goto(f"{address}#/job/{job}/{screen}")
        take(page, folder, f"4-narrow-{screen.replace('/', '-')}")
    page.locator("html").evaluate("root => { root.style.fontSize = '200%' }")
    for screen in ("plan", "corners", "read/0", "set-out", "cut"):
        page.goto(f"{address}#/job/{job}/{screen}")
        take(page, folder, f"4-large-{screen.replace('/', '-')}")


def main() -> None:
    """Command line."""
    parser = argparse.ArgumentParser(description=__doc__)
    parser.add_argument("address")
    parser.add_argument("folder", type=Path)
    chosen = parser.parse_args()
    chosen.folder.mkdir(parents=True, exist_ok=True)
    with chromium() as browser:
        pictures(browser, chosen.address, chosen.folder)


if __name__ == "__main__":
    main()

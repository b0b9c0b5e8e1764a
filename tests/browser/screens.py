"""Why this file exists: all tests of the screens walk the same screens."""

import json
from collections.abc import Iterator
from pathlib import Path
from typing import Any

from playwright.sync_api import Page

ENGINE_MS = 90_000

OUTSIDE = ("#/jobs", "#/start", "#/bin", "#/settings", "#/cautions", "#/licences", "#/licences/pyodide")
OF_A_JOB = (
    "plan", "room", "corners", "wall/0", "read/0", "read/corners", "read/lengths", "read/datum",
    "read/thing/1/0", "thing/0", "thing/1", "thing/new", "set-out",
    "place", "strike", "strike/0", "staying-true", "staying-true/read", "cut", "tools", "boards", "long-cut",
    "more",
)  # fmt: skip


def open_demo(page: Page) -> str:
    """Open the demo job, wait for its plan, give the job's address."""
    page.goto("/#/jobs")
    page.get_by_role("button", name="Open the demo job").click()
    page.locator("path.piece").first.wait_for(timeout=ENGINE_MS)
    return str(page.evaluate("location.hash")).rsplit("/", 1)[0]


def give_file(page: Page, text: str) -> None:
    """Bring a job file in, on the page of all jobs."""
    page.get_by_label("Bring in a job file").set_input_files(
        {"name": "job.json", "mimeType": "application/json", "buffer": text.encode()}
    )


def bring_in(page: Page, job: object) -> str:
    """Bring a job in, wait for its plan, give the job's address."""
    page.goto("/#/jobs")
    give_file(page, json.dumps(job))
    page.locator("path.piece").first.wait_for(timeout=ENGINE_MS)
    return str(page.evaluate("location.hash")).rsplit("/", 1)[0]


def every_screen(page: Page, job: str) -> Iterator[str]:
    """Go to each screen in turn, the first piece's card among them; gives its address."""
    for address in (*OUTSIDE, *(f"{job}/{screen}" for screen in OF_A_JOB)):
        page.goto(f"/{address}")
        page.locator("main").wait_for()
        yield address
    page.goto(f"/{job}/cut")
    page.locator(".piece-line").first.click()
    page.get_by_role("button", name="Fitted", exact=True).wait_for()
    yield "piece"


def exported_job(page: Page, job: str) -> dict[str, Any]:
    """The job file as it leaves the phone."""
    page.goto(f"/{job}/more")
    with page.expect_download() as waiting:
        page.get_by_role("button", name="Job file").click()
    exported: dict[str, Any] = json.loads(Path(waiting.value.path()).read_text(encoding="utf-8"))
    return exported

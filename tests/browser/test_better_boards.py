"""Saving a board from the phone: shown, taken, undone; proven without a signal; stopped in the middle."""

from playwright.sync_api import Locator, Page, expect

from tests.browser.screens import ENGINE_MS, bring_in, exported_job
from tests.engine.planning.planned_boards import begun_floor_in_doubt, long_floor_in_doubt

# The app is kept, and the page answered from there.
KEPT = """async () => navigator.serviceWorker.controller !== null
  && (await Promise.all((await caches.keys()).map(async (name) => (await caches.open(name)).match(
    new URL('/vendor/highs/highs.wasm', location.origin).href)))).some(Boolean)"""


def _solvers(page: Page) -> list[str]:
    """The solver's threads that run."""
    return [worker.url for worker in page.workers if "solver_worker" in worker.url]


def _section(page: Page, job: str) -> Locator:
    page.goto(f"/{job}/boards")
    return page.get_by_role("region", name="Saving boards")


def test_a_board_less_is_shown_then_taken_and_undo_takes_it_back(page: Page) -> None:
    """Promise: nothing changes before the tap; then it is one step in the job."""
    job = bring_in(page, long_floor_in_doubt())
    section = _section(page, job)
    expect(section).to_contain_text("1 board might be saved at most", timeout=ENGINE_MS)
    boards = page.locator(".figure.boards .value").first
    before = int(boards.inner_text())
    section.get_by_role("button", name="Look for boards to save").click()
    expect(section).to_contain_text("1 board fewer, found in", timeout=ENGINE_MS)
    expect(section).to_contain_text("No cutting of these pieces needs fewer: proven")
    assert "shared_boards" not in exported_job(page, job)
    section = _section(page, job)
    section.get_by_role("button", name="Take these boards").click()
    expect(boards).to_have_text(str(before - 1), timeout=ENGINE_MS)
    assert len(exported_job(page, job)["shared_boards"]) > 10
    section = _section(page, job)
    page.get_by_role("button", name="Undo").click()
    expect(section).to_contain_text("1 board might be saved at most", timeout=ENGINE_MS)
    expect(boards).to_have_text(str(before))
    expect(section).not_to_contain_text("1 board fewer")


def test_no_board_less_is_proven_without_a_signal_and_stays_so(page: Page) -> None:
    """Promise: the solver is on the phone; its proof goes with the job and undo passes it by."""
    job = bring_in(page, begun_floor_in_doubt())
    section = _section(page, job)
    page.wait_for_function(KEPT, timeout=ENGINE_MS)
    page.context.set_offline(True)
    section.get_by_role("button", name="Look for boards to save").click(timeout=ENGINE_MS)
    expect(section).to_contain_text("No board saved in", timeout=ENGINE_MS)
    expect(section).to_contain_text("no cutting of these pieces needs fewer: proven")
    page.context.set_offline(False)
    assert exported_job(page, job)["proven_boards"]["R"]["least"] == 33
    page.reload()
    section = _section(page, job)
    expect(section).to_contain_text("Proven: these pieces cannot be had from fewer boards", timeout=ENGINE_MS)


def test_a_search_is_stopped_in_the_middle_by_a_tap(page: Page) -> None:
    """Promise: the solver's thread ends at once, the job stays as it was, and it can be looked for again."""
    job = bring_in(page, begun_floor_in_doubt())
    section = _section(page, job)
    section.get_by_role("button", name="Look for boards to save").click(timeout=ENGINE_MS)
    assert len(_solvers(page)) == 1
    section.get_by_role("button", name="Stop").click()
    expect(section.get_by_role("button", name="Look for boards to save")).to_be_visible(timeout=5_000)
    assert _solvers(page) == []
    assert not {"shared_boards", "proven_boards"} & exported_job(page, job).keys()

"""A gesture, a mark at the wrong moment, a phone on its side: nothing that was entered slips away unseen."""

import re

from playwright.sync_api import Page, expect

from tests.browser.screens import ENGINE_MS, bring_in, exported_job, open_demo
from tests.browser.test_staying_true import WAITING
from tests.engine.small_jobs import small_job

GAP = 7


def test_a_field_that_is_gone_back_from_by_a_gesture_is_saved(page: Page) -> None:
    """Promise: what stands in a field is in the job, however its screen is left."""
    job = open_demo(page)
    page.goto(f"/{job}/room")
    page.get_by_role("link", name="A–B").first.click()
    page.get_by_label("Gap to the floor").fill(str(GAP))
    page.go_back()
    expect(page.get_by_role("status")).to_contain_text(f"Gap to the floor {GAP}")
    expect(page.get_by_role("link", name="A–B").first).to_contain_text(f"gap {GAP} mm")
    assert exported_job(page, job)["room"]["walls"][0]["gap"] == GAP


def test_pieces_keep_their_numbers_though_the_job_is_named_while_the_plan_is_made(page: Page) -> None:
    """Promise: which piece is number 1 is in the job once a plan of its floor has come."""
    page.add_init_script(WAITING)
    job = open_demo(page)
    page.goto(f"/{job}/set-out")
    page.get_by_role("button", name="Herringbone, board").click()
    length = page.get_by_label("Length", exact=True)
    expect(length).to_be_focused()
    page.evaluate("waiting = true")
    length.fill("500")
    length.press("Enter")
    page.wait_for_function("() => held.length > 0", timeout=ENGINE_MS)
    page.evaluate("import('/app/desk.js').then(({ put }) => put(['name'], 'Named meanwhile', 'Name'))")
    page.get_by_text("Named meanwhile").wait_for()
    page.evaluate("goOn()")
    expect(page.locator("#kept-plan")).to_have_count(0, timeout=ENGINE_MS)
    expect(page.get_by_role("button", name="Herringbone, board 500 × 90 mm")).to_be_visible()
    assert exported_job(page, job)["floor"]["count_from"]


def test_on_its_side_the_phone_still_shows_the_button_that_marks(page: Page) -> None:
    """Promise: on a low screen what marks a piece is in sight, and covers no more than a quarter of it."""
    job = open_demo(page)
    page.set_viewport_size({"width": 740, "height": 360})
    page.goto(f"/{job}/cut")
    page.locator(".piece-line").first.click()
    button = page.get_by_role("button", name=re.compile("next$"))
    expect(button).to_be_in_viewport(ratio=1)
    bar = page.locator("nav.bar").bounding_box()
    assert bar
    assert bar["height"] <= 360 / 4


def test_a_number_typed_and_not_taken_is_told_when_the_page_comes_back(page: Page) -> None:
    """Promise: it is not lost with the page, and not put where it may mean something else."""
    job = open_demo(page)
    page.goto(f"/{job}/read/0")
    another = page.get_by_role("button", name="Another reading on this wall")
    another.click()
    page.get_by_label("at 5000 mm from A").fill("17,5")
    page.reload()
    another.click()
    field = page.locator("#reading")
    expect(field).to_have_value("")
    told = page.get_by_text(re.compile("not taken: .* at 5000 mm from A"))
    expect(told).to_contain_text("17,5")
    field.fill("17.5")
    expect(told).to_be_visible()
    field.press("Enter")
    expect(page.locator("#last-taken")).to_contain_text("17.5 mm")
    expect(told).to_have_count(0)
    page.reload()
    expect(field).to_be_visible()
    expect(page.get_by_text("not taken:")).to_have_count(0)


# The store opens two seconds late, and the browser offers to install the app all the while.
SLOW_STORE = """() => {
  const open = IDBFactory.prototype.open;
  IDBFactory.prototype.open = function (...named) {
    const request = open.apply(this, named);
    let isHeld = true;
    request.addEventListener('success', (event) => {
      if (!isHeld) return;
      event.stopImmediatePropagation();
      setTimeout(() => {
        isHeld = false;
        request.dispatchEvent(new Event('success'));
      }, 2000);
    });
    return request;
  };
  setInterval(() => dispatchEvent(new Event('beforeinstallprompt')), 50);
}"""


def test_a_job_brought_in_before_the_store_is_open_is_not_lost(page: Page) -> None:
    """A screen that was drawn too early took the file and did nothing."""
    page.add_init_script(f"({SLOW_STORE})()")
    bring_in(page, small_job())

"""Where the pattern should sit, as a thumb finds out: what matters, the best place, the map, the lock."""

import re

from playwright.sync_api import Page, expect

from tests.browser.screens import ENGINE_MS, bring_in, exported_job, open_demo
from tests.browser.test_staying_true import WAITING
from tests.engine.small_jobs import ask, small_job

# Two more walls matter, and in the same breath the map is asked for.
WISHES_AND_MAP = """() => {
  const named = (kind, name) =>
    [...document.querySelectorAll(kind)].find(({ textContent }) => textContent.trim() === name);
  for (const name of ['A–B', 'B–C']) {
    const wall = named('label', name).control;
    wall.value = '1';
    wall.dispatchEvent(new Event('change', { bubbles: true }));
  }
  named('button', 'Map of all places').click();
}"""


def open_place(page: Page) -> str:
    """The screen of the demo job, with wall C–D as the one that matters."""
    job = open_demo(page)
    page.goto(f"/{job}/place")
    page.get_by_label("C–D").select_option("1")
    page.get_by_role("button", name="Look for the best place").wait_for()
    return job


def test_the_best_place_is_found_put_and_taken_back(page: Page) -> None:
    """The pattern goes where the engine found its best place, the figure follows, and one tap undoes it."""
    job = open_place(page)
    before = exported_job(page, job)["floor"]
    page.goto(f"/{job}/place")
    page.get_by_role("button", name="Look for the best place").click()
    page.get_by_role("button", name="Put it there").click(timeout=ENGINE_MS)
    expect(page.get_by_text("Saved: Pattern at its best place")).to_be_visible()
    expect(page.locator(".figures.huge .value")).to_have_text("24.4", timeout=ENGINE_MS)
    there = exported_job(page, job)["floor"]
    assert there["anchor"] != before["anchor"]
    page.goto(f"/{job}/place")
    page.get_by_role("button", name="Undo").click()
    expect(page.get_by_text("Taken back")).to_be_visible()
    assert exported_job(page, job)["floor"]["anchor"] == before["anchor"]


def test_a_pattern_moved_while_its_best_place_is_looked_for_has_it_looked_for_again(page: Page) -> None:
    """Promise: one tap asks, whatever the hand does until the answer comes; that is of where it is then."""
    page.add_init_script(WAITING)
    job = open_place(page)
    before = exported_job(page, job)
    page.goto(f"/{job}/place")
    page.get_by_role("button", name="Look for the best place").wait_for()
    page.evaluate("waiting = true")
    page.get_by_role("button", name="Look for the best place").click()
    page.get_by_role("button", name="Move up 10 mm").click()
    expect(page.get_by_text("Saved: Move up 10")).to_be_visible()
    page.evaluate("goOn()")
    page.get_by_role("button", name="Put it there").click(timeout=ENGINE_MS)
    expect(page.get_by_text("Saved: Pattern at its best place")).to_be_visible()
    x, y = before["floor"]["anchor"]
    moved = before | {"floor": before["floor"] | {"anchor": [x, y + 10]}}
    assert exported_job(page, job)["floor"]["anchor"] == ask("best place", job=moved)["anchor"]


def test_two_places_are_compared_by_what_they_cost(page: Page) -> None:
    """Beside the smallest piece of each wall stand the boards, the pieces to cut and the slivers of both."""
    job = open_place(page)
    page.get_by_role("button", name="Keep this place to compare").click()
    rows = page.locator("section", has_text="This place and the kept one").get_by_role("row")
    for label in ("Left boards", "Right boards", "To cut", "Slivers"):
        cells = rows.filter(has_text=label).get_by_role("cell")
        expect(cells).to_have_text([re.compile(r"\d"), re.compile(r"\d")], timeout=ENGINE_MS)
        assert cells.nth(0).inner_text() == cells.nth(1).inner_text()
    # Moved, and the two places changed: each is where the other was.
    page.get_by_role("button", name=re.compile("^Move up")).click()
    expect(page.get_by_text("Saved: Move up 10")).to_be_visible()
    x, y = exported_job(page, job)["floor"]["anchor"]
    page.goto(f"/{job}/place")
    page.get_by_role("button", name="Change places").click()
    expect(page.get_by_text("Saved: Place kept to compare")).to_be_visible()
    changed = exported_job(page, job)
    assert changed["floor"]["anchor"] == [x, y - 10]
    assert changed["setting_out"]["kept"]["anchor"] == [x, y]


def test_a_finger_on_the_map_moves_the_pattern_and_a_lock_holds_it(page: Page) -> None:
    """The pattern follows the finger and stays where that is lifted; locked, it does not move at all."""
    job = open_place(page)
    before = exported_job(page, job)["floor"]["anchor"]
    page.goto(f"/{job}/place")
    page.get_by_role("button", name="Map of all places").click()
    draw_over_map(page, is_unlocked=True)
    expect(page.get_by_text("Saved: Pattern moved on the map")).to_be_visible(timeout=ENGINE_MS)
    moved = exported_job(page, job)["floor"]["anchor"]
    assert moved != before
    page.goto(f"/{job}/place")
    page.get_by_role("button", name="Lock it here").click()
    page.get_by_text("The pattern is locked where it is.").wait_for()
    draw_over_map(page)
    assert exported_job(page, job)["floor"]["anchor"] == moved


def test_wishes_come_faster_than_they_are_saved_and_the_map_is_that_of_all(page: Page) -> None:
    """Regression: the second of two walls took the first one's place; the map was that of the old wish."""
    job = bring_in(page, small_job(setting_out={"edges": [{"from": "C", "to": "D"}]}))
    page.goto(f"/{job}/place")
    page.get_by_role("button", name="Map of all places").wait_for()
    page.evaluate(WISHES_AND_MAP)
    page.locator(".place-map svg").wait_for(timeout=ENGINE_MS)
    assert [page.get_by_label(wall, exact=True).input_value() for wall in ("A–B", "B–C")] == ["1", "1"]
    edges = exported_job(page, job)["setting_out"]["edges"]
    assert [(edge["from"], edge["to"]) for edge in edges] == [("C", "D"), ("A", "B"), ("B", "C")]


def draw_over_map(page: Page, *, is_unlocked: bool = False) -> None:
    drawing = page.locator(".place-map svg")
    drawing.wait_for(timeout=ENGINE_MS)
    drawing.evaluate("svg => svg.scrollIntoView()")
    box = drawing.bounding_box()
    assert box is not None
    page.mouse.move(box["x"] + 40, box["y"] + 60)
    page.mouse.down()
    page.mouse.move(box["x"] + 150, box["y"] + 110)
    if is_unlocked:
        # Slivers follow the finger; of the boards no stale count is shown.
        expect(page.locator(".figure.boards .value").first).to_have_text("counting")
        expect(page.locator(".figure.slivers .value")).to_have_text(re.compile(r"^\d+$"))
    page.mouse.up()

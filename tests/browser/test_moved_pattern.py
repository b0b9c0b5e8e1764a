"""The pattern follows the hand: in the end it is shown where the hand left it, as a new plan draws it."""

import re
from typing import Any

import pytest
from playwright.sync_api import Page, expect

from engine.wire.job_file import open_job
from engine.wire.place_view import place_job
from tests.browser.screens import ENGINE_MS, bring_in, exported_job
from tests.engine.small_jobs import ask, small_job
from tests.shown_boards import assert_drawn_as_planned

PICTURE = ".drawing svg[aria-label^='The pattern where it sits']"
WISHES: dict[str, Any] = {"edges": [{"from": "A", "to": "B"}, {"from": "C", "to": "D"}]}
FLOORS: dict[str, dict[str, Any]] = {
    "herringbone": {"pattern": "herringbone"},
    "rows moved on": {"pattern": "straight", "stagger": {"by": 200}},
    "rows as if by chance": {"pattern": "straight", "stagger": {"seed": 7}},
}
# A finger that runs over the map faster than any engine answers; gives where on the map it was lifted.
RUN = """(svg) => {
  const { left, top, width, height } = svg.getBoundingClientRect();
  const send = (kind, x, y) => svg.dispatchEvent(new PointerEvent(kind, {
    pointerId: 1, bubbles: true, buttons: 1, clientX: left + x * width, clientY: top + y * height }));
  svg.setPointerCapture = () => {};
  svg.hasPointerCapture = () => true;
  send('pointerdown', 0.1, 0.9);
  for (let step = 1; step <= 40; step += 1) send('pointermove', 0.1 + step / 50, 0.9 - step / 60);
  send('pointerup', 0.83, 0.21);
  const lifted = new DOMPoint(left + 0.83 * width, top + 0.21 * height);
  const { x, y } = lifted.matrixTransform(svg.getScreenCTM().inverse());
  return [x, y];
}"""
# Seven to the right, seven up and one back, before any of them can have been saved.
TAPS = """() => {
  const tap = (words) => document.querySelector(`button[aria-label^='${words}']`).click();
  for (let time = 0; time < 7; time += 1) { tap('Move right'); tap('Move up'); }
  tap('Move left');
}"""


# An engine that can be kept from answering.
HELD = """(() => {
  const Plain = globalThis.Worker;
  globalThis.held = false;
  globalThis.Worker = class extends Plain {
    postMessage(...message) { if (!globalThis.held) super.postMessage(...message); }
  };
})()"""


def open_place(page: Page, floor: dict[str, Any]) -> tuple[str, dict[str, Any]]:
    there = {"board": {"length": 600, "width": 100}, "axis": 90, "anchor": [910, 640], **floor}
    job = bring_in(page, small_job(floor=there, setting_out=WISHES))
    document = exported_job(page, job)
    page.goto(f"/{job}/place")
    page.locator(f"{PICTURE} .piece").wait_for(timeout=ENGINE_MS)
    return job, document


def expect_shown(page: Page, moved: dict[str, Any], at: list[float] | None = None) -> None:
    """The boards are drawn where the engine on the desk puts them, and a whole plan has them there."""
    reply = ask("moved", job=moved, at=at)
    boards = page.locator(f"{PICTURE} .piece")
    expect(boards).to_have_attribute("transform", reply["by"], timeout=ENGINE_MS)
    page.wait_for_timeout(200)
    expect(boards).to_have_attribute("transform", reply["by"])
    job = place_job(open_job(moved).job, (at[0], at[1]) if at else None)
    assert_drawn_as_planned(str(boards.get_attribute("d")), reply["by"], job)


@pytest.mark.parametrize("floor", FLOORS.values(), ids=FLOORS.keys())
def test_the_last_place_of_a_running_finger_wins(page: Page, floor: dict[str, Any]) -> None:
    """Promise: job, dot and drawing are where the finger was lifted; no place on the way comes after it."""
    job, before = open_place(page, floor)
    page.get_by_role("button", name="Map of all places").click()
    drawing = page.locator(".place-map svg")
    drawing.wait_for(timeout=ENGINE_MS)
    at = drawing.evaluate(RUN)
    expect(page.get_by_text("Saved: Pattern moved on the map")).to_be_visible(timeout=ENGINE_MS)
    expect_shown(page, before, at)
    spot = page.locator(".place-spot")
    assert [float(str(spot.get_attribute(name))) for name in ("cx", "cy")] == pytest.approx(at, abs=0.02)
    wanted = place_job(open_job(before).job, at).floor.anchor
    assert exported_job(page, job)["floor"]["anchor"] == list(wanted)


def test_every_tap_in_a_row_counts(page: Page) -> None:
    """Promise: a tap that comes before the last one is saved is counted on from it, and the boards follow."""
    job, before = open_place(page, FLOORS["herringbone"])
    page.evaluate(TAPS)
    expect(page.get_by_text("Saved: Move left 10")).to_be_visible(timeout=ENGINE_MS)
    x, y = before["floor"]["anchor"]
    moved = before | {"floor": before["floor"] | {"anchor": [x + 60, y + 70]}}
    expect_shown(page, moved)
    assert exported_job(page, job)["floor"]["anchor"] == [x + 60, y + 70]


def test_what_is_still_being_counted_is_no_louder_than_its_label(page: Page) -> None:
    """Promise: after a restart too, while nothing else is known yet; the numbers then take no more room."""
    page.add_init_script(HELD)
    job, _ = open_place(page, FLOORS["herringbone"])
    boards = page.locator(".figure.boards").first
    page.evaluate("held = true")
    page.get_by_role("button", name="Move up 10 mm").tap()
    expect(boards.locator(".value")).to_have_text("counting")
    sizes = boards.locator("span").evaluate_all("all => all.map((one) => getComputedStyle(one).fontSize)")
    assert sizes[0] == sizes[1]
    high = boards.evaluate("one => one.offsetHeight")
    page.evaluate("held = false")
    page.reload()
    expect(boards.locator(".value")).to_have_text(re.compile(r"^\d+$"), timeout=ENGINE_MS)
    assert boards.evaluate("one => one.offsetHeight") == high


def test_a_tap_is_shown_while_the_engine_is_busy(page: Page) -> None:
    """Promise: where one tap leads is known before it, so that the boards need not wait for the engine."""
    page.add_init_script(HELD)
    _, before = open_place(page, FLOORS["herringbone"])
    expect(page.locator(".figures.huge .value")).to_be_visible(timeout=ENGINE_MS)
    page.evaluate("held = true")
    page.get_by_role("button", name="Move up 10 mm").tap()
    x, y = before["floor"]["anchor"]
    reply = ask("moved", job=before | {"floor": before["floor"] | {"anchor": [x, y + 10]}})
    boards = page.locator(f"{PICTURE} .piece")
    expect(boards).to_have_attribute("transform", reply["by"], timeout=1000)


def test_the_figures_follow_the_place(page: Page) -> None:
    """Promise: the smallest piece shown after moves is that of the new place."""
    _, before = open_place(page, FLOORS["herringbone"])
    worth = page.locator(".figures.huge .value")
    figure = ask("place", job=before)["worth"]["text"]
    expect(worth).to_have_text(figure, timeout=ENGINE_MS)
    for taps in (1, 2, 3):
        page.get_by_role("button", name="Move right 10 mm").tap()
        x, y = before["floor"]["anchor"]
        moved = before | {"floor": before["floor"] | {"anchor": [x + 10 * taps, y]}}
        text = ask("place", job=moved)["worth"]["text"]
        assert text != figure
        expect(worth).to_have_text(text, timeout=ENGINE_MS)
        figure = text

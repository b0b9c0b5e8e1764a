"""The screens can be read and worked by everyone: axe-core's rules, large letters, narrow phones, gloves."""

from collections.abc import Iterator
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Page

from tests.browser.invented_pictures import png
from tests.browser.laid_story import half_laid
from tests.browser.screens import ENGINE_MS, bring_in, every_screen, open_demo

AXE = Path(__file__).parents[2] / "site_src" / "node_modules" / "axe-core" / "axe.min.js"
# WCAG 2.2 AA, with the two rules switched on that axe leaves off: target size and enhanced (7:1) contrast.
RUN_AXE = """() => axe.run(document, {
  runOnly: ['wcag2a', 'wcag2aa', 'wcag21a', 'wcag21aa', 'wcag22aa', 'best-practice'],
  rules: { 'target-size': { enabled: true }, 'color-contrast-enhanced': { enabled: true } },
})"""
SIDEWAYS = "() => document.documentElement.scrollWidth - document.documentElement.clientWidth"
# Whatever is pressed alone; a link inside a sentence is excepted, as in WCAG 2.5.8.
TOO_SMALL = """() => [...document.querySelectorAll('a, button, input, select, summary')]
  .map((element) => element.closest('label.button, .file') ?? element)
  .filter((element) => element.checkVisibility() && !element.closest('p'))
  .map((element) => ({
    words: element.textContent.trim() || element.ariaLabel || element.id,
    box: element.getBoundingClientRect(),
  }))
  .filter(({ box }) => box.width < 55.9 || box.height < 55.9)
  .map(({ words, box }) => `${words}: ${box.width} × ${box.height}`)"""
TOO_CLOSE = """() => {
  const boxes = [...document.querySelectorAll('main a.button, main button.button, main label.button')]
    .filter((element) => element.checkVisibility())
    .map((element) => [element.textContent.trim() || element.ariaLabel, element.getBoundingClientRect()]);
  const apart = (a, b) => Math.max(a.left - b.right, b.left - a.right, a.top - b.bottom, b.top - a.bottom);
  return boxes.flatMap(([one, a], index) => boxes.slice(index + 1)
    .filter(([, b]) => apart(a, b) < 7.9).map(([other]) => `${one} / ${other}`));
}"""


def set_theme(page: Page, theme: str) -> None:
    page.goto("/#/settings")
    page.get_by_label(theme).check()
    page.locator("html[data-theme]").wait_for()


def violations(page: Page) -> list[str]:
    # The whole screen in view: what lies under the bar of steps until scrolled up is not what is judged.
    page.set_viewport_size({"width": 360, "height": page.evaluate("document.documentElement.scrollHeight")})
    if page.evaluate("typeof axe") == "undefined":
        page.evaluate(AXE.read_text(encoding="utf-8"))
    found: dict[str, Any] = page.evaluate(RUN_AXE)
    return [
        f"{each['id']}: {node['html'][:160]} {node['failureSummary']}"
        for each in found["violations"]
        for node in each["nodes"]
    ]


# Pairs of numbers that touch: boxes as wide as the text, as high as its digits (0.7 of the letters' size).
TOUCHING = """(svg, wanted) => {
  const boxes = [...svg.querySelectorAll(wanted)].map((text) => {
    const { left, right, top, bottom } = text.getBoundingClientRect();
    const half = 0.35 * parseFloat(getComputedStyle(text).fontSize) * svg.getScreenCTM().a;
    const middle = (top + bottom) / 2;
    return { left, right, top: middle - half, bottom: middle + half, is: text.textContent };
  });
  const meet = (one, two) => one.left < two.right && two.left < one.right
    && one.top < two.bottom && two.top < one.bottom;
  return boxes.flatMap((one, index) => boxes.slice(index + 1).filter((two) => meet(one, two))
    .map((two) => `${one.is} on ${two.is}`));
}"""


@pytest.mark.parametrize("theme", ["Paper", "Bright sun"])
def test_axe_finds_nothing_on_any_screen_in_either_theme(page: Page, theme: str) -> None:
    """Promise: no screen breaks a rule of WCAG 2.2 AA that axe-core can see, nor 7:1 contrast."""
    job = open_demo(page)
    set_theme(page, theme)
    found = {address: faults for address in every_screen(page, job) if (faults := violations(page))}
    assert found == {}


def test_axe_finds_nothing_where_a_photo_is_shown(page: Page) -> None:
    page.goto(f"/{open_demo(page)}/wall/0")
    page.get_by_label("Take a photo of wall A–B").set_input_files(
        {"name": "wall.png", "mimeType": "image/png", "buffer": png(200, 150)}
    )
    page.locator(".photo img").wait_for()
    assert violations(page) == []
    page.locator(".photo").click()
    page.get_by_role("dialog").wait_for()
    assert violations(page) == []


def test_axe_finds_nothing_on_a_job_just_started(page: Page) -> None:
    """Promise: empty screens are as good as full ones."""
    page.goto("/#/start")
    page.get_by_role("button", name="Measure the room").click()
    page.get_by_role("heading", name="Corners").wait_for()
    job = str(page.evaluate("location.hash")).rsplit("/", 1)[0]
    found = {}
    for screen in ("corners", "plan", "room", "set-out", "cut", "more"):
        page.goto(f"/{job}/{screen}")
        found[screen] = violations(page)
    assert {screen: faults for screen, faults in found.items() if faults} == {}


@pytest.mark.parametrize(("width", "letters"), [(360, "100%"), (320, "100%"), (320, "200%")])
def test_no_screen_scrolls_sideways(page: Page, width: int, letters: str) -> None:
    """Promise: 320 px of width and letters twice as large lose nothing and need no sideways scrolling."""
    page.set_viewport_size({"width": width, "height": 640})
    job = open_demo(page)
    page.locator("html").evaluate("(root, size) => { root.style.fontSize = size }", letters)
    found = {address: over for address in every_screen(page, job) if (over := page.evaluate(SIDEWAYS)) > 0}
    assert found == {}


def test_large_letters_leave_the_screen_to_the_work_and_no_number_on_another(page: Page) -> None:
    """Promise: twice as large, what stays under the thumb takes 30 % of the height at most, steps in one row.

    Numbers of marks and of a board's corners stop growing where they would touch. It took 44 to 65 %.
    """
    job = open_demo(page)
    page.locator("html").evaluate("root => { root.style.fontSize = '200%' }")
    page.goto(f"/{job}/cut")
    page.locator(".piece-line").first.click()
    page.get_by_role("button", name="Fitted", exact=True).wait_for()
    for screen in ("", "place", "plan"):
        if screen:
            page.goto(f"/{job}/{screen}")
            page.get_by_role("heading", level=1).wait_for()
        assert page.locator(".foot").evaluate("foot => foot.offsetHeight") < 0.3 * 740
    assert (
        page.evaluate("new Set([...document.querySelectorAll('.steps a')].map((a) => a.offsetTop)).size") == 1
    )
    page.goto(f"/{job}/strike")
    page.locator(".mark-text").nth(10).wait_for(timeout=ENGINE_MS)
    assert page.locator("main svg").first.evaluate(TOUCHING, ".mark-text") == []
    page.goto(f"/{job}/staying-true/read")
    page.get_by_label("Which board?").fill("7-9R")
    page.get_by_label("Which board?").press("Enter")
    page.locator(".corner-number").nth(3).wait_for(timeout=ENGINE_MS)
    assert page.locator("main svg").first.evaluate(TOUCHING, ".corner-number") == []


@pytest.mark.parametrize("hand", ["Right hand", "Left hand"])
def test_every_control_is_made_for_gloves(page: Page, hand: str) -> None:
    """Promise: what is pressed is 56 px high and wide, with 8 px between, for either hand."""
    job = open_demo(page)
    page.goto("/#/settings")
    page.get_by_label(hand).check()
    found = {}
    for address in every_screen(page, job):
        if faults := page.evaluate(TOO_SMALL) + page.evaluate(TOO_CLOSE):
            found[address] = faults
    assert found == {}


def laying_screens(page: Page, job: str) -> Iterator[str]:
    """The screens for laying, filled: all that opens is open."""
    ready = {
        "staying-true": page.get_by_role("button", name="Make the new cut list"),
        "staying-true/read": page.locator(".choice legend", has_text="7-9R"),
        "long-cut/0": page.get_by_role("heading", name="The work"),
        "strike": page.get_by_role("heading", name="Order of laying"),
    }
    for address, sign in ready.items():
        page.goto(f"/{job}/{address}")
        if address.endswith("read"):
            page.get_by_label("Which board?").fill("7-9R")
            page.get_by_label("Which board?").press("Enter")
        sign.first.wait_for(timeout=ENGINE_MS)
        page.get_by_text("Being worked out again").wait_for(state="detached", timeout=ENGINE_MS)
        page.evaluate("document.querySelectorAll('main details').forEach((each) => (each.open = true))")
        yield address
    page.goto(f"/{job}/staying-true")
    ready["staying-true"].first.click(timeout=ENGINE_MS)
    page.get_by_role("button", name="Back to the list before").wait_for(timeout=ENGINE_MS)
    page.evaluate("document.querySelectorAll('main details').forEach((each) => (each.open = true))")
    yield "staying-true, taken"


@pytest.mark.parametrize("theme", ["Paper", "Bright sun"])
def test_the_screens_for_laying_are_as_good_when_they_are_full(page: Page, theme: str) -> None:
    """Promise: with readings and marks in, axe finds nothing, nothing goes sideways, all is for gloves."""
    job = bring_in(page, half_laid())
    set_theme(page, theme)
    found = {}
    for address in laying_screens(page, job):
        page.set_viewport_size({"width": 320, "height": 640})
        faults = [f"sideways by {over}"] if (over := page.evaluate(SIDEWAYS)) > 0 else []
        page.set_viewport_size({"width": 360, "height": 740})
        if faults := faults + page.evaluate(TOO_SMALL) + page.evaluate(TOO_CLOSE) + violations(page):
            found[address] = faults
        page.set_viewport_size({"width": 360, "height": 740})
    assert found == {}


def test_a_figure_stands_as_wide_as_any_other(page: Page) -> None:
    """Promise: the shipped typeface has tabular figures, so columns of measures stand straight."""
    page.goto("/")
    page.get_by_role("heading", level=1).wait_for()
    page.evaluate("() => document.fonts.load('16px \"Signika Variable\"')")
    assert page.evaluate("() => document.fonts.check('16px \"Signika Variable\"')")
    widths = page.evaluate(
        """() => [...'0123456789'].map((figure) => {
          const span = document.querySelector('h1').appendChild(document.createElement('span'));
          span.textContent = figure.repeat(20);
          const { width } = span.getBoundingClientRect();
          span.remove();
          return width;
        })"""
    )
    assert len(set(widths)) == 1

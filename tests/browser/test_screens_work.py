"""What the screens promise while a person works on them."""

import json
from pathlib import Path

from playwright.sync_api import BrowserContext, Page, expect

from tests.browser.screens import bring_in, open_demo

DEMO = Path(__file__).parents[2] / "site_src" / "app" / "demo_job.json"
VIEW_BOX = "() => document.querySelector('.drawing svg').getAttribute('viewBox').split(' ').map(Number)"
PATHS = "() => [...document.querySelectorAll('path.piece')].map((each) => each.outerHTML).join()"
WALLS = "() => [...document.querySelectorAll('.wall:not(.true)')].map((each) => each.outerHTML).join()"


def test_the_plan_is_looked_at_closer_by_buttons_and_only_the_view_box_changes(page: Page) -> None:
    """Promise: pan and zoom need no gesture, and no drawn line is touched by them."""
    open_demo(page)
    home, paths = page.evaluate(VIEW_BOX), page.evaluate(PATHS)
    page.get_by_role("button", name="Closer").click()
    closer = page.evaluate(VIEW_BOX)
    assert closer[2] < home[2]
    page.get_by_role("button", name="Look right").click()
    assert page.evaluate(VIEW_BOX)[0] > closer[0]
    page.get_by_role("button", name="Look down").click()
    assert page.evaluate(VIEW_BOX)[1] > closer[1]
    page.get_by_role("button", name="Whole room").click()
    assert page.evaluate(VIEW_BOX) == home
    assert page.evaluate(PATHS) == paths


def test_the_plan_follows_a_finger_and_a_drag_is_no_tap(page: Page) -> None:
    """Promise: a drawing looked at closer is moved by dragging, and no piece opens by that."""
    open_demo(page)
    page.get_by_role("button", name="Closer").click()
    before = page.evaluate(VIEW_BOX)
    box = page.locator(".drawing svg").first.bounding_box()
    assert box is not None
    page.mouse.move(box["x"] + 200, box["y"] + 150)
    page.mouse.down()
    page.mouse.move(box["x"] + 120, box["y"] + 90, steps=4)
    page.mouse.up()
    after = page.evaluate(VIEW_BOX)
    assert after[0] > before[0]
    assert after[1] > before[1]
    assert after[2:] == before[2:]
    expect(page.get_by_role("heading", name="Plan", exact=True)).to_be_visible()


def test_two_fingers_bring_the_plan_closer(page: Page, phone: BrowserContext) -> None:
    """Promise: pinching works on a phone as people expect."""
    open_demo(page)
    before = page.evaluate(VIEW_BOX)
    box = page.locator(".drawing svg").first.bounding_box()
    assert box is not None
    middle = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    touch = phone.new_cdp_session(page)
    for kind, apart in (("touchStart", 20), ("touchMove", 40), ("touchMove", 80), ("touchEnd", None)):
        spread = [] if apart is None else [(-apart, 0), (apart, 1)]
        points = [{"x": middle[0] + by, "y": middle[1], "id": finger} for by, finger in spread]
        touch.send("Input.dispatchTouchEvent", {"type": kind, "touchPoints": points})
    assert page.evaluate(VIEW_BOX)[2] < before[2] / 2


def test_the_bow_is_drawn_larger_on_demand(page: Page) -> None:
    """Promise: the room is to scale until its bow is asked for."""
    open_demo(page)
    to_scale = page.evaluate(WALLS)
    page.get_by_role("button", name="Bow").click()
    expect(page.get_by_role("button", name="Bow")).to_have_attribute("aria-pressed", "true")
    assert page.evaluate(WALLS) != to_scale


def test_a_tapped_piece_opens_its_card(page: Page) -> None:
    """Promise: the plan leads to the cut of the piece that is tapped."""
    open_demo(page)
    # The first piece with 60 mm of its own on all four sides of a point: at this scale about four pixels.
    name, spot = page.evaluate(
        """() => {
          const AROUND = [[0, 0], [60, 0], [-60, 0], [0, 60], [0, -60]];
          for (const path of document.querySelectorAll('path.piece.to-cut')) {
            const { x, y, width, height } = path.getBBox();
            for (let right = 10; right < width; right += 10) for (let down = 10; down < height; down += 10) {
              const point = new DOMPoint(x + right, y + down);
              const isIn = ([dx, dy]) => path.isPointInFill(new DOMPoint(point.x + dx, point.y + dy));
              if (AROUND.every(isIn)) return [path.dataset.piece, point.matrixTransform(path.getScreenCTM())];
            }
          }
        }"""
    )
    page.touchscreen.tap(spot["x"], spot["y"])
    expect(page.get_by_role("heading", name=f"Piece {name}")).to_be_visible()
    expect(page.locator(".figures.huge .figure")).to_have_count(2)


def test_the_lengths_are_the_largest_things_on_the_card(page: Page) -> None:
    """Promise: the number that is needed is the largest thing on the screen."""
    job = open_demo(page)
    page.goto(f"/{job}/cut")
    page.locator(".piece-line").first.click()
    page.locator(".figure.huge").first.wait_for()
    sizes = page.evaluate(
        """() => [...document.querySelectorAll('#app *')]
          .filter((each) => each.checkVisibility() && !each.closest('svg'))
          .filter(({ childNodes }) => [...childNodes].some((node) => node.data?.trim()))
          .map((each) => [each.matches('.figure.huge *'), parseFloat(getComputedStyle(each).fontSize)])"""
    )
    lengths = sorted(size for is_length, size in sizes if is_length)[-2:]
    assert min(lengths) > max(size for is_length, size in sizes if not is_length)


def test_a_tapped_figure_says_where_it_comes_from(page: Page) -> None:
    """Promise: every computed figure can be tapped for its formula, source and inputs."""
    job = open_demo(page)
    page.goto(f"/{job}/cut")
    page.locator(".piece-line").first.click()
    for figure in page.locator(".figure").all():
        words = figure.locator(".value").inner_text().split("\n")[0].split(" ")[0]
        figure.click()
        dialog = page.get_by_role("dialog")
        expect(dialog).to_contain_text("Source:")
        expect(dialog.locator(".expression")).not_to_be_empty()
        expect(dialog.get_by_role("heading", level=2)).to_contain_text(words)
        dialog.get_by_role("button", name="Close").click()


def test_a_name_is_shown_as_text_only(page: Page) -> None:
    """Promise: no name from a file becomes part of the page."""
    job = json.loads(DEMO.read_text(encoding="utf-8"))
    evil = '<img src=x onerror="document.title=1"><b>room</b>'
    job["name"] = evil
    job["room"]["fixed"][0]["name"] = evil
    bring_in(page, job)
    expect(page.locator(".title-block .over")).to_have_text(evil)
    page.get_by_role("link", name="Room", exact=True).click()
    expect(page.get_by_text(evil).first).to_be_attached()
    assert page.locator("img, #app b").count() == 0
    assert page.title() == "Out of True"


def test_what_is_not_a_number_is_kept_and_answered_with_a_sentence(page: Page) -> None:
    """Promise: a number that can be read in two ways is refused, and what was typed stays."""
    job = open_demo(page)
    page.goto(f"/{job}/set-out")
    field = page.get_by_label("Length", exact=True)
    field.fill("1,200")
    field.press("Tab")
    expect(page.locator("#length-fault")).to_contain_text("decimal")
    expect(field).to_have_value("1,200")
    field.fill("620,5")
    field.press("Tab")
    expect(page.locator("#length-fault")).to_have_count(0)
    expect(field).to_have_value("620.5")
    expect(page.get_by_role("status")).to_contain_text("Saved")


def test_a_wrong_tap_is_taken_back(page: Page) -> None:
    """Promise: nothing is lost by a wrong tap."""
    job = open_demo(page)
    page.goto(f"/{job}/wall/0")
    rows = page.get_by_role("row").count()
    page.get_by_role("button", name="Take out the reading at 1300").click()
    expect(page.get_by_role("row")).to_have_count(rows - 1)
    page.get_by_role("button", name="Undo").click()
    expect(page.get_by_role("row")).to_have_count(rows)


def test_the_kept_plan_is_on_the_screen_before_the_engine_and_says_so(
    page: Page, phone: BrowserContext
) -> None:
    """Promise: the page does not wait for Python; what is shown meanwhile is marked as kept."""
    job = open_demo(page)
    expect(page.locator("#kept-plan")).to_have_count(0)
    page.close()
    page = phone.new_page()
    page.add_init_script("Worker.prototype.postMessage = () => {}")
    page.goto(f"/{job}/plan")
    page.locator("path.piece").first.wait_for()
    expect(page.locator("#kept-plan")).to_contain_text("kept from last time")
    page.goto(f"/{job}/wall/0")
    page.get_by_label("Gap to the floor").fill("12")
    page.get_by_label("Gap to the floor").press("Tab")
    expect(page.get_by_role("status")).to_contain_text("Saved")
    page.goto(f"/{job}/plan")
    expect(page.locator("#kept-plan")).to_contain_text("does not hold the newest changes")


def test_what_is_typed_outlives_whatever_the_screen_does_meanwhile(page: Page) -> None:
    """Promise: a screen that is drawn anew under the hands (the engine starts, say) takes no letter away."""
    page.goto("/#/start")
    page.get_by_label("Name of the room").fill("Attic")
    page.evaluate("dispatchEvent(new Event('beforeinstallprompt'))")  # draws the screen anew
    page.evaluate("() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))")
    expect(page.get_by_label("Name of the room")).to_have_value("Attic")
    page.get_by_role("button", name="Measure the room").click()
    expect(page.locator(".title-block .over")).to_have_text("Attic")
    page.get_by_role("link", name="Measure corner by corner").click()
    page.locator("#reading").fill("12")
    page.evaluate("dispatchEvent(new Event('beforeinstallprompt'))")
    page.evaluate("() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))")
    expect(page.locator("#reading")).to_have_value("12")


def test_the_hand_stays_in_the_field_that_it_went_to(page: Page) -> None:
    """Promise: a station that was typed does not call the hand back from the next field to the reading."""
    job = open_demo(page)
    page.goto(f"/{job}/read/3")
    page.get_by_role("button", name="Another reading on this wall").click()
    page.locator("#station").fill("50")
    page.locator("#step").click()
    expect(page.get_by_label("Offset at 50 mm")).to_be_visible()
    page.evaluate("() => new Promise((done) => requestAnimationFrame(() => requestAnimationFrame(done)))")
    expect(page.locator("#step")).to_be_focused()
    page.keyboard.type("20")
    page.keyboard.press("Enter")
    expect(page.locator("#reading")).to_be_focused()
    expect(page.locator("#step")).to_have_value("20")
    expect(page.locator("#reading")).to_have_value("")


def test_readings_that_come_faster_than_they_are_saved_all_stand(page: Page) -> None:
    """Promise: a laser that types at once loses no reading and puts none in another's place."""
    job = open_demo(page)
    page.goto(f"/{job}/wall/3")
    had = page.locator("tbody tr").count()
    page.goto(f"/{job}/read/3")
    page.get_by_role("button", name="Another reading on this wall").click()
    page.locator("#station").fill("50")
    page.locator("#step").fill("20")
    page.locator("#reading").click()
    expect(page.get_by_label("Offset at 50 mm")).to_be_visible()
    for offset in ("1", "2", "3"):
        page.keyboard.type(offset)
        page.keyboard.press("Enter")
    expect(page.get_by_role("status")).to_contain_text(": 3")
    page.goto(f"/{job}/wall/3")
    expect(page.locator("tbody tr")).to_have_count(had + 3)
    rows = [row.split() for row in page.locator("tbody").inner_text().splitlines() if row.strip()]
    assert rows[0][:2] == ["50", "1"]

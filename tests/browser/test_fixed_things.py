"""Fixed things as a person meets them: what it is, how it is measured, and what the floor does round it."""

import pytest
from playwright.sync_api import Page, expect

from tests.browser.screens import ENGINE_MS, exported_job, open_demo


@pytest.fixture
def job(page: Page) -> str:
    return open_demo(page)


def add(page: Page, job: str, kind: str) -> None:
    page.goto(f"/{job}/thing/new")
    page.get_by_role("button", name=kind, exact=True).click()


def take(page: Page, label: str, typed: str) -> None:
    """One length, as a device that types like a keyboard gives it."""
    expect(page.get_by_role("textbox", name=label)).to_be_focused()
    page.keyboard.type(typed)
    page.keyboard.press("Enter")
    expect(page.get_by_role("status")).to_contain_text(f": {typed}")


def test_a_pipe_is_placed_by_two_lengths_and_a_wrong_third_is_named(page: Page, job: str) -> None:
    """Promise: two lengths from corners place it; a third that is 20 mm out is named and read again.

    177 3/16 in (4500.6 mm) from A and 3500 from B, 5200 apart, meet at x 3369.7, y 2983.3 (worked out by
    hand with x = (a² − b² + B²)/2B, TRADE.md); from C (5230, 4100) that is 2169.7.
    """
    add(page, job, "Pipe")
    page.get_by_label("Diameter").fill("0.875")  # a slip, mended on the thing's own screen
    page.get_by_role("button", name="Measure it").click()
    page.locator("summary").click()
    page.get_by_label("inches", exact=True).check()
    page.locator("#reading").focus()
    take(page, "A to pipe 2", "177 3/16")  # 4500.6 mm
    page.get_by_label("mm", exact=True).check()
    page.locator("#reading").focus()
    take(page, "B to pipe 2", "3500")
    take(page, "C to pipe 2", "2189.7")
    question = page.get_by_role("alert", name="Question about a reading")
    expect(question).to_contain_text("20 mm more", timeout=ENGINE_MS)
    question.get_by_role("button", name="Read again").click()
    take(page, "C to pipe 2", "2169.7")
    page.get_by_role("link", name="That is all").click()
    expect(page.locator(".figure", has_text="Centre")).to_contain_text("3369.7", timeout=ENGINE_MS)
    page.get_by_label("Diameter").fill("22")
    page.get_by_label("Diameter").press("Tab")
    exported = exported_job(page, job)
    lengths = [r for r in exported["survey"]["readings"] if r.get("thing") == "pipe 2"]
    assert [reading["typed"] for reading in lengths] == ["177 3/16", "3500", "2189.7", "2169.7"]
    assert lengths[3]["corrects"] == lengths[2]["id"]
    assert exported["room"]["fixed"][2]["diameter"] == 22


def test_a_pair_of_pipes_is_measured_one_after_the_other(page: Page, job: str) -> None:
    """Promise: both pipes of a pair are asked for in turn, and a name of its own leads to each."""
    add(page, job, "Pair of pipes")
    page.get_by_label("Diameter").fill("15")
    page.get_by_role("button", name="Measure it").click()
    take(page, "A to pipe 1", "3000")
    take(page, "B to pipe 1", "3700")
    page.get_by_role("link", name="Next: pipe 2").click()
    take(page, "A to pipe 2", "3050")
    take(page, "B to pipe 2", "3660")
    page.get_by_role("link", name="That is all").click()
    expect(page.locator(".figure", has_text="Centre")).to_be_visible(timeout=ENGINE_MS)
    page.goto(f"/{job}/room")
    expect(page.get_by_role("link", name="by lengths")).to_have_count(3)


def test_a_thing_without_its_lengths_says_so_and_changes_no_floor(page: Page, job: str) -> None:
    """Promise: what is not measured yet neither stands in a wrong place nor is forgotten."""
    page.goto(f"/{job}/plan")
    area = page.locator(".figure", has_text="To lay").inner_text()
    add(page, job, "Column")
    page.get_by_label("Diameter").fill("300")
    page.get_by_role("button", name="Measure it").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("column")
    page.goto(f"/{job}/plan")
    expect(page.locator(".finding", has_text="column has no place yet")).to_be_visible(timeout=ENGINE_MS)
    expect(page.locator(".figure", has_text="To lay")).to_have_text(area, use_inner_text=True)


def test_under_an_undercut_door_lining_the_floor_runs_on(page: Page, job: str) -> None:
    """Promise: a lining that is sawn off below takes nothing from the floor; one that is not, does."""
    page.goto(f"/{job}/plan")
    area = page.locator(".figure", has_text="To lay").inner_text()
    add(page, job, "Door lining")
    page.get_by_label("By x and y").check()
    page.get_by_label("Yes, undercut").check()
    corners = {
        "One corner, x": 1000,
        "One corner, y": 1000,
        "Opposite corner, x": 1400,
        "Opposite corner, y": 1300,
    }
    for label, value in corners.items():
        page.get_by_label(label).fill(str(value))
    page.get_by_role("button", name="Add it").click()
    expect(page.get_by_role("link", name="door lining")).to_contain_text("the floor runs under it")
    page.goto(f"/{job}/plan")
    expect(page.locator("#kept-plan")).to_have_count(0, timeout=ENGINE_MS)
    expect(page.locator(".figure", has_text="To lay")).to_have_text(area, use_inner_text=True)
    page.goto(f"/{job}/thing/2")
    page.get_by_label("No", exact=True).check()
    page.goto(f"/{job}/plan")
    expect(page.locator(".figure", has_text="To lay")).not_to_have_text(
        area, use_inner_text=True, timeout=ENGINE_MS
    )


def test_a_new_name_takes_the_lengths_along_and_no_name_is_given_twice(page: Page, job: str) -> None:
    """Promise: renaming loses no length."""
    add(page, job, "Pipe")
    page.get_by_label("Diameter").fill("22")
    page.get_by_role("button", name="Measure it").click()
    take(page, "A to pipe 2", "3000")
    take(page, "B to pipe 2", "3700")
    page.goto(f"/{job}/thing/2")
    name = page.get_by_label("Name (Pipe)")
    name.fill("island")
    name.press("Tab")
    expect(page.get_by_role("alert")).to_contain_text("another “island”")
    name.fill("riser")
    name.press("Tab")
    expect(page.get_by_role("heading", level=1)).to_have_text("riser")
    expect(page.locator(".figure", has_text="Centre")).to_be_visible(timeout=ENGINE_MS)
    expect(page.get_by_role("row")).to_have_count(3)


def test_rows_follow_a_wall_with_one_tap(page: Page, job: str) -> None:
    """Promise: nobody works out a wall's direction: C (5230, 4100) to D (1180, 4086) heads 180.2°."""
    page.goto(f"/{job}/set-out")
    page.get_by_role("button", name="Along C–D").click()
    expect(page.get_by_label("Direction of the rows")).to_have_value("180.2")


def test_a_thing_by_x_and_y_can_be_measured_from_the_corners_instead(page: Page, job: str) -> None:
    """Promise: the way a thing was entered binds nobody."""
    page.goto(f"/{job}/thing/0")
    page.get_by_role("link", name="Measure it from the corners instead").click()
    expect(page.get_by_role("textbox", name="A to corner 1 of island")).to_be_focused()
    page.goto(f"/{job}/thing/1")
    page.get_by_role("button", name="Type x and y instead").click()
    expect(page.get_by_label("Centre, x")).to_have_value("270")

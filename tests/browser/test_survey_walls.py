"""Readings on a wall, as a person with a laser, a rule or a straightedge takes them."""

from typing import Any

import pytest
from playwright.sync_api import Page, expect

from tests.browser.screens import ENGINE_MS, exported_job, open_demo

# Wall A–B of the demo job bows into the room; between two of its stations it is there about this deep, mm.
BETWEEN = 1460
DEPTH = 14


def last_readings(page: Page, job: str, count: int) -> list[dict[str, Any]]:
    """The readings taken last, as the exported job holds them."""
    return list(exported_job(page, job)["survey"]["readings"][-count:])


def read_at(page: Page, job: str, station: int) -> None:
    """Go to a station of wall A–B."""
    page.goto(f"/{job}/read/0")
    page.get_by_role("button", name="Another reading on this wall").click()
    page.get_by_label("Station from A").fill(str(station))
    page.get_by_label("Station from A").press("Enter")
    expect(page.get_by_label(f"Offset at {station} mm from A")).to_be_focused()


def take(page: Page, typed: str) -> None:
    """As a device that types like a keyboard does it."""
    page.keyboard.type(typed)
    page.keyboard.press("Enter")
    expect(page.get_by_role("status")).to_contain_text("Saved")


def choose(page: Page, way: str) -> None:
    """How the wall is read."""
    page.locator("summary").click()
    page.get_by_label(way, exact=True).check()


@pytest.fixture
def job(page: Page) -> str:
    return open_demo(page)


def test_a_reading_that_jumps_is_asked_about_and_read_again_keeps_both(page: Page, job: str) -> None:
    """Promise: a wrong reading is caught on the spot; it stays in the file, corrected by the next."""
    read_at(page, job, BETWEEN)
    take(page, str(DEPTH + 12))
    question = page.get_by_role("alert", name="Question about a reading")
    expect(question).to_contain_text("away from the curve so far. Keep it, or read again?", timeout=ENGINE_MS)
    question.get_by_role("button", name="Read again").click()
    expect(page.get_by_role("textbox", name=f"Offset at {BETWEEN} mm")).to_be_focused()
    take(page, str(DEPTH))
    expect(question).to_have_count(0)
    expect(page.locator("#last-taken")).to_contain_text(
        f"{BETWEEN}: 14.0 mm into the room", timeout=ENGINE_MS
    )
    wrong, right = last_readings(page, job, 2)
    assert (wrong["typed"], right["typed"], right["corrects"]) == ("26", "14", wrong["id"])
    page.goto(f"/{job}/wall/0")
    row = page.get_by_role("row", name=str(BETWEEN))
    expect(row).to_have_count(1)
    expect(row).to_contain_text("14.0", timeout=ENGINE_MS)


def test_a_reading_taken_out_is_withdrawn_not_erased(page: Page, job: str) -> None:
    """Promise: no reading is ever lost from the file."""
    page.goto(f"/{job}/wall/0")
    page.get_by_role("button", name="Take out the reading at 1300").click()
    expect(page.get_by_role("row", name="1300")).to_have_count(0)
    readings = exported_job(page, job)["survey"]["readings"]
    gone = next(reading for reading in readings if reading.get("station") == 1300)
    assert (readings[-1]["corrects"], readings[-1]["typed"], gone["typed"]) == (gone["id"], "", "13")


def test_a_check_outside_the_band_says_so_at_once(page: Page, job: str) -> None:
    """Promise: a check that falls outside its band is told on the screen it was taken on."""
    page.goto(f"/{job}/read/0")
    page.get_by_role("button", name="Check there").click()
    expect(page.get_by_label("Check at")).to_be_focused()
    take(page, "40")
    expect(page.locator(".finding", has_text="outside its band")).to_be_visible(timeout=ENGINE_MS)


def test_a_line_in_front_of_the_wall_gives_its_offsets(page: Page, job: str) -> None:
    """Promise: the stand-off is taken off, and the reading is kept as it was taken."""
    read_at(page, job, BETWEEN)
    choose(page, "Line in front of the wall")
    page.get_by_label("Line stands off A").fill("100")
    page.get_by_label("Line stands off A").press("Tab")
    page.get_by_label("Line stands off B").fill("90")
    page.get_by_label("Line stands off B").press("Tab")
    page.locator("#reading").focus()
    # The line is 100 − 10·1460/5200 = 97.2 mm off there; 85 mm from it the wall stands 12.2 mm into the room.
    take(page, "85")
    expect(page.locator("#last-taken")).to_contain_text("12.2 mm into the room", timeout=ENGINE_MS)
    (reading,) = last_readings(page, job, 1)
    assert (reading["typed"], reading["by"], reading["stand_off"], reading["stand_off_end"]) == (
        "85", "line", 100, 90,
    )  # fmt: skip


def test_a_wall_behind_the_line_stays_behind_it_when_it_is_read_again(page: Page, job: str) -> None:
    """Promise: the side is said once; no second take turns a hollow into a belly."""
    read_at(page, job, BETWEEN)
    choose(page, "back from the line")
    page.locator("#reading").focus()
    page.keyboard.type("3")
    page.keyboard.press("Enter")
    expect(page.get_by_role("status")).to_contain_text("−3")
    page.locator("#last-taken, [role=alert]").get_by_role("button", name="Read again").first.click()
    page.keyboard.type("4")
    page.keyboard.press("Enter")
    expect(page.get_by_role("status")).to_contain_text("−4")
    first, second = last_readings(page, job, 2)
    assert (first["typed"], second["typed"], second["corrects"]) == ("−3", "−4", first["id"])


def test_a_gap_under_a_straightedge_stands_back_from_the_points_it_touches(page: Page, job: str) -> None:
    """Promise: the gap counts from the straightedge, which touches where the wall has been read."""
    read_at(page, job, BETWEEN)
    choose(page, "Straightedge on the wall")
    page.get_by_label("Touches at, from A").fill("1300")
    page.get_by_label("and at, from A").fill("1625")
    page.get_by_label("and at, from A").press("Tab")
    page.locator("#reading").focus()
    # Between 13 mm at 1300 and 15 mm at 1625 the straightedge is at 13.98 mm; 1 mm behind it is 12.98.
    take(page, "1")
    expect(page.locator("#last-taken")).to_contain_text("13.0 mm into the room", timeout=ENGINE_MS)


def test_what_a_device_types_is_understood_wherever_the_finger_was(page: Page, job: str) -> None:
    """Promise: unit behind the number, Tab instead of Enter, no field tapped before: all is taken."""
    page.goto(f"/{job}/read/0")
    page.get_by_role("button", name="Another reading on this wall").click()
    page.get_by_label("Station from A").fill(str(BETWEEN))
    page.get_by_label("Station from A").press("Tab")
    page.get_by_role("heading", level=1).click()
    page.evaluate("document.activeElement.blur()")
    page.keyboard.type("1.4cm")
    page.keyboard.press("Tab")
    expect(page.get_by_role("status")).to_contain_text("1.4 cm")
    expect(page.locator("#last-taken")).to_contain_text("14.0 mm into the room", timeout=ENGINE_MS)


def test_inches_are_read_with_their_fractions(page: Page, job: str) -> None:
    """Promise: a tape in inches needs no sum on paper: 9/16 in is 14.3 mm."""
    read_at(page, job, BETWEEN)
    choose(page, "inches")
    page.locator("#reading").focus()
    take(page, "9/16")
    expect(page.locator("#last-taken")).to_contain_text("14.3 mm into the room", timeout=ENGINE_MS)
    (reading,) = last_readings(page, job, 1)
    assert (reading["typed"], reading["unit"]) == ("9/16", "in")


def test_what_is_no_length_stays_in_the_field_with_a_sentence(page: Page, job: str) -> None:
    """Promise: a slip of the glove is answered, not lost and not taken."""
    read_at(page, job, BETWEEN)
    page.keyboard.type("1,234")
    page.keyboard.press("Enter")
    expect(page.locator("#reading-fault")).to_contain_text("Write 1234")
    expect(page.locator("#reading")).to_have_value("1,234")


def test_another_shape_is_proposed_and_taken_with_one_tap(page: Page, job: str) -> None:
    """Promise: the shapes a wall is not taken for are drawn dotted, and each is one tap away."""
    page.goto(f"/{job}/wall/0")
    expect(page.locator(".other-shape")).to_have_count(2, timeout=ENGINE_MS)
    page.get_by_label("Arc").check()
    expect(page.get_by_role("status")).to_contain_text("Saved")
    assert exported_job(page, job)["room"]["walls"][0]["curve"] == "arc"

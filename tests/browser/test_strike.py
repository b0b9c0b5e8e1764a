"""The sheet for the floor on the phone: from Set out to each line, its marks and their distances."""

import pytest
from playwright.sync_api import Page, expect

from tests.browser.screens import open_demo


@pytest.fixture
def job(page: Page) -> str:
    job = open_demo(page)
    page.goto(f"/{job}/set-out")
    page.get_by_role("link", name="Lines to strike").click()
    return job


def test_every_line_is_a_tap_away_and_its_distances_are_the_largest_on_the_screen(
    page: Page, job: str
) -> None:
    """Promise: the number that is needed is the largest thing; line by line with one thumb."""
    lines = page.locator("main .list a")
    names = [text.split("\n")[0] for text in lines.all_inner_texts()]
    assert len(names) == len(set(names)) >= 8
    lines.first.click()
    for name in names[:3]:
        expect(page.get_by_role("heading", level=1)).to_have_text(name)
        expect(page.get_by_role("heading", name="Mark")).to_have_count(2)
        ties = page.locator(".mark .figures.huge .value")
        expect(ties).to_have_count(4)
        size = "each => parseFloat(getComputedStyle(each).fontSize)"
        others = page.locator("main :is(p, h1, h2, .label, figcaption)").evaluate_all(
            f"all => all.map({size})"
        )
        assert min(ties.evaluate_all(f"all => all.map({size})")) > max(others)
        # One number stands on one line.
        assert all(
            high < 70
            for high in ties.evaluate_all("all => all.map(each => each.clientHeight || each.offsetHeight)")
        )
        page.get_by_role("link", name="Next line").click()


def test_each_line_bears_the_caution_where_its_string_is_held(page: Page, job: str) -> None:
    """Promise: who opens a line straight away is told not to nail into the floor before the work is done."""
    page.locator("main .list a").first.click()
    expect(page.get_by_text("No nail, screw")).to_have_count(1)


def test_a_distance_says_where_it_comes_from(page: Page, job: str) -> None:
    page.locator("main .list a").first.click()
    page.get_by_role("button", name="From A, mm 2600.2").first.click()
    dialog = page.locator("#explain")
    expect(dialog).to_contain_text("Distance from the corner to the mark")
    expect(dialog).to_contain_text("Source:")


def test_first_boards_hands_and_order_are_pictures(page: Page, job: str) -> None:
    """Promise: tongues, headings and numbers are drawn; closer, each piece bears its number of laying."""
    expect(page.locator(".drawing.boards svg")).to_have_count(2)
    assert page.locator(".drawing.boards .tongue").count() >= 4
    numbers = page.locator("svg[aria-label*='order of laying'] text.piece-id").all_text_contents()
    assert sorted(map(int, numbers)) == list(range(1, len(numbers) + 1))
    expect(page.locator("path.field-end")).to_have_count(1)
    expect(page.get_by_text("No nail, screw")).to_be_visible()

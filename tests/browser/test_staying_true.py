"""While the floor is laid: a few distances read, where it lies, and the rest cut from there."""

import re

import pytest
from playwright.sync_api import BrowserContext, Dialog, Page, expect

from tests.browser.laid_story import half_laid
from tests.browser.screens import ENGINE_MS, bring_in, exported_job, open_demo

# Boards far apart, and on which side of the anchor each lies along the row axis.
BOARDS = {"5-12L": -1, "3-30R": 1, "6-8R": -1}
# How much farther from each wall boards are laid than planned when all lie six millimetres ahead, mm.
AHEAD, OFF = 6.0, {"A–B": 6.0, "C–D": -6.0, "E–F": -6.0}
TAKE = "Make the new cut list"


def read_board(page: Page, board: str, count: int = 3) -> None:
    """Read one board's first corner to the nearest walls and lines, as if all lay six millimetres ahead."""
    page.get_by_label("Which board?").fill(board)
    page.get_by_label("Which board?").press("Enter")
    page.locator(".choice legend", has_text=board).wait_for(timeout=ENGINE_MS)
    for _ in range(count):
        to = page.get_by_label("Shortest distance to")
        wall = to.input_value()
        planned = float(page.locator("#laid-distance-hint").inner_text().split()[1])
        off = AHEAD * BOARDS[board] if wall == "square to it" else OFF.get(wall, 0.0)
        page.locator("#laid-distance").fill(f"{planned + off:.1f}")
        page.locator("#laid-distance").press("Enter")
        expect(to).not_to_have_value(wall)


@pytest.fixture
def job(page: Page) -> str:
    """The demo job with nine distances read on its floor, at their screen."""
    address = open_demo(page)
    page.goto(f"/{address}/staying-true/read")
    for board in BOARDS:
        read_board(page, board)
    page.get_by_role("link", name="That is all").click()
    page.locator(".figures.huge").first.wait_for(timeout=ENGINE_MS)
    expect(page.get_by_text("Being worked out again")).to_have_count(0, timeout=ENGINE_MS)
    return address


def test_a_few_distances_tell_where_the_floor_lies_and_nothing_changes_by_itself(
    page: Page, job: str, phone: BrowserContext
) -> None:
    """Promise: how far off it is stands largest; readings are kept; the cut list is still the plan's."""
    ahead = page.locator(".figure.huge")
    expect(ahead).to_contain_text("Off towards C–D")
    assert 4.5 < float(ahead.locator(".value").inner_text()) < 7.5
    ahead.click()
    expect(page.get_by_role("dialog")).to_contain_text("Least squares")
    page.get_by_role("button", name="Close").click()
    page.close()
    page = phone.new_page()
    page.goto(f"/{job}/staying-true")
    expect(page.locator(".figure.huge")).to_contain_text("Off towards C–D", timeout=ENGINE_MS)
    assert len(exported_job(page, job)["laid"]["readings"]) == 3 * len(BOARDS)
    assert "taken" not in exported_job(page, job)["laid"]
    page.goto(f"/{job}/staying-true")
    page.get_by_text(f"{3 * len(BOARDS)} distances read").click(timeout=ENGINE_MS)
    page.get_by_role("button", name="Take out the reading").first.click()
    expect(page.get_by_role("button", name="Take out the reading")).to_have_count(3 * len(BOARDS) - 1)
    page.get_by_role("link", name="Read a laid corner").click()
    # It opens at the board that was read last.
    page.locator(".choice legend", has_text=[*BOARDS][-1]).wait_for(timeout=ENGINE_MS)
    page.get_by_label("Which board?").fill("nowhere")
    page.get_by_label("Which board?").press("Enter")
    expect(page.get_by_text("is no piece of this floor")).to_be_visible(timeout=ENGINE_MS)


def test_the_rest_is_cut_from_the_floor_as_it_lies_when_that_is_tapped_and_back_again(
    page: Page, job: str
) -> None:
    """Promise: a piece that was cut and fits no more is to be cut again; back, and undo, bring all back."""
    page.goto(f"/{job}/cut")
    lengths = page.locator(".piece-line").first.inner_text()
    page.locator(".piece-line").first.click()
    piece = str(page.evaluate("location.hash")).rsplit("/", 1)[1]
    page.get_by_role("button", name="Cut", exact=True).click()
    page.goto(f"/{job}/staying-true")
    page.get_by_role("button", name=TAKE).click(timeout=ENGINE_MS)
    back = page.get_by_role("button", name="Back to the list before")
    expect(back).to_be_enabled(timeout=ENGINE_MS)
    expect(page.get_by_role("button", name=TAKE)).to_have_count(0)
    page.get_by_text("Pieces that were cut before").click()
    expect(page.locator("details[open]")).to_contain_text(piece)
    assert exported_job(page, job)["progress"][piece]["cut"] is False
    page.goto(f"/{job}/cut")
    expect(page.locator(".piece-line").first).not_to_have_text(lengths, timeout=ENGINE_MS)
    # The lines by which the rest is laid come first, and their marks alone are numbered in the picture.
    page.goto(f"/{job}/staying-true")
    page.get_by_role("link", name="Lines to strike as it lies").click(timeout=ENGINE_MS)
    expect(page.locator("main .list .name").first).to_have_text(re.compile("row axis as it lies"))
    now = page.locator("main .list").first.get_by_role("link")
    assert all(" as it lies" in text for text in now.all_inner_texts())
    expect(page.locator("main svg").first.locator(".mark-text")).to_have_count(2 * now.count())
    expect(page.get_by_role("heading", name="Struck before")).to_be_visible()
    page.goto(f"/{job}/staying-true")
    back.click(timeout=ENGINE_MS)
    expect(page.get_by_role("button", name=TAKE)).to_be_enabled(timeout=ENGINE_MS)
    assert exported_job(page, job)["progress"][piece]["cut"] is True
    page.get_by_role("button", name="Undo").first.click()
    assert len(exported_job(page, job)["laid"]["taken"]) == 1


def test_a_pattern_changed_after_the_floor_was_taken_is_asked_about_and_told(page: Page, job: str) -> None:
    """Promise: asked before, once, and told afterwards where one looks; undo brings the taken floor back."""
    asked: list[str] = []
    answers = [False, True, False]

    def answer(dialog: Dialog) -> None:
        asked.append(dialog.message)
        if answers[len(asked) - 1]:
            dialog.accept()
        else:
            dialog.dismiss()

    page.on("dialog", answer)
    page.get_by_role("button", name=TAKE).click(timeout=ENGINE_MS)
    back = page.get_by_role("button", name="Back to the list before")
    expect(back).to_be_enabled(timeout=ENGINE_MS)
    before = exported_job(page, job)
    page.goto(f"/{job}/place")
    left = page.get_by_role("button", name=re.compile("^Move left"))
    left.click()
    assert len(asked) == 1
    assert "taken as it lies" in asked[0]
    page.wait_for_timeout(300)
    assert exported_job(page, job)["floor"] == before["floor"]
    page.goto(f"/{job}/place")
    left.click()
    expect(page.get_by_text("Saved: Move left 10")).to_be_visible()
    left.click()
    told = page.locator(".finding.warning", has_text="the pattern has been moved since")
    expect(told).to_be_visible(timeout=ENGINE_MS)
    assert len(asked) == 2
    page.goto(f"/{job}/set-out")
    expect(told).to_be_visible()
    page.get_by_role("link", name="Mend").click()
    expect(told).to_be_visible(timeout=ENGINE_MS)
    expect(page.get_by_role("button", name="Take it out of the job")).to_be_enabled(timeout=ENGINE_MS)
    moved = exported_job(page, job)
    assert moved["laid"]["taken"] == before["laid"]["taken"]
    page.goto(f"/{job}/staying-true")
    for _ in range(2):
        page.get_by_role("button", name="Undo: Move left").click()
    expect(back).to_be_enabled(timeout=ENGINE_MS)
    expect(told).to_have_count(0)
    assert exported_job(page, job)["floor"]["anchor"] == before["floor"]["anchor"]
    page.goto(f"/{job}/set-out")
    page.get_by_label("Pattern", exact=True).select_option("straight")
    expect(page.get_by_label("Pattern", exact=True)).to_have_value("herringbone")
    assert len(asked) == 3


# An engine whose questions wait, `held`, while `waiting` is true, and are asked by `goOn()`.
WAITING = """(() => {
  const Plain = globalThis.Worker, asked = (globalThis.held = []);
  globalThis.waiting = false;
  globalThis.goOn = () => { waiting = false; for (const ask of asked.splice(0)) ask(); };
  globalThis.Worker = class extends Plain {
    postMessage(...message) {
      const ask = () => super.postMessage(...message);
      if (globalThis.waiting) asked.push(ask); else ask();
    }
  };
})()"""


def test_no_name_of_a_piece_or_wall_is_parted_at_the_end_of_a_line(page: Page) -> None:
    """Promise: a piece is read as one word, on any width; the text itself stays as it was."""
    job = bring_in(page, half_laid())
    page.goto(f"/{job}/staying-true")
    warning = page.locator(".finding.warning", has_text="becomes too small along")
    warning.wait_for(timeout=ENGINE_MS)
    assert "5-37R" in warning.inner_text()
    for width in (320, 360, 400):
        page.set_viewport_size({"width": width, "height": 740})
        lines = warning.locator(".together").evaluate_all(
            "names => names.map(name => [name.textContent, name.getClientRects().length])"
        )
        assert ["5-37R", 1] in lines
        assert ["C–D", 1] in lines
        assert {count for _, count in lines} == {1}


def test_a_board_s_answer_does_not_take_away_the_number_that_is_being_typed(page: Page) -> None:
    """The screen opens at the last board read; its answer may come while another one's number is typed."""
    page.add_init_script(WAITING)
    job = bring_in(page, half_laid())
    page.goto(f"/{job}/staying-true")
    expect(page.get_by_text("Being worked out again")).to_have_count(0, timeout=ENGINE_MS)
    page.get_by_role("button", name=TAKE).wait_for(timeout=ENGINE_MS)
    page.evaluate("waiting = true")
    page.goto(f"/{job}/staying-true/read")
    field = page.get_by_label("Which board?")
    field.fill("7-9R")
    page.evaluate("goOn()")
    page.locator(".choice legend").first.wait_for(timeout=ENGINE_MS)
    expect(field).to_be_focused()
    page.keyboard.press("Enter")
    page.locator(".choice legend", has_text="7-9R").first.wait_for(timeout=10_000)

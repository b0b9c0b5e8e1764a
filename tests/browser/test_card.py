"""A day's cutting from the card: find a piece, hear it, mark it, spoil it, see how fast it goes."""

import re

from playwright.sync_api import Page, expect

from tests.browser.conftest import Watch
from tests.browser.screens import ENGINE_MS, exported_job, open_demo
from tests.browser.test_read_back import OWN, VOICES

# The turns with a stop of all pieces that are cut twice, and what is set for each.
SAW_TURNS = """import('/app/desk.js').then(({ desk }) => desk.plan.cards
  .filter(({ saws }) => saws.length > 1)
  .flatMap(({ id, saws, figures }) => saws.map((saw, at) =>
    ({ id, at, texts: figures.filter(({ key }) => saw.figures.includes(key)).map(({ text }) => text) })))
  .filter(({ texts }) => texts.length))"""

# The next time that is asked for cannot be told.
FAULTY_ONCE = """(() => {
  const told = Date.prototype.toISOString;
  globalThis.faulted = false;
  Date.prototype.toISOString = () => {
    Date.prototype.toISOString = told;
    globalThis.faulted = true;
    throw new Error('the clock stands still');
  };
})()"""


def open_list(page: Page) -> str:
    job = open_demo(page)
    page.goto(f"/{job}/cut")
    page.locator(".piece-line").first.wait_for()
    return job


def pressed(page: Page, name: str, state: str) -> None:
    expect(page.get_by_role("button", name=name, exact=True)).to_have_attribute("aria-pressed", state)


def test_a_piece_is_found_heard_and_gone_on_from(page: Page) -> None:
    """Promise: by its number however it is typed, by the phone's own voice, by what lies beside it.

    “Next” follows the order that was chosen, and that is still chosen after a restart.
    """
    page.add_init_script(f"({VOICES})([{OWN!r}])".replace("True", "true"))
    job = open_list(page)
    search = page.get_by_label("Find a piece by its number")
    for typed in ("3-5L", "3-5l", "3 5l"):
        search.fill(typed)
        expect(page.locator(".piece-line .name")).to_have_count(1)
        expect(page.locator(".piece-line .name")).to_contain_text("3-5L")
    search.fill("7-12L")
    expect(page.get_by_role("heading", name="Whole boards")).to_be_visible()
    search.fill("99-99")
    expect(page.get_by_text("No piece to cut has this number.")).to_be_visible()
    expect(page.locator(".piece-line")).to_have_count(0)
    search.fill("3 5l")
    page.locator(".piece-line").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Piece 3-5L")

    left, right = page.locator(".figure.huge .value").all_inner_texts()
    page.get_by_role("button", name="Say the lengths").click()
    _, (words, voice, _) = page.evaluate("said")
    assert voice == "own"
    assert f"Left: {left.replace('.', ' point ')} millimetres." in words
    assert f"Right: {right.replace('.', ' point ')} millimetres." in words
    assert words.endswith("degrees.")

    beside = page.locator(".list .piece-line")
    expect(page.locator("path.piece.beside")).to_have_count(beside.count())
    expect(page.locator(".beside-id").first).to_be_visible()
    beside.filter(has_text="3-4L").click()
    expect(page.get_by_role("heading", level=1)).to_have_text("Piece 3-4L")

    page.goto(f"/{job}/cut")
    search.fill("")
    along = page.locator(".piece-line .name").first.inner_text()
    page.get_by_label("In the order").select_option("sawing")
    expect(page.get_by_role("heading", level=2).first).to_contain_text("Set ")
    page.get_by_label("In the order").select_option("laying")
    expect(page.get_by_role("heading", level=2).first).not_to_contain_text("Set ")
    expect(page.locator(".piece-line .name").first).not_to_have_text(along)
    first, second = page.locator(".piece-line .name").all_inner_texts()[:2]
    page.reload()
    expect(page.locator(".piece-line .name").first).to_have_text(first)
    page.locator(".piece-line").first.click()
    page.get_by_role("link", name="Next").click()
    expect(page.get_by_role("heading", level=1)).to_have_text(f"Piece {second.split(' ')[0]}")


def test_a_day_at_the_saw_is_one_button_under_the_thumb(page: Page) -> None:
    """Promise: in saw order one tap marks a piece and shows the next, and it is in sight without scrolling.

    One passed over stands in the list afterwards; what is cut already goes on to be fitted. A piece that the
    saw is set for twice is not marked at the first of its cuts, and comes again.
    """
    job = open_list(page)
    page.get_by_label("In the order").select_option("sawing")
    expect(page.get_by_role("heading", level=2).first).to_contain_text("Set ")
    names = [line.split(" ")[0] for line in page.locator(".piece-line .name").all_inner_texts()]
    page.locator(".piece-line").first.click()
    title = page.get_by_role("heading", level=1)
    onward = page.get_by_role("button", name="Cut, next")
    first_twice = next(number for number, name in enumerate(names) if names.count(name) == 2)
    for name in names[: first_twice + 2]:
        expect(title).to_have_text(f"Piece {name}")
        again = page.get_by_role("button", name="First cut, next")
        button = again if name == names[first_twice] else onward
        expect(button).to_be_in_viewport(ratio=1)
        button.click()
    page.get_by_role("link", name="Next, piece").click()
    expect(title).to_have_text(f"Piece {names[first_twice + 3]}")
    done_with = {*names[:first_twice], names[first_twice + 1]}
    marked = exported_job(page, job)["progress"]
    assert {name for name, done in marked.items() if done["cut"]} == done_with
    page.goto(f"/{job}/piece/{names[-1]}")
    page.get_by_role("button", name="Cut, to the list").click()
    expect(page.locator(".piece-line .name").first).to_have_text(re.compile(f"^{names[first_twice]} "))
    page.goto(f"/{job}/piece/{names[0]}")
    expect(page.get_by_role("button", name="Fitted, next")).to_be_visible()


def test_at_the_saw_what_is_set_stands_largest_and_a_new_setting_is_said(page: Page) -> None:
    """Promise: angle and stop are in sight above the bar, however many cuts a piece has.

    That the saw is to be turned is said once, for the first piece of a setting.
    """
    job = open_list(page)
    turns = page.evaluate(SAW_TURNS)
    page.get_by_label("In the order").select_option("sawing")
    assert turns
    for turn in turns[:4]:
        page.goto(f"/{job}/piece/{turn['id']}/{turn['at']}")
        expect(page.get_by_role("heading", level=1)).to_have_text(f"Piece {turn['id']}")
        expect(page.locator(".figure.huge .value")).to_have_text(turn["texts"])
        bar = page.locator("nav.bar").bounding_box()
        lowest = page.locator(".figure.huge").last.bounding_box()
        assert bar
        assert lowest
        assert lowest["y"] + lowest["height"] <= bar["y"]
    page.goto(f"/{job}/cut")
    page.locator(".piece-line").first.click()
    page.get_by_text("Turn the saw.").wait_for()
    title = page.get_by_role("heading", level=1)
    expect(title).to_contain_text("Piece ")
    first = title.inner_text()
    page.get_by_role("button", name=re.compile("next$")).click()
    expect(title).not_to_have_text(first)
    expect(page.get_by_text("Turn the saw.")).to_have_count(0)


def test_a_thumb_that_taps_twice_marks_one_piece(page: Page) -> None:
    """Promise: the second tap of an accidental double tap marks nothing; “Back” shows the piece just cut."""
    job = open_list(page)
    page.get_by_label("In the order").select_option("laying")
    expect(page.get_by_role("heading", level=2).first).not_to_contain_text("Set ")
    page.locator(".piece-line").first.click()
    title = page.get_by_role("heading", level=1)
    expect(title).to_contain_text("Piece ")
    first = title.inner_text()
    box = page.get_by_role("button", name="Cut, next").bounding_box()
    assert box
    thumb = box["x"] + box["width"] / 2, box["y"] + box["height"] / 2
    page.touchscreen.tap(*thumb)
    expect(title).not_to_have_text(first)
    page.touchscreen.tap(*thumb)
    page.get_by_role("button", name="Cut, next").click(trial=True)  # until taps count again
    page.get_by_role("link", name="Back, piece").click()
    expect(title).to_have_text(first)
    pressed(page, "Cut", "true")
    assert len(exported_job(page, job)["progress"]) == 1


def test_a_fault_while_a_piece_is_marked_leaves_its_button_alive(page: Page, watch: Watch) -> None:
    """Promise: what failed once can be tapped again, without leaving the card or starting anew."""
    watch.expect("the clock stands still")
    job = open_list(page)
    page.locator(".piece-line").first.click()
    title = page.get_by_role("heading", level=1)
    expect(title).to_contain_text("Piece ")
    first = title.inner_text()
    onward = page.get_by_role("button", name="Cut, next")
    page.evaluate(FAULTY_ONCE)
    onward.click()
    page.wait_for_function("faulted")
    expect(title).to_have_text(first)
    onward.click()
    expect(title).not_to_have_text(first)
    assert len(exported_job(page, job)["progress"]) == 1


def test_marks_tell_the_pace_and_a_spoiled_piece_is_to_be_cut_again(page: Page) -> None:
    """Promise: a piece every four minutes is told as a spread about fifteen an hour.

    What was spoiled loses its mark and its time and is counted in the file; undo takes that back. Where the
    phone has no voice, none is offered.
    """
    job = open_list(page)
    for minute in range(0, 20, 4):
        page.clock.set_fixed_time(f"2026-03-14T08:{minute:02}:00Z")
        page.locator(".piece-line").first.click()
        page.get_by_role("button", name="Cut", exact=True).click()
        pressed(page, "Cut", "true")
        page.goto(f"/{job}/cut")
        page.locator(".piece-line").first.wait_for()
    page.get_by_text("Cutting: ").click(timeout=ENGINE_MS)
    shown = page.locator(".figure", has_text="Pieces cut").locator(".value").inner_text()
    low, high = shown.split(" ")[0].split("–")
    assert float(low) < 15 < float(high)
    times = [done["cut_at"] for done in exported_job(page, job)["progress"].values()]
    assert sorted(times) == [f"2026-03-14T08:{minute:02}:00.000Z" for minute in range(0, 20, 4)]

    page.goto(f"/{job}/piece/3-5L")
    expect(page.get_by_role("button", name="Say the lengths")).to_have_count(0)
    page.get_by_role("button", name="Fitted", exact=True).click()
    pressed(page, "Fitted", "true")
    page.get_by_role("button", name="Spoiled").click()
    pressed(page, "Fitted", "false")
    pressed(page, "Cut", "false")
    expect(page.get_by_text("One was spoiled")).to_be_visible()
    assert exported_job(page, job)["progress"]["3-5L"] == {"cut": False, "fitted": False, "spoiled": 1}
    page.goto(f"/{job}/piece/3-5L")
    page.get_by_role("button", name="Undo").click()
    pressed(page, "Fitted", "true")
    expect(page.get_by_text("One was spoiled")).to_have_count(0)

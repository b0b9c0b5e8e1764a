"""A piece that measures otherwise at the wall is cut as measured there."""

from playwright.sync_api import BrowserContext, Locator, Page, expect

from tests.browser.screens import ENGINE_MS, exported_job, open_demo


def open_mitre(page: Page) -> str:
    """The card of the first piece to cut with one mitre; gives its address."""
    job = open_demo(page)
    page.goto(f"/{job}/cut")
    page.locator(".piece-line", has_text="mitre").first.click()
    expect(page.get_by_role("button", name="Measured otherwise")).to_be_visible()
    return str(page.evaluate("location.hash"))


def expect_length(page: Page, side: str, text: str) -> None:
    """It stands largest on the card, as soon as the engine has worked it out."""
    expect(page.locator(f".figure.huge.{side} .value")).to_have_text(text, timeout=ENGINE_MS)


def huge(page: Page) -> list[str]:
    """The two lengths as they stand largest on the card."""
    return page.locator(".figure.huge .value").all_inner_texts()


def take_it(page: Page) -> None:
    """The button waits for the difference to be told."""
    page.get_by_role("button", name="Take it").click(timeout=ENGINE_MS)


def entry(page: Page) -> Locator:
    return page.get_by_role("region", name="Measured at the wall")


def test_a_piece_measured_otherwise_is_cut_so_and_still_is_after_the_app_was_closed(
    page: Page, phone: BrowserContext
) -> None:
    """Promise: the difference is read before it is taken; what was taken stays, with marks made later."""
    address = open_mitre(page)
    left, right = huge(page)
    saw = page.locator("path.keep").get_attribute("d")
    page.get_by_role("button", name="Measured otherwise").click()
    wanted = f"{float(left) - 2.5:.1f}"
    entry(page).get_by_label("Left").fill(wanted)
    expect(entry(page)).to_contain_text(f"Left 2.5 mm shorter than the planned {left} mm.", timeout=ENGINE_MS)
    assert huge(page) == [left, right]
    take_it(page)
    expect_length(page, "left", wanted)
    expect(page.get_by_text(f"Measured at the wall: left {wanted} instead of {left}.")).to_be_visible()
    assert page.locator("path.keep").get_attribute("d") != saw
    page.get_by_role("button", name="Cut", exact=True).click()
    expect(page.get_by_role("button", name="Cut", exact=True)).to_have_attribute("aria-pressed", "true")
    page.close()
    page = phone.new_page()
    page.goto(f"/{address}")
    expect_length(page, "left", wanted)
    expect(page.get_by_role("button", name="Cut", exact=True)).to_have_attribute("aria-pressed", "true")


def test_what_was_measured_is_taken_back(page: Page) -> None:
    """Promise: by the button on the card as well as by undo; the plan's lengths come back."""
    open_mitre(page)
    lengths = huge(page)
    page.get_by_role("button", name="Measured otherwise").click()
    entry(page).get_by_label("Right").fill("300")
    take_it(page)
    expect_length(page, "right", "300.0")
    page.get_by_role("button", name="Undo").click()
    expect_length(page, "right", lengths[1])
    page.get_by_role("button", name="Measured otherwise").click()
    entry(page).get_by_label("Right").fill("301,5")
    take_it(page)
    expect_length(page, "right", "301.5")
    page.get_by_role("button", name="Measured otherwise").click()
    page.get_by_role("button", name="Back to the planned lengths").click()
    expect_length(page, "right", lengths[1])


def test_a_length_that_cannot_be_is_told_and_not_taken(page: Page) -> None:
    """Promise: a sentence says what to mend; what was typed stays in its field."""
    open_mitre(page)
    page.get_by_role("button", name="Measured otherwise").click()
    field = entry(page).get_by_label("Left")
    field.fill("4125")
    expect(entry(page)).to_contain_text("longer than the board", timeout=ENGINE_MS)
    expect(page.get_by_role("button", name="Take it")).to_be_disabled()
    expect(field).to_have_value("4125")
    field.fill("1,200")
    field.press("Tab")
    expect(page.locator("#measured-left-fault")).to_contain_text("decimal")
    expect(page.get_by_role("button", name="Take it")).to_be_disabled()


def test_a_mark_asks_for_no_plan_and_a_measured_length_does(page: Page) -> None:
    """Promise: at the saw a tap on “Cut” is done at once."""
    page.add_init_script(
        """(() => {
          window.plansAsked = 0;
          const post = Worker.prototype.postMessage;
          Worker.prototype.postMessage = function (message, ...rest) {
            if (JSON.stringify(message).includes('\\\\"ask\\\\":\\\\"plan\\\\"')) window.plansAsked += 1;
            return post.call(this, message, ...rest);
          };
        })()"""
    )
    open_mitre(page)
    before = page.evaluate("plansAsked")
    assert before >= 1
    page.get_by_role("button", name="Cut", exact=True).click()
    expect(page.get_by_role("button", name="Cut", exact=True)).to_have_attribute("aria-pressed", "true")
    page.wait_for_timeout(700)
    assert page.evaluate("plansAsked") == before
    page.get_by_role("button", name="Measured otherwise").click()
    entry(page).get_by_label("Left").fill("250")
    take_it(page)
    expect_length(page, "left", "250.0")
    assert page.evaluate("plansAsked") == before + 1


def test_the_wall_nearby_is_corrected_too_once_it_was_told_what_follows(page: Page) -> None:
    """Promise: what the other pieces become is read first; then length and reading are taken in one step."""
    address = open_mitre(page)
    job = address.split("/piece/")[0]
    left = float(huge(page)[0])
    page.get_by_role("button", name="Measured otherwise").click()
    entry(page).get_by_label("Left").fill(f"{left - 4:.1f}")
    page.get_by_role("button", name="Correct the wall too").click(timeout=ENGINE_MS)
    expect(entry(page)).to_contain_text("farther into the room than surveyed at", timeout=ENGINE_MS)
    expect(entry(page)).to_contain_text("to cut would change by up to")
    before = len(exported_job(page, job)["survey"]["readings"])
    page.goto(f"/{address}")
    page.get_by_role("button", name="Take it, and the wall").click(timeout=ENGINE_MS)
    expect(page.get_by_role("button", name="Measured otherwise")).to_be_visible()
    after = exported_job(page, job)
    added = after["survey"]["readings"][before:]
    assert added[-1]["of"] == "offset"
    assert (added[-1]["by"], added[-1]["instrument"]) == ("bow", "piece at the wall")
    assert len(after["progress"]) == 1

"""The phone says aloud what it understood: with its own voice, when wanted, and only the last reading."""

from typing import Any

import pytest
from playwright.sync_api import Page, expect

# Stands in for the phone's voices, as the Web Speech API describes them; `said` is what was asked of it.
VOICES = """(voices) => {
  globalThis.said = [];
  const speech = new EventTarget();
  Object.assign(speech, {
    getVoices: () => voices,
    cancel: () => said.push('cancel'),
    speak: ({ text, voice, lang }) => said.push([text, voice.name, lang]),
  });
  Object.defineProperty(globalThis, 'speechSynthesis', { value: speech, configurable: true });
  globalThis.SpeechSynthesisUtterance = class { constructor(text) { this.text = text; } };
}"""
AWAY = {"name": "away", "lang": "en-GB", "localService": False}
OTHER = {"name": "other", "lang": "eno", "localService": True}
GERMAN = {"name": "german", "lang": "de-DE", "localService": True}
OWN = {"name": "own", "lang": "en_US", "localService": True}
READ = "async (text) => (await import('/app/read_back.js')).readBack(text)"
NO_VOICE = "This phone has no English voice of its own"


def settings(page: Page, *voices: dict[str, Any]) -> None:
    page.add_init_script(f"({VOICES})({list(voices)!r})".replace("False", "false").replace("True", "true"))
    page.goto("/#/settings")
    page.get_by_role("heading", name="Settings").wait_for()


def turn_on(page: Page) -> None:
    page.get_by_role("group", name="Read readings back aloud").get_by_role("radio", name="On").check()
    expect(page.get_by_role("status")).to_have_text("Saved")


def test_nothing_is_said_before_it_is_wanted(page: Page) -> None:
    settings(page, OWN)
    expect(page.get_by_role("radio", name="Off")).to_be_checked()
    page.evaluate(READ, "12 mm")
    assert page.evaluate("said") == []


def test_the_phones_own_voice_says_the_last_reading_and_breaks_off_the_one_before(page: Page) -> None:
    """Promise: no voice that would send the words away is ever asked, even where it comes first."""
    settings(page, AWAY, OTHER, GERMAN, OWN)
    expect(page.get_by_text(NO_VOICE)).to_have_count(0)
    turn_on(page)
    page.reload()
    page.get_by_role("heading", name="Settings").wait_for()
    page.evaluate(READ, "A to B: 5200 mm")
    page.evaluate(READ, "on the line")
    assert page.evaluate("said") == [
        "cancel",
        ["A to B: 5200 millimetres", "own", "en"],
        "cancel",
        ["on the line", "own", "en"],
    ]


@pytest.mark.parametrize("voices", [(), (AWAY,), (GERMAN, OTHER)])
def test_a_phone_without_a_voice_of_its_own_says_so_and_stays_silent(
    page: Page, voices: tuple[dict[str, Any], ...]
) -> None:
    settings(page, *voices)
    expect(page.get_by_text(NO_VOICE)).to_be_visible()
    turn_on(page)
    page.evaluate(READ, "12 mm")
    assert page.evaluate("said") == []


def test_a_browser_that_cannot_speak_at_all_takes_no_harm(page: Page) -> None:
    page.add_init_script("delete globalThis.speechSynthesis; delete Window.prototype.speechSynthesis;")
    page.goto("/#/settings")
    expect(page.get_by_text(NO_VOICE)).to_be_visible()
    assert page.evaluate("typeof speechSynthesis") == "undefined"
    turn_on(page)
    page.evaluate(READ, "12 mm")


def test_voices_that_are_found_late_are_taken(page: Page) -> None:
    """Phones know their voices only some time after they are asked."""
    settings(page)
    expect(page.get_by_text(NO_VOICE)).to_be_visible()
    page.evaluate(
        """(voice) => {
          speechSynthesis.getVoices = () => [voice];
          speechSynthesis.dispatchEvent(new Event('voiceschanged'));
        }""",
        OWN,
    )
    expect(page.get_by_text(NO_VOICE)).to_have_count(0)


def test_figures_are_said_so_that_none_is_mistaken(page: Page) -> None:
    """Promise: a decimal comma is no thousand, a minus is heard, and units are words."""
    settings(page, OWN)
    turn_on(page)
    said = {
        "1300: 12,5 mm into the room": "1300: 12 point 5 millimetres into the room",
        "1300: 12.5 mm": "1300: 12 point 5 millimetres",
        "B, x: −412,5 mm": "B, x: minus 412 point 5 millimetres",
        "B, y: -3 cm": "B, y: minus 3 centimetres",
        "M to N: 4.1 m": "M to N: 4 point 1 metres",
        "in 3 in": "in 3 inches",
        "A to pipe, point 2: 30 mm": "A to pipe, point 2: 30 millimetres",
    }
    for text, words in said.items():
        page.evaluate(READ, text)
        assert page.evaluate("said.at(-1)[0]") == words

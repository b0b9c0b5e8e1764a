"""A length typed by hand is never taken a thousand times too large or too small."""

from collections.abc import Callable
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st
from playwright.sync_api import Page

READ = """async (texts) => {
  const { readNumber } = await import('/app/numbers.js');
  return texts.map((text) => readNumber(text));
}"""


@pytest.fixture
def tab(blank: Callable[[], Page]) -> Page:
    return blank()


def read(tab: Page, *texts: str) -> list[dict[str, Any]]:
    return list(tab.evaluate(READ, list(texts)))


CLEAR = {
    "12": 12, " 12.5 ": 12.5, "12,5": 12.5, "-3,25": -3.25, "+7": 7, "−2": -2, "0": 0, ".5": 0.5,
    ",5": 0.5, "5.": 5, "0,125": 0.125, "0.125": 0.125, "00.125": 0.125, "1234,567": 1234.567,
    "1,2340": 1.234, "12,50": 12.5, "6645": 6645, "\u00a012\u202f": 12,
}  # fmt: skip

REFUSED = [
    "1,234", "1.234", "12,500", "-999.999", "1 234", "1'234", "1,234.5", "1.234,5", "1,234,567", "1..2",
    "", "  ", "-", ".", "12 mm", "1e5", "0x10", "Infinity", "NaN", "٣", "½", "12-3", "--1", "99999999999",
]  # fmt: skip


def test_a_clear_number_is_read_with_comma_or_point(tab: Page) -> None:
    """Comma and point are both decimal marks."""
    answers = read(tab, *CLEAR)
    assert dict(zip(CLEAR, answers, strict=True)) == {text: {"value": value} for text, value in CLEAR.items()}


def test_an_unclear_or_foreign_text_is_refused_with_a_sentence(tab: Page) -> None:
    """A mark that may part thousands, two marks, a space, a unit, or no number at all."""
    for text, answer in zip(REFUSED, read(tab, *REFUSED), strict=True):
        assert "value" not in answer, text
        assert answer["sentence"].endswith("."), text


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.function_scoped_fixture])
@given(st.lists(st.tuples(st.integers(0, 10**8), st.integers(0, 4)), min_size=20, max_size=60))
def test_no_way_of_writing_a_number_is_misread(tab: Page, numbers: list[tuple[int, int]]) -> None:
    """Whatever marks a number is written with (Python's own formatting), it is read as itself or refused."""
    for whole, places in numbers:
        value = whole / 10**places
        point = f"{value:,.{places}f}"
        comma = point.translate(str.maketrans(",.", ".,"))
        ways = {point, comma, point.replace(",", " "), point.replace(",", "")}
        plain = f"{value:.{places}f}"
        for way, answer in zip(sorted(ways), read(tab, *sorted(ways)), strict=True):
            assert answer.get("value", value) == value, (way, answer)
        if places != 3:
            assert read(tab, plain, plain.replace(".", ",")) == [{"value": value}] * 2

"""The bar that shows whether a sheet was printed at its actual size, both ways."""

from engine.geometry.shapes import Point
from engine.sheets.pdf_page import LINE, THICK, Page

# A hundred millimetres on any tape: a printer that fits the sheet to the paper is off by 3 mm or more.
LENGTH = 100.0
STEP = 10.0
TICK = 2.0
WORDS = "Print at actual size, measure the bar: 100 mm both ways, or do not use this sheet."


def draw_check_bar(page: Page, corner: Point) -> None:
    """A bar across and a bar up from one corner, marked every centimetre."""
    x, y = corner
    page.line([(x, y), (x + LENGTH, y)], THICK)
    page.line([(x, y), (x, y + LENGTH)], THICK)
    for number in range(1, round(LENGTH / STEP) + 1):
        along, tick = number * STEP, TICK * (2 if number % 5 == 0 else 1)
        page.line([(x + along, y), (x + along, y + tick)], LINE)
        page.line([(x, y + along), (x + tick, y + along)], LINE)
    page.text((x + 5.0, y + 5.5), WORDS, 8.0)

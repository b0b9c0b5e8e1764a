"""What every printed sheet has at its top and foot: what it is, of which job, which page, what to mind."""

from collections.abc import Sequence

from msgspec import Struct

from engine.sheets.paper import Paper
from engine.sheets.pdf_page import LINE, Page
from engine.sheets.pdf_text import shortened, wrapped

# No printer leaves out more of a sheet than this along its edges, common practice, no source, mm.
MARGIN = 10.0
# The frame of a page: head above, foot below.
HEAD, FOOT = 20.5, 8.0
SMALL, PLAIN, TITLE = 7.0, 9.0, 14.0
LINE_HEIGHT = 3.4
# Lines of words that the head has room for.
MOST_LINES = 3

SAW_CAUTION = (
    "Saw: guard on, unplug before touching the blade, clamp small pieces, never hold them. Dust: extraction, "
    "mask, eye and ear protection. Cut one piece and try it before the rest. "
    "Local codes and licensed trades decide."
)


class Head(Struct, frozen=True, kw_only=True):
    """What stands at the top of each page."""

    title: str
    job: str
    words: str = ""


def bottom_of_head(paper: Paper) -> float:
    """Where the drawing may begin, in mm from below."""
    return paper.height - MARGIN - HEAD


def number_pages(head: Head, pages: Sequence[Page]) -> None:
    """Write the head and the page's number on every page."""
    for number, page in enumerate(pages, start=1):
        _head(page, head)
        of = f"page {number} of {len(pages)}"
        page.text((page.paper.width - MARGIN, MARGIN), of, SMALL, align="right")


def page_words(page: Page, words: str) -> None:
    """Words below the title: those of the head, or of this page where the head has none."""
    y = page.paper.height - MARGIN - 6
    for line in list(wrapped(words, SMALL, page.paper.width - 2 * MARGIN))[:MOST_LINES]:
        y -= LINE_HEIGHT
        page.text((MARGIN, y), line, SMALL)


def _head(page: Page, head: Head) -> None:
    right = page.paper.width - MARGIN
    y = page.paper.height - MARGIN - 5
    page.text((MARGIN, y), head.title, TITLE, bold=True)
    page.text((right, y), shortened(head.job, PLAIN, page.paper.width / 2), PLAIN, align="right")
    page_words(page, head.words)
    low = bottom_of_head(page.paper) + 2
    page.line([(MARGIN, low), (right, low)], LINE)

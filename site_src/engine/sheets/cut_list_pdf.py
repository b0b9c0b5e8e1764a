"""The cut list on paper: a line for each piece with its picture, to be ticked off at the saw."""

from collections.abc import Sequence

from msgspec import Struct

from engine.geometry.shapes import Point
from engine.sheets.cut_row import CutRow, draw_picture
from engine.sheets.paper import Paper
from engine.sheets.pdf_page import THIN, Page, pdf_file
from engine.sheets.pdf_text import shortened, wrapped
from engine.sheets.sheet_head import (
    FOOT,
    LINE_HEIGHT,
    MARGIN,
    PLAIN,
    SAW_CAUTION,
    SMALL,
    Head,
    bottom_of_head,
    number_pages,
)

ROW = 7.6
PICTURE_WIDTH, PICTURE_HEIGHT = 38.0, 5.6
# Space below the notes of a row.
AFTER_NOTES = 1.6


class ListKind(Struct, frozen=True):
    """What a list is called, and how it is to be read."""

    title: str
    words: str


# Title and place of each column, mm from the left margin; the picture takes what is left.
COLUMNS = (
    ("", 0.0),
    ("piece", 6.0),
    ("board", 25.0),
    ("cut", 37.0),
    ("left mm", 57.0),
    ("right mm", 73.0),
    ("saw angle", 89.0),
    ("stop mm", 120.0),
    ("from", 135.0),
)


def cut_list_pdf(kind: ListKind, job: str, rows: Sequence[CutRow], paper: Paper) -> bytes:
    """The list as PDF, in the order of the rows."""
    pages = _pages(rows, paper)
    number_pages(Head(title=kind.title, job=job, words=f"{kind.words} {SAW_CAUTION}"), pages)
    return pdf_file(f"{kind.title} {job}".strip(), pages)


def _pages(rows: Sequence[CutRow], paper: Paper) -> list[Page]:
    pages: list[Page] = []
    y, group = 0.0, None
    for row in rows:
        notes = _note_lines(row, paper)
        height = ROW + _notes_height(notes) + (ROW if row.group != group else 0.0)
        if y - height < MARGIN + FOOT:
            pages.append(Page(paper))
            y, group = _column_titles(pages[-1]), None
        if row.group != group:
            y, group = _group_title(pages[-1], row.group, y), row.group
        y = _row(pages[-1], row, notes, y)
    return pages or [Page(paper)]


def _note_lines(row: CutRow, paper: Paper) -> list[str]:
    width = paper.width - 2 * MARGIN - COLUMNS[1][1]
    return [line for note in row.notes for line in wrapped(note, SMALL, width)]


def _notes_height(notes: Sequence[str]) -> float:
    return LINE_HEIGHT * len(notes) + AFTER_NOTES if notes else 0.0


def _column_titles(page: Page) -> float:
    y = bottom_of_head(page.paper) - 3
    for title, x in COLUMNS:
        page.text((MARGIN + x, y), title, SMALL)
    return y - 1


def _group_title(page: Page, group: str, y: float) -> float:
    page.text((MARGIN, y - ROW + 2.5), group, PLAIN + 1, bold=True)
    return y - ROW


def _row(page: Page, row: CutRow, notes: Sequence[str], y: float) -> float:
    page.line([(MARGIN, y), (page.paper.width - MARGIN, y)], THIN, grey=0.6)
    base = y - ROW / 2 - 1.2
    _box(page, (MARGIN, base - 0.4), row.is_cut)
    texts = (
        "",
        row.id,
        row.from_board,
        row.kind,
        row.left,
        row.right,
        f"{row.angle} {row.longer}".strip(),
        row.stop,
        row.measured_from,
    )
    for (_, x), after, text in zip(COLUMNS, (*COLUMNS[1:], ("", 152.0)), texts, strict=True):
        shown = shortened(text, PLAIN, after[1] - x - 1)
        page.text((MARGIN + x, base), shown, PLAIN, bold=text == row.id)
    corner = (page.paper.width - MARGIN - PICTURE_WIDTH, y - (ROW + PICTURE_HEIGHT) / 2)
    draw_picture(page, row, corner, PICTURE_WIDTH, PICTURE_HEIGHT)
    for number, line in enumerate(notes, start=1):
        page.text((MARGIN + COLUMNS[1][1], y - ROW - LINE_HEIGHT * number + 1.0), line, SMALL)
    return y - ROW - _notes_height(notes)


def _box(page: Page, at: Point, is_ticked: bool) -> None:
    x, y = at
    page.shape((((x, y), (x + 3.4, y), (x + 3.4, y + 3.4), (x, y + 3.4)),))
    if is_ticked:
        page.line([(x + 0.6, y + 1.7), (x + 1.5, y + 0.6), (x + 2.9, y + 2.9)], 0.4)

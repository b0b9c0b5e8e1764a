"""Labels to stick on the pieces: name, board, place, lengths, and an arrow that says which end is which."""

from collections.abc import Sequence

from engine.geometry.shapes import Point
from engine.sheets.cut_row import CutRow, draw_picture
from engine.sheets.label_grid import LabelGrid
from engine.sheets.paper import Paper
from engine.sheets.pdf_page import LINE, Page, pdf_file
from engine.sheets.pdf_text import shortened

# Sheets shift in the printer, so nothing comes nearer to a label's edge; and the outermost strip of a
# sheet is not printed. Common practice, no source, mm.
INSET_ACROSS, INSET_UP = 3.5, 2.6
NOT_PRINTED = 4.5
Box = tuple[float, float, float, float]

NAME, WORDS, SMALL = 16.0, 8.5, 6.5
HEAD_LENGTH = 2.2
# Room for the words behind the arrow, mm.
WORD_WIDTH = 9.0


def labels_pdf(job: str, rows: Sequence[CutRow], grid: LabelGrid, paper: Paper, first: int = 1) -> bytes:
    """One label a piece, row by row from the top left, in the order of ``rows``.

    The first one goes on label ``first`` of a sheet that is begun.
    """
    each = int(grid.columns * grid.rows)
    labels = [*[None] * (first - 1), *rows]
    pages = [_page(labels[start : start + each], grid, paper) for start in range(0, len(labels), each)]
    return pdf_file(f"Labels {job}".strip(), pages or [Page(paper)])


def _page(labels: Sequence[CutRow | None], grid: LabelGrid, paper: Paper) -> Page:
    page = Page(paper)
    for index, row in enumerate(labels):
        if row is None:
            continue
        down, across = divmod(index, int(grid.columns))
        left = grid.left + across * grid.across
        top = paper.height - grid.top - down * grid.down
        _label(page, row, _printed((left, top - grid.height, left + grid.width, top), paper))
    return page


def _printed(label: Box, paper: Paper) -> Box:
    """What of a label's box may be printed on."""
    left, low, right, high = label
    return (
        max(left + INSET_ACROSS, NOT_PRINTED),
        max(low + INSET_UP, NOT_PRINTED),
        min(right - INSET_ACROSS, paper.width - NOT_PRINTED),
        min(high - INSET_UP, paper.height - NOT_PRINTED),
    )


def _label(page: Page, row: CutRow, box: Box) -> None:
    left, low, right, top = box
    width, half = right - left, (right - left) / 2
    page.text((left, top - 4.6), row.id, NAME, bold=True)
    page.text((right, top - 2.6), shortened(f"{row.board} board", WORDS, half), WORDS, align="right")
    page.text((right, top - 5.6), shortened(f"at {row.group}", SMALL, half), SMALL, align="right")
    seen = "on the back " if row.is_on_back else ""
    lengths = f"{seen}left {row.left}   right {row.right}   {row.angle or row.kind}"
    page.text((left, top - 9.4), shortened(lengths, WORDS, width), WORDS)
    draw_picture(page, row, (left, low + 3.4), width, top - low - 14.8)
    _arrow(page, (left, low), width)


def _arrow(page: Page, at: Point, width: float) -> None:
    """From the start end to the far end, as the board in the picture lies."""
    x, y = at[0], at[1] + 1.2
    tip, half = x + width - WORD_WIDTH, HEAD_LENGTH / 2
    page.line([(x, y), (tip - HEAD_LENGTH, y)], 2 * LINE)
    back = tip - HEAD_LENGTH
    page.shape((((back, y + half), (back, y - half), (tip, y)),), LINE, fill=0.0)
    page.text((x + width, y - 0.8), "far end", SMALL, align="right")

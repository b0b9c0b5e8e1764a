"""Templates at full size: scribe strips and corner templates, to cut out, lay on the board and mark along.

Each shows a part of a board from edge to edge, start end at the left, its face
up or its back, whichever is marked on this job: what falls is grey. Where a template is longer than the
paper it goes on, on the next strip. Short lines across stand at whole
centimetres from the end of the board that the piece is measured from.
"""

from collections.abc import Iterator, Sequence
from math import floor

from engine.geometry.shapes import Ring
from engine.sheets.check_bar import draw_check_bar
from engine.sheets.paper import Paper
from engine.sheets.pdf_page import THICK, THIN, Page, pdf_file
from engine.sheets.sheet_head import MARGIN, SAW_CAUTION, Head, number_pages
from engine.sheets.template_layout import CAPTION_SIZE, PlacedPart, Template, laid_out

HOW = (
    "Cut out, lay on the board's {side} with both long edges flush and each number at its distance in mm "
    "from the end named, mark along the heavy line. Grey falls."
)
WASTE = 0.85
# Distance of the lines across, mm, and how often one bears its distance.
STATION, NAMED = 10.0, 5
TICK = 1.5
SMALL = 6.0


def template_pdf(title: str, job: str, templates: Sequence[Template], paper: Paper) -> bytes:
    """All templates, on as few pages as the paper takes them, upright or lying."""
    layouts = [(sheet, laid_out(templates, sheet)) for sheet in (paper, paper.landscape)]
    sheet, placed = min(layouts, key=lambda layout: len(layout[1]))
    pages = [_page(parts, sheet) for parts in placed]
    side = "back" if any(template.is_back for template in templates) else "face"
    number_pages(Head(title=title, job=job, words=f"{HOW.format(side=side)} {SAW_CAUTION}"), pages)
    return pdf_file(f"{title} {job}".strip(), pages)


def _page(parts: Sequence[PlacedPart], paper: Paper) -> Page:
    page = Page(paper)
    draw_check_bar(page, (MARGIN, MARGIN + 3))
    for part in parts:
        _draw(page, part)
        _stations(page, part)
    return page


def _draw(page: Page, placed: PlacedPart) -> None:
    left, low, right, high = placed.part
    frame = _moved(((left, low), (right, low), (right, high), (left, high)), placed)
    page.text((frame[3][0], frame[3][1] + TICK), placed.caption, CAPTION_SIZE)
    page.begin_clip((frame[0][0] - THIN, frame[0][1] - THIN, frame[2][0] + THIN, frame[2][1] + THIN))
    page.shape((_moved(placed.template.whole, placed),), THIN, fill=WASTE)
    page.shape(tuple(_moved(ring, placed) for ring in placed.template.keep), THIN, fill=1.0)
    for cut in placed.template.cuts:
        page.line(_moved(cut, placed), THICK)
    page.end_clip()
    page.shape((frame,), THIN)


def _moved(ring: Ring, placed: PlacedPart) -> Ring:
    return tuple((x + placed.by[0], y + placed.by[1]) for x, y in ring)


def _stations(page: Page, placed: PlacedPart) -> None:
    """Short lines across at both edges of the part, with their distance below the lower one."""
    for edge, tick in ((placed.part[1], TICK), (placed.part[3], -TICK)):
        for number, x in _marks(placed, edge):
            ((x, y),) = _moved(((x, edge),), placed)
            page.line([(x, y), (x, y + (tick if number % NAMED else 2 * tick))], THIN)
            if tick > 0 and number % NAMED == 0:
                page.text((x, y - 3), f"{number * STATION:g}", SMALL, align="middle")


def _marks(placed: PlacedPart, y: float) -> Iterator[tuple[int, float]]:
    """Number and x of each station of the part, at the height y of what is seen."""
    template = placed.template
    length, skew = template.size.length, template.skew(y)
    for number in range(floor(length / STATION) + 1):
        x = (length - number * STATION if template.is_from_far else number * STATION) - skew
        if placed.part[0] <= x <= placed.part[2]:
            yield number, x

"""Where full-size templates lie on sheets of paper: cut into parts that fit, then placed shelf by shelf."""

from collections.abc import Iterator, Sequence
from math import ceil

from msgspec import Struct

from engine.geometry.board import BoardSize
from engine.geometry.shapes import Point, Polygon, Ring
from engine.sheets.paper import Paper
from engine.sheets.pdf_text import width_of
from engine.sheets.sheet_head import FOOT, MARGIN, bottom_of_head

Box = tuple[float, float, float, float]

# So much of the board is shown beyond the ends of a cut, mm.
BEYOND = 20.0
# The check bar's place at the left and at the foot of each page, and the space between two templates, mm.
BAR_LEFT, BAR_LOW, BETWEEN = 8.0, 9.0, 5.0
# Room above a template for its caption, and below it for its numbers, mm.
CAPTION, UNDER = 4.5, 4.0
CAPTION_SIZE = 8.0


class Template(Struct, frozen=True, kw_only=True):
    """One piece's template. Shapes as they are seen, start end at the left; ``cuts`` are the lines to mark.

    ``is_back``: it is seen from the back, so that the left long edge lies below. ``is_from_far``:
    distances count from the far end.
    """

    caption: str
    size: BoardSize
    whole: Ring
    keep: Polygon
    cuts: tuple[Ring, ...]
    is_from_far: bool
    is_back: bool

    def skew(self, y: float) -> float:
        """How much farther along its board a point at this height is than its x says, mm."""
        return self.size.along((0.0, self.size.width - y if self.is_back else y))


class PlacedPart(Struct, frozen=True, kw_only=True):
    """A ``part`` of a template (a box of what is seen), moved ``by`` so much onto its page."""

    template: Template
    caption: str
    part: Box
    by: Point


def laid_out(templates: Sequence[Template], paper: Paper) -> list[list[PlacedPart]]:
    """Page by page, from the top left: beside each other while there is room, then below."""
    left, right = MARGIN + BAR_LEFT, paper.width - MARGIN
    low, high = MARGIN + BAR_LOW + FOOT, bottom_of_head(paper)
    pages: list[list[PlacedPart]] = []
    x, top, bottom = right, low, low
    for template, caption, part in _all_parts(templates, right - left, high - low - CAPTION - UNDER):
        width, height = part[2] - part[0], part[3] - part[1] + CAPTION + UNDER
        width = max(width, width_of(caption, CAPTION_SIZE))
        if x + width > right:
            x, top = left, bottom - BETWEEN
        if top - height < low:
            pages.append([])
            x, top, bottom = left, high, high
        by = (x - part[0], top - height + UNDER - part[1])
        pages[-1].append(PlacedPart(template=template, caption=caption, part=part, by=by))
        x, bottom = x + width + BETWEEN, min(bottom, top - height)
    return pages


def _all_parts(
    templates: Sequence[Template], width: float, height: float
) -> Iterator[tuple[Template, str, Box]]:
    for template in templates:
        parts = list(_parts(template, width, height))
        for number, part in enumerate(parts, start=1):
            more = f", part {number} of {len(parts)}" if len(parts) > 1 else ""
            yield template, template.caption + more, part


def _parts(template: Template, width: float, height: float) -> Iterator[Box]:
    """The boxes to show, each no larger than a page holds; cuts near each other share one."""
    for left, right in _spans(template):
        columns, rows = ceil((right - left) / width), ceil(template.size.width / height)
        step_x, step_y = (right - left) / columns, template.size.width / rows
        for column in range(columns):
            for row in range(rows):
                x, y = left + column * step_x, row * step_y
                yield x, y, x + step_x, y + step_y


def _spans(template: Template) -> list[tuple[float, float]]:
    """From where to where along the board there is something to mark."""
    ends = [x for x, _ in template.whole]
    spans: list[tuple[float, float]] = []
    for left, right in sorted(map(_extent, template.cuts)):
        left, right = max(left - BEYOND, min(ends)), min(right + BEYOND, max(ends))
        if spans and left <= spans[-1][1]:
            left, right = spans[-1][0], max(spans.pop()[1], right)
        spans.append((left, right))
    return spans


def _extent(cut: Ring) -> tuple[float, float]:
    xs = [x for x, _ in cut]
    return min(xs), max(xs)

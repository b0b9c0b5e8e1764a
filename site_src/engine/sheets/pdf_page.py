"""Pages of paper to draw on in millimetres, and the PDF file made of them.

The origin is the lower left corner of the sheet, y upwards, as in the room.
Nothing is packed: packed by another release of zlib the same page would give
other bytes, and desk and phone are to write the same file.
"""

from collections.abc import Iterable, Sequence
from io import BytesIO
from math import cos, radians, sin
from typing import Literal

import pydyf

from engine.geometry.shapes import Point, Polygon
from engine.sheets.paper import Paper
from engine.sheets.pdf_text import POINTS, encoded, width_of

Align = Literal["left", "middle", "right"]

# In points: a third of a thousandth of a millimetre, far below any printer.
DECIMALS = 3
THIN, LINE, THICK = 0.1, 0.2, 0.5
# From the middle of a capital letter down to the line it stands on, as a part of the font's size:
# half the height of capitals in Adobe's metrics of Helvetica.
HALF_CAPITAL = 0.359


class Page:
    """One page to draw on; places and line widths in mm, font sizes in points, grey from 0 (black) to 1."""

    def __init__(self, paper: Paper) -> None:
        self.paper = paper
        self._stream = pydyf.Stream()
        self._stream.set_line_join(1)
        self._stream.set_line_cap(1)

    def line(
        self, points: Sequence[Point], width: float = LINE, *, dash: Sequence[float] = (), grey: float = 0.0
    ) -> None:
        """An open line."""
        self._pen(width, dash, grey)
        self._path(points)
        self._stream.stroke()

    def shape(self, polygon: Polygon, width: float = LINE, *, fill: float | None = None) -> None:
        """A polygon with its holes, filled with a grey when one is given."""
        self._pen(width, (), 0.0)
        for ring in polygon:
            self._path(ring)
            self._stream.close()
        if fill is None:
            self._stream.stroke()
        else:
            self._stream.set_color_rgb(fill, fill, fill)
            self._stream.fill_and_stroke(even_odd=True)

    def text(
        self,
        at: Point,
        text: str,
        size: float,
        *,
        bold: bool = False,
        align: Align = "left",
        turn: float = 0.0,
    ) -> None:
        """One line of text on ``at``; ``turn`` in degrees counter-clockwise.

        Bold letters are placed as plain ones, which are narrower; figures are as wide.
        """
        part = {"left": 0.0, "middle": 0.5, "right": 1.0}[align]
        back = width_of(text, size) * part
        cosine, sine = cos(radians(turn)), sin(radians(turn))
        stream = self._stream
        stream.set_color_rgb(0, 0, 0)
        stream.begin_text()
        stream.set_font_size("bold" if bold else "plain", size)
        x, y = _points(at[0] - back * cosine), _points(at[1] - back * sine)
        stream.set_text_matrix(*(round(value, 6) + 0.0 for value in (cosine, sine, -sine, cosine)), x, y)
        stream.show_text_string(encoded(text))
        stream.end_text()

    def middle_text(
        self, at: Point, text: str, size: float, *, turn: float = 0.0, bold: bool = False
    ) -> None:
        """One line of text with its middle on ``at``, both ways."""
        down = HALF_CAPITAL * size / POINTS
        x, y = at[0] + down * sin(radians(turn)), at[1] - down * cos(radians(turn))
        self.text((x, y), text, size, bold=bold, align="middle", turn=turn)

    def begin_clip(self, box: tuple[float, float, float, float]) -> None:
        """From now on nothing is drawn outside a box: left, low, right, high."""
        left, low, right, high = map(_points, box)
        self._stream.push_state()
        self._stream.rectangle(left, low, right - left, high - low)
        self._stream.clip()
        self._stream.end()

    def end_clip(self) -> None:
        """End the last ``begin_clip``."""
        self._stream.pop_state()

    def _pen(self, width: float, dash: Sequence[float], grey: float) -> None:
        self._stream.set_line_width(_points(width))
        self._stream.set_dash([_points(part) for part in dash], 0)
        self._stream.set_color_rgb(grey, grey, grey, stroke=True)

    def _path(self, points: Sequence[Point]) -> None:
        (x, y), *others = points
        self._stream.move_to(_points(x), _points(y))
        for x, y in others:
            self._stream.line_to(_points(x), _points(y))

    def put_into(self, document: pydyf.PDF, fonts: pydyf.Dictionary) -> None:
        """Add this page to a document."""
        document.add_object(self._stream)
        box = pydyf.Array([0, 0, _points(self.paper.width), _points(self.paper.height)])
        document.add_page(
            pydyf.Dictionary(
                {
                    "Type": "/Page",
                    "Parent": document.pages.reference,
                    "MediaBox": box,
                    "Resources": pydyf.Dictionary({"Font": fonts}),
                    "Contents": self._stream.reference,
                }
            )
        )


def pdf_file(title: str, pages: Iterable[Page]) -> bytes:
    """The PDF of some pages: no date, no chance, the same bytes for the same pages."""
    document = pydyf.PDF()
    document.info["Title"] = pydyf.String(title)
    fonts = pydyf.Dictionary({"plain": _font("Helvetica"), "bold": _font("Helvetica-Bold")})
    for page in pages:
        page.put_into(document, fonts)
    file = BytesIO()
    document.write(file)
    return file.getvalue()


def _font(name: str) -> pydyf.Dictionary:
    described = {"Type": "/Font", "Subtype": "/Type1", "BaseFont": f"/{name}", "Encoding": "/WinAnsiEncoding"}
    return pydyf.Dictionary(described)


def _points(mm: float) -> float:
    return round(mm * POINTS, DECIMALS) + 0.0

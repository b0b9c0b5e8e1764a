"""PDF pages read back with pypdf: their size, their texts, and the lines drawn on them, in millimetres."""

from dataclasses import dataclass
from io import BytesIO
from typing import Any

from pypdf import PageObject, PdfReader
from pypdf.generic import ContentStream

POINT = 25.4 / 72

Line = tuple[tuple[float, float], ...]


@dataclass(frozen=True)
class ReadPage:
    """One page as another reads it: width and height, its text, its lines and closed shapes."""

    width: float
    height: float
    text: str
    lines: tuple[Line, ...]
    shapes: tuple[Line, ...]


def read_pdf(content: bytes) -> list[ReadPage]:
    """Every page of a PDF file, which must be sound by the book."""
    reader = PdfReader(BytesIO(content), strict=True)
    return [_page(page, reader) for page in reader.pages]


def _page(page: PageObject, reader: PdfReader) -> ReadPage:
    box = page.mediabox
    lines, shapes = [], []
    for points, is_closed in _paths(page, reader):
        (shapes if is_closed else lines).append(points)
    size = (float(box.width) * POINT, float(box.height) * POINT)
    return ReadPage(*size, page.extract_text(), tuple(lines), tuple(shapes))


def _paths(page: PageObject, reader: PdfReader) -> list[tuple[Line, bool]]:
    """Each path that is painted, with whether it was closed; paths of several rings come ring by ring."""
    contents = page.get_contents()
    assert contents is not None
    found: list[tuple[Line, bool]] = []
    points: list[tuple[float, float]] = []
    for operands, operator in ContentStream(contents, reader).operations:
        if operator == b"m":
            points = [_spot(operands)]
        elif operator == b"l":
            points.append(_spot(operands))
        elif operator == b"h":
            found.append((tuple(points), True))
            points = []
        elif operator == b"S" and points:
            found.append((tuple(points), False))
            points = []
    return found


def text_spots(content: bytes) -> list[list[tuple[str, float, float]]]:
    """Page by page each text and where it begins, mm from the lower left corner."""
    pages = []
    for page in PdfReader(BytesIO(content), strict=True).pages:
        found: list[tuple[str, float, float]] = []

        def visit(text: str, _cm: Any, matrix: Any, _font: Any, _size: Any, into: Any = found) -> None:
            if text.strip():
                into.append((text.strip(), matrix[4] * POINT, matrix[5] * POINT))

        page.extract_text(visitor_text=visit)
        pages.append(found)
    return pages


def _spot(operands: Any) -> tuple[float, float]:
    return float(operands[0]) * POINT, float(operands[1]) * POINT

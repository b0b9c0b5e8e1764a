"""PDF pages read back with pypdf: their size, their texts, and the lines drawn on them, in millimetres."""

from collections.abc import Iterator
from dataclasses import dataclass
from io import BytesIO
from math import atan2, degrees
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


@dataclass(frozen=True)
class PlacedText:
    """A text, where it begins, its font's size in mm and the way it runs in degrees."""

    text: str
    x: float
    y: float
    size: float
    turn: float


def placed_texts(content: bytes) -> list[list[PlacedText]]:
    """Page by page every text that is drawn, one by one as it is drawn."""
    reader = PdfReader(BytesIO(content), strict=True)
    return [list(_texts(page, reader)) for page in reader.pages]


def _texts(page: PageObject, reader: PdfReader) -> Iterator[PlacedText]:
    contents = page.get_contents()
    assert contents is not None
    size, matrix = 0.0, [0.0] * 6
    for operands, operator in ContentStream(contents, reader).operations:
        if operator == b"Tf":
            size = float(operands[1]) * POINT
        elif operator == b"Tm":
            matrix = [float(number) for number in operands]
        elif operator == b"Tj":
            said = operands[0]
            text = said if isinstance(said, str) else bytes(said).decode("cp1252")
            turn = degrees(atan2(matrix[1], matrix[0]))
            yield PlacedText(text, matrix[4] * POINT, matrix[5] * POINT, size, turn)


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

"""Where to mark the curves of a piece that no straight cut can follow."""

from collections.abc import Iterator, Sequence
from itertools import groupby, pairwise
from math import ceil, floor

from engine.cutting.cuts import Kind
from engine.cutting.legs import legs_of
from engine.geometry.shapes import Point
from engine.model.job import Cutting
from engine.planning.pieces import Piece
from engine.wire.drawings import Mark
from engine.wire.figures import Writer
from engine.wire.piece_words import (
    as_measured,
)

# Distance of marks along a curve, mm along the board or across it.
MARK_ALONG, MARK_ACROSS = 50.0, 15.0


def card_marks(piece: Piece, cutting: Cutting, writer: Writer) -> Iterator[Mark]:
    """Where to mark the curves that no straight cut can follow."""
    for cut in piece.sawn.cuts:
        if cut.is_drilled_only:
            continue
        points = [as_measured(piece, point, cutting) for point in cut.points]
        marks = (
            Mark(along=writer.length(x), across=writer.length(y)) for x, y in _marked_points(cut.kind, points)
        )
        # What is read as one place is one mark.
        yield from (mark for mark, _ in groupby(marks))


def _marked_points(kind: Kind, points: Sequence[Point]) -> Iterator[Point]:
    """A notch or an opening by the ends of its legs, a curve at every step; a drilled round needs none."""
    legs = legs_of(points)
    if kind in ("notch", "hole") and len(legs) > 1:
        yield from (leg.points[0] for leg in legs)
        yield points[-1]
    elif kind == "scribe":
        for leg in legs:
            yield from _stations(leg.points)
        yield points[-1]


def _stations(points: tuple[Point, ...]) -> Iterator[Point]:
    """The leg's start, and a point at every whole step in the direction in which it runs most."""
    (ax, ay), (bx, by) = points[0], points[-1]
    axis, step = (0, MARK_ALONG) if abs(bx - ax) >= abs(by - ay) else (1, MARK_ACROSS)
    yield points[0]
    for start, end in pairwise(points):
        low, high = sorted((start[axis], end[axis]))
        marks = [n * step for n in range(ceil(low / step), floor(high / step) + 1)]
        for mark in marks if start[axis] < end[axis] else reversed(marks):
            part = (mark - start[axis]) / (end[axis] - start[axis]) if high > low else 0.0
            yield (start[0] + part * (end[0] - start[0]), start[1] + part * (end[1] - start[1]))

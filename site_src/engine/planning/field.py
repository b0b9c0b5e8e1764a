"""Where along a struck line the whole boards end and the cutting begins."""

from collections.abc import Iterator, Sequence

from engine.geometry.shapes import Ring
from engine.planning.pieces import Piece
from engine.setting_out.strike_lines import StrikeLine, WantedLine, placed

# A board this near to a line touches it, mm.
TOUCHES = 0.5
# Two boards this near along a line leave no gap; one that lies at less of it touches it with a corner, mm.
JOINED = 1.0

Interval = tuple[float, float]


def whole_along(line: StrikeLine, boards: Sequence[Piece]) -> tuple[Interval, ...]:
    """From where to where whole boards lie at a line, from its first mark in mm.

    Only between its marks; board joined to board makes one interval. None where no whole board touches it.
    """
    start = placed(line.wanted, line.start.at)[0]
    found = sorted(reach for piece in boards for reach in _reach(line.wanted, piece.board.ring))
    joined: list[Interval] = []
    for low, high in ((max(low - start, 0.0), min(high - start, line.length)) for low, high in found):
        if low >= high:
            continue
        if joined and low <= joined[-1][1] + JOINED:
            joined[-1] = joined[-1][0], max(high, joined[-1][1])
        else:
            joined.append((low, high))
    return tuple((low, high) for low, high in joined if high - low >= JOINED)


def _reach(line: WantedLine, ring: Ring) -> Iterator[Interval]:
    """How far along a line a convex ring touches it."""
    points = [placed(line, point) for point in ring]
    touched = [along for along, beside in points if abs(beside) <= TOUCHES]
    for (along, beside), (next_along, next_beside) in zip(points, points[1:] + points[:1], strict=True):
        if beside * next_beside < 0:
            touched.append(along + (next_along - along) * beside / (beside - next_beside))
    if touched:
        yield min(touched), max(touched)

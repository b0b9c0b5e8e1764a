"""Taking off what lies beyond a straight cut (Sutherland–Hodgman for one line)."""

from engine.cutting.corridor import CutLine
from engine.geometry.plane import line_intersection
from engine.geometry.shapes import Point, Ring

# Points this near to the cut are on it, mm; far below the overlay grid.
ON_CUT = 1e-9


def cut_off(ring: Ring, line: CutLine) -> Ring:
    """The part of a ring on the piece's side of a cut; empty when nothing is left."""
    sides = [line.side(point) for point in ring]
    kept: list[Point] = []
    for i, point in enumerate(ring):
        before = i - 1
        if (sides[before] > ON_CUT) != (sides[i] > ON_CUT):
            kept.append(crossing(ring[before], point, sides[before], sides[i]))
        if sides[i] > ON_CUT:
            kept.append(point)
    return tuple(point for i, point in enumerate(kept) if point != kept[i - 1])


def crossing(start: Point, end: Point, start_side: float, end_side: float) -> Point:
    """Where an edge crosses a cut on whose two sides its ends lie so far off."""
    part = start_side / (start_side - end_side)
    return (start[0] + part * (end[0] - start[0]), start[1] + part * (end[1] - start[1]))


def meeting(first: CutLine, second: CutLine) -> Point | None:
    """Where two cuts meet, or None when they are parallel."""
    return line_intersection(first.at, _ahead(first), second.at, _ahead(second))


def _ahead(line: CutLine) -> Point:
    return (line.at[0] + line.direction[0], line.at[1] + line.direction[1])

"""Is the square line square? By 3-4-5, and by the two equal diagonals of the rectangle on the same marks."""

from collections.abc import Sequence
from itertools import product
from math import floor

from msgspec import Struct

from engine.geometry.shapes import Point, Region
from engine.setting_out.clear_line import Sight, clear_parts
from engine.setting_out.strike_lines import WantedLine, point_on

# The unit is a whole number of these, so that all three lengths are easy to read, mm.
STEP = 10.0
# Three, four and five of less than this prove nothing; of more than this want a tape nobody has, mm.
LEAST_UNIT, MOST_UNIT = 100.0, 1000.0
# A point this near to the floor's edge is on it, mm; farther out nobody can mark it.
AT_EDGE = 0.001


class SquareCheck(Struct, frozen=True, kw_only=True):
    """From ``at``, where the lines ``names`` cross: ``along`` mm on the first, ``across`` on the second.

    ``on_first`` and ``on_second`` are the marks there, ``diagonal`` is between them. ``fourth`` makes the
    rectangle, whose other diagonal, from ``at``, is equal; None where it lies off the floor.
    """

    at: Point
    on_first: Point
    on_second: Point
    fourth: Point | None
    names: tuple[str, str]
    along: float
    across: float
    diagonal: float


def square_check(first: WantedLine, second: WantedLine, lay_area: Region, sight: Sight) -> SquareCheck | None:
    """The largest 3-4-5 from where both lines cross (``through`` of the first); None where none has room."""
    at = first.through
    free = [_free(line, lay_area) for line in (first, second)]
    found = []
    for (one, other), (three, four) in product(product(*free), ((3, 4), (4, 3))):
        unit = min(MOST_UNIT, floor(min(abs(one) / three, abs(other) / four) / STEP) * STEP)
        if unit >= LEAST_UNIT:
            along, across = _signed(three * unit, one), _signed(four * unit, other)
            found.append((unit, along, across))
    for unit, along, across in sorted(found, key=lambda choice: -choice[0]):
        on_first, on_second = point_on(first, along), point_on(second, across)
        if sight.is_clear(on_first, on_second):
            fourth = (on_first[0] + on_second[0] - at[0], on_first[1] + on_second[1] - at[1])
            return SquareCheck(
                at=at,
                on_first=on_first,
                on_second=on_second,
                fourth=fourth if _is_on_floor(fourth, (on_first, on_second, at), lay_area, sight) else None,
                along=abs(along),
                across=abs(across),
                diagonal=5 * unit,
                names=(first.name, second.name),
            )
    return None


def _free(line: WantedLine, lay_area: Region) -> tuple[float, float]:
    """How far the line runs freely from its point: backwards (not positive) and onwards."""
    for low, high in clear_parts(lay_area, line.through, line.direction):
        if low - AT_EDGE <= 0 <= high + AT_EDGE:
            return min(low, 0.0), max(high, 0.0)
    return 0.0, 0.0


def _signed(length: float, way: float) -> float:
    return length if way > 0 else -length


def _is_on_floor(point: Point, others: Sequence[Point], lay_area: Region, sight: Sight) -> bool:
    """Inside the lay area, and nothing between it and the other marks."""
    inside = any(low <= 0 <= high for low, high in clear_parts(lay_area, point, (1.0, 0.0)))
    return inside and all(sight.is_clear(point, other) for other in others)

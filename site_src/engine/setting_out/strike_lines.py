"""The lines to strike on the floor, each from one mark to another.

A line goes from edge to edge of the lay area. Where an island or a recess of the
room parts it, each part has marks of its own. A mark that no two tapes can reach
at a good angle moves inwards along its line: the line stays the same.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from math import dist

from msgspec import Struct

from engine.geometry.shapes import Point, Region
from engine.setting_out.clear_line import Sight, clear_parts
from engine.setting_out.ties import NEAR, Mark, Tie, best_mark

# A part shorter than this is not worth a chalk line of its own, mm.
SHORT = 300.0
# Two marks nearer together than this tell no direction: a line that grazes a corner of the floor, mm.
LEAST = 50.0
# How far a mark may move inwards, as a part of the line, and in what steps, mm.
INWARDS, INWARDS_STEP = 0.4, 50.0
# A laser reaches this much farther than the mark, up to the wall, mm.
BEYOND = 100.0


class WantedLine(Struct, frozen=True, kw_only=True):
    """An endless line through a point; ``direction`` has length 1."""

    name: str
    through: Point
    direction: Point


class StrikeLine(Struct, frozen=True, kw_only=True):
    """A line to strike. ``name`` is that of ``wanted``, with a number where it comes in parts.

    ``checks``: how far corners lie from it, square to a laser on it, positive to its left; those in
    sight of the line only.
    """

    name: str
    wanted: WantedLine
    start: Mark
    end: Mark
    checks: tuple[Tie, ...]

    @property
    def marks(self) -> tuple[Mark, Mark]:
        """Both its ends."""
        return self.start, self.end

    @property
    def length(self) -> float:
        """Distance between its marks in mm."""
        return dist(self.start.at, self.end.at)


def strike_lines(
    wanted: Iterable[WantedLine], lay_area: Region, corners: Mapping[str, Point], sight: Sight
) -> tuple[StrikeLine, ...]:
    """The lines as far as they lie on the floor, in their order; one that misses the floor is left out."""
    return tuple(line for each in wanted for line in _parts(each, lay_area, corners, sight))


def _parts(
    wanted: WantedLine, lay_area: Region, corners: Mapping[str, Point], sight: Sight
) -> Iterator[StrikeLine]:
    parts = clear_parts(lay_area, wanted.through, wanted.direction)
    long = [part for part in parts if part[1] - part[0] >= SHORT]
    longest = sorted(parts, key=lambda part: part[0] - part[1])[:1]
    kept = long or [part for part in longest if part[1] - part[0] >= LEAST]
    for number, (low, high) in enumerate(kept, 1):
        yield StrikeLine(
            name=wanted.name if len(kept) == 1 else f"{wanted.name}, part {number}",
            wanted=wanted,
            start=best_mark(_places(wanted, low, high), corners, sight),
            end=best_mark(_places(wanted, high, low), corners, sight),
            checks=tuple(_checks(wanted, (low, high), corners, sight)),
        )


def _checks(
    line: WantedLine, part: tuple[float, float], corners: Mapping[str, Point], sight: Sight
) -> Iterator[Tie]:
    """Corners that a square from this part of the line reaches, or from just beyond its marks."""
    low, high = part
    for name, corner in corners.items():
        along, distance = placed(line, corner)
        foot = point_on(line, min(max(along, low), high))
        in_reach = low - BEYOND <= along <= high + BEYOND
        if in_reach and abs(distance) >= NEAR and sight.is_clear(corner, foot):
            yield Tie(name, distance)


def _places(wanted: WantedLine, edge: float, other: float) -> Sequence[Point]:
    """Where a mark may be, from the edge of the floor inwards."""
    steps = int(INWARDS * abs(other - edge) / INWARDS_STEP) + 1
    sign = 1.0 if other > edge else -1.0
    return [point_on(wanted, edge + sign * INWARDS_STEP * step) for step in range(steps)]


def point_on(line: WantedLine, along: float) -> Point:
    """The point of a line so far along it."""
    return line.through[0] + along * line.direction[0], line.through[1] + along * line.direction[1]


def placed(line: WantedLine, point: Point) -> tuple[float, float]:
    """How far a point lies along the endless line and beside it, positive to the left of its direction."""
    (ux, uy), dx, dy = line.direction, point[0] - line.through[0], point[1] - line.through[1]
    return dx * ux + dy * uy, ux * dy - uy * dx

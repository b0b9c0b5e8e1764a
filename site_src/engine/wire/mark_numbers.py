"""Where the numbers of marks stand on the drawing of all lines."""

from collections.abc import Sequence
from math import dist

from engine.geometry.shapes import Point
from engine.planning.floor_plan import FloorPlan
from engine.planning.lines_as_they_lie import AS_IT_LIES, PARALLELS_AS_THEY_LIE
from engine.setting_out.strike_lines import StrikeLine

# How far inwards from its mark a number stands, as a part of the room's size; farther where it would lie
# on another one, so many times; and how near that is.
NUMBER_IN, FARTHER, NUMBERS_APART = 0.045, 4, 0.07
# Struck once the floor was taken as it lies: then theirs are the only numbers in the drawing.
NEW_LINES = {AS_IT_LIES, *PARALLELS_AS_THEY_LIE}


def number_spots(plan: FloorPlan, lines: Sequence[StrikeLine]) -> tuple[Point, ...]:
    """Where the numbers of all marks stand, in order: clear of the wall, and of numbers drawn with them."""
    xs, ys = zip(*plan.room.outline.ring, strict=True)
    size = max(max(xs) - min(xs), max(ys) - min(ys))
    taken: dict[bool, list[Point]] = {False: [], True: []}
    spots: list[Point] = []
    for line in lines:
        others = taken[line.wanted.name in NEW_LINES]
        for at, end in ((line.start.at, line.end.at), (line.end.at, line.start.at)):
            ways = [_inwards(at, end, step * NUMBER_IN * size) for step in range(1, FARTHER + 1)]
            room = [min((dist(way, other) for other in others), default=size) for way in ways]
            enough = (way for way, clear in zip(ways, room, strict=True) if clear > NUMBERS_APART * size)
            spots.append(next(enough, ways[room.index(max(room))]))
            others.append(spots[-1])
    return tuple(spots)


def _inwards(at: Point, other: Point, by: float) -> Point:
    """A little way from a mark towards the other."""
    part = min(0.45, by / dist(at, other))
    return at[0] + part * (other[0] - at[0]), at[1] + part * (other[1] - at[1])

"""Where the numbers of marks stand on the drawing of all lines, and how large numbers on a drawing may be."""

from collections.abc import Sequence
from itertools import combinations
from math import dist, inf

from engine.geometry.shapes import Point
from engine.planning.floor_plan import FloorPlan
from engine.planning.lines_as_they_lie import AS_IT_LIES, PARALLELS_AS_THEY_LIE
from engine.setting_out.strike_lines import StrikeLine
from engine.wire.drawings import Label

# How far inwards from its mark a number stands, as a part of the room's size; farther where it would lie
# on another one, so many times; and how near that is.
NUMBER_IN, FARTHER, NUMBERS_APART = 0.045, 4, 0.07
# A digit of the screens' typeface and the paper left free about a number, in its letters' size: across, up.
DIGIT, HIGH, FREE = 0.6, 0.75, 0.15
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


def largest_letters(labels: Sequence[Label]) -> float:
    """How large letters may be, mm of the room, so that no two numbers touch; 0: as large as one likes."""
    pairs = combinations([(label.text, label.at) for label in labels], 2)
    most = min((_letters_for(*one, *other) for one, other in pairs), default=inf)
    return round(most, 1) if 0 < most < inf else 0.0


def _letters_for(one: str, at: Point, other: str, there: Point) -> float:
    across = DIGIT * (len(one) + len(other)) / 2 + FREE
    return max(abs(at[0] - there[0]) / across, abs(at[1] - there[1]) / (HIGH + FREE))


def _inwards(at: Point, other: Point, by: float) -> Point:
    """A little way from a mark towards the other."""
    part = min(0.45, by / dist(at, other))
    return at[0] + part * (other[0] - at[0]), at[1] + part * (other[1] - at[1])

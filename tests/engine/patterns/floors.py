"""Floors for every pattern there is: awkward boards, and whatever else the pattern takes."""

from math import cos, radians, sin

import shapely
from hypothesis import assume
from hypothesis import strategies as st
from msgspec.structs import replace

from engine.geometry.shapes import Point
from engine.model.job import Board, Floor, Stagger
from engine.patterns import find_pattern, pattern_names
from engine.patterns.pattern import LaidBoard, Pattern

PATTERNS = [find_pattern(name) for name in pattern_names()]

staggers = st.one_of(
    st.none(),
    st.floats(-2000, 2000).map(lambda by: Stagger(by=by)),
    st.builds(Stagger, seed=st.integers(-(10**6), 10**6), least=st.none() | st.floats(0, 600)),
)
TAKEN: dict[str, st.SearchStrategy[object]] = {
    "strips": st.none() | st.integers(1, 5),
    "angle": st.none() | st.floats(5, 80),
    "stagger": staggers,
}


def floor_of(
    pattern: Pattern, length: float, width: float, axis: float = 90.0, anchor: Point = (0.0, 0.0)
) -> Floor:
    """A floor without further wishes; a width it refuses becomes one that divides the length."""
    floor = Floor(pattern=pattern.name, board=Board(length=length, width=width), axis=axis, anchor=anchor)
    if is_sound(pattern, floor):
        return floor
    return replace(floor, board=Board(length=length, width=length / round(length / width)))


def is_sound(pattern: Pattern, floor: Floor) -> bool:
    return not any(finding.level == "error" for finding in pattern.faults(floor))


@st.composite
def floors(draw: st.DrawFn, pattern: Pattern) -> Floor:
    """Any floor with which the pattern finds no fault, from square boards to slim ones."""
    length = draw(st.floats(250, 1200))
    axis = draw(st.sampled_from([0.0, 45.0, 90.0, -135.0]) | st.floats(-360, 360))
    anchor = draw(st.tuples(st.floats(-3000, 3000), st.floats(-3000, 3000)))
    floor = floor_of(pattern, length, length * draw(st.floats(0.08, 1.0)), axis, anchor)
    for name in pattern.uses:
        wished = replace(floor, **{name: draw(TAKEN[name])})
        floor = wished if is_sound(pattern, wished) else floor
    assume(is_sound(pattern, floor))
    return floor


def turned_box(axis: float, centre: Point, half: float) -> list[Point]:
    """The corners of a square about a point, square to the axis."""
    c, s = cos(radians(axis)), sin(radians(axis))
    corners = [(half, half), (-half, half), (-half, -half), (half, -half)]
    return [(centre[0] + c * x - s * y, centre[1] + s * x + c * y) for x, y in corners]


def shape(board: LaidBoard) -> shapely.Polygon:
    return shapely.Polygon(board.ring)


def same_place(first: shapely.Polygon, second: shapely.Polygon) -> bool:
    """Do two boards cover the same to within a thousandth of a square millimetre?"""
    return bool(first.symmetric_difference(second).area < 1e-3)

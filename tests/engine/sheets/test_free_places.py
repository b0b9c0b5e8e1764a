"""Texts are put where nothing lies, held against shapely."""

from math import dist

from hypothesis import given
from hypothesis import strategies as st
from shapely.geometry import LineString, Polygon

from engine.sheets.free_places import Taken, TextPlace

spots = st.tuples(st.floats(0, 60), st.floats(0, 60))
# A line of no length is none: shapely makes a point of it.
drawn_lines = st.tuples(spots, spots).filter(lambda line: dist(*line) > 0.01)
places = st.builds(
    TextPlace,
    at=spots,
    text=st.sampled_from(["7", "row axis", "12-3L"]),
    size=st.just(8.0),
    turn=st.floats(-90, 90),
)


@given(
    lines=st.lists(drawn_lines, max_size=4),
    choices=st.lists(st.lists(places, max_size=4), max_size=6),
)
def test_a_text_is_put_on_the_first_place_where_nothing_lies(
    lines: list[tuple[tuple[float, float], ...]], choices: list[list[TextPlace]]
) -> None:
    """What is taken lies over no line and no earlier text; what is passed over does, to 0.001 mm."""
    taken = Taken(lines)
    lying: list[LineString | Polygon] = [LineString(line) for line in lines]
    for offered in choices:
        put = taken.put(offered)
        for place in offered:
            box = Polygon(place.box)
            if place is put:
                assert not any(box.buffer(-1e-3).intersects(other) for other in lying)
                lying.append(box)
                break
            assert any(box.buffer(1e-3).intersects(other) for other in lying)
        else:
            assert put is None

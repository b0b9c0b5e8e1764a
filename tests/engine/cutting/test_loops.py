"""Cut paths that would run over themselves; shapely says whether a path does."""

from math import cos, pi, sin

import pytest
from shapely.geometry import LineString

from engine.cutting.loops import without_loops


@pytest.mark.parametrize(
    "path",
    [
        # Two notches of crooked rooms: a short leg set past the long one, a leg set past a round of one edge.
        [(437.2081, 0.0), (438.9898, 1.9669), (438.9332, 1.9022), (339.6682, 90.5)],
        [(259.5396, 0.0), (347.4906, 66.6488), (347.5013, 66.6084), (344.594, 69.9529), (344.5492, 70.0)],
        # The short leg runs back along the long one.
        [(80.8732, 83.33), (161.662, 2.7184), (161.5865, 2.6441), (243.5051, 83.33)],
        [(0.0, 11.1396), (4.8696, 15.1803), (5.1806, 15.4281), (5.1355, 15.3934), (0.0, 22.285)],
        [(0.0, 0.0), (10.0, 0.0), (10.0, 10.0), (5.0, 10.0), (5.0, -5.0)],
    ],
)
def test_a_path_turns_where_it_first_meets_itself(path: list[tuple[float, float]]) -> None:
    whole = LineString(path)
    straight = LineString(without_loops(path))
    assert straight.is_simple
    assert (straight.coords[0], straight.coords[-1]) == (whole.coords[0], whole.coords[-1])
    assert whole.buffer(0.01).covers(straight)
    assert straight.length < whole.length


def test_a_path_that_nowhere_crosses_itself_stays_as_it_is() -> None:
    around = [(40 * cos(i * pi / 90), 40 * sin(i * pi / 90)) for i in range(170)]
    for path in (around, [*around, around[0]], [(0.0, 0.0), (5.0, 0.0)]):
        assert without_loops(path) == tuple(path)

"""A drifted pattern: there and back, split where its creep changes, and its slopes."""

from itertools import pairwise
from math import hypot

import numpy as np
import pytest

from engine.geometry.drift import CreepChange, Drift, Way
from engine.geometry.frame import Frame


def test_a_drift_goes_back_where_it_came_from() -> None:
    drift = Drift(
        about=(1200, 800), axis=37, ahead=5, left=-3, turn=0.4, creep_along=0.001, creep_across=-0.0005
    )
    point = (3100.0, 250.0)
    assert drift.planned(drift.moved(point)) == pytest.approx(point, abs=1e-9)
    frame = drift.moved_frame((3100, 250), Frame(3000, 200, 82))
    assert frame.angle == pytest.approx(82.4)
    assert hypot(frame.x - drift.moved(point)[0], frame.y - drift.moved(point)[1]) == pytest.approx(
        hypot(100, 50)
    )


@pytest.mark.parametrize("way", ["along", "across"])
def test_a_drift_whose_creep_changes_goes_back_too_and_is_straight_between_the_points_of_a_split_ring(
    way: Way,
) -> None:
    change = CreepChange(way=way, at=400.0, by=0.004)
    drift = Drift(about=(1200, 800), axis=30, ahead=5, turn=0.4, creep_along=0.001, change=change)
    for point in ((3100.0, 250.0), (900.0, 700.0), (1400.0, 2600.0)):
        assert drift.planned(drift.moved(point)) == pytest.approx(point, abs=1e-9)
    frame = Frame(1200, 800, 30)
    ring = frame.ring_to_room(((0, 0), (900, 0), (900, 900), (0, 900)))
    split = drift.split(ring)
    assert len(split) == 6
    for (ax, ay), (bx, by) in pairwise((*split, split[0])):
        ends, middle = (drift.moved((ax, ay)), drift.moved((bx, by))), ((ax + bx) / 2, (ay + by) / 2)
        half = tuple((a + b) / 2 for a, b in zip(*ends, strict=True))
        assert drift.moved(middle) == pytest.approx(half, abs=1e-9)


@pytest.mark.parametrize("index", range(6))
def test_the_slopes_are_those_of_the_drift_itself(index: int) -> None:
    """Central differences of ``moved_with``."""
    change = CreepChange(way="across", at=-2000.0, by=1e-3)
    drift = Drift(about=(1200, 800), axis=37, ahead=5, left=-3, turn=0.2, creep_along=1e-3, change=change)
    middle, corner, step = (2600.0, 1500.0), (2800.0, 1650.0), 1e-5
    ends = []
    for sign in (1, -1):
        values = list(drift.values)
        values[index] += sign * step
        ends.append(np.array(drift.with_values(values).moved_with(middle, corner)))
    slope = (ends[0] - ends[1]) / (2 * step)
    assert drift.slopes(middle, corner)[index] == pytest.approx(slope, rel=1e-6, abs=1e-4)

"""A creep that changes half-way is told, and nothing that is none: planted floors."""

from random import Random

import numpy as np
import pytest
from msgspec.structs import replace

from engine.setting_out.as_laid import fit_laid
from tests.engine.setting_out.laid_floors import crooked_walls, planted, read_floor, read_rows

CHANGED = 12
ROWS = [500.0 * row for row in range(9)]


def test_creep_that_changed_half_way_is_told_and_forecast_from_the_later_part() -> None:
    """0.27 mm a joint of 90 mm more from about the middle of four metres on; without it nothing is told.

    The later creep and the forecast one metre on lie within their bounds, the places where it changed
    within half a metre or so.
    """
    told, later, ahead, places = 0, 0, 0, []
    for seed in range(CHANGED):
        random = Random(1000 + seed)
        floor = planted(random)
        floor.changed, floor.changed_at = random.choice([-0.003, 0.003]), random.uniform(1600, 2400)
        fit = fit_laid(read_rows(floor, random, ROWS), floor.axis)
        change, axis = fit.drift.change, np.exp(1j * np.radians(floor.axis))
        if change is None:
            continue
        assert change.way == "along"
        told += 1
        gained = fit.drift.creep_along + change.by - floor.along - floor.changed
        later += abs(gained) <= fit.bound_of([0, 0, 0, 1, 0, 1])
        far = complex(*floor.anchor) + 5000 * axis
        off = ((floor.laid(far) - far) / axis).real
        said = fit.offset((far.real, far.imag), (axis.real, axis.imag))
        ahead += abs(said - off) <= fit.reading_bound((far.real, far.imag), (axis.real, axis.imag))
        about = ((complex(*fit.drift.about) - complex(*floor.anchor)) / axis).real
        places.append(abs(change.at + about - floor.changed_at))
    assert told >= 0.9 * CHANGED, told
    assert later >= 0.8 * told, later / told
    assert ahead >= 0.93 * told, ahead / told
    assert np.median(places) < 500
    fits = []
    for seed in range(CHANGED):
        random = Random(2000 + seed)
        floor = planted(random)
        fits.append(fit_laid(read_rows(floor, random, ROWS), floor.axis))
    assert sum(fit.drift.change is not None for fit in fits) <= 0.1 * CHANGED


def test_one_slip_is_no_change_of_the_creep() -> None:
    """A reading of the last row 8 mm wrong is doubted; the rows before it are not said to creep otherwise."""
    for seed in range(5):
        random = Random(seed)
        floor = planted(random)
        readings = read_rows(floor, random, ROWS)
        last = next(i for i in range(len(readings) - 1, 0, -1) if i % 4 == 1)
        readings[last] = replace(readings[last], distance=readings[last].distance + 8)
        fit = fit_laid(readings, floor.axis)
        assert fit.drift.change is None
        assert fit.doubted == (f"d{last}",)


class Exact(Random):
    """Plants floors, and reads them without any error."""

    def gauss(self, mu: float = 0.0, sigma: float = 1.0) -> float:
        return mu


def test_readings_without_error_tell_no_change_of_nothing_and_a_real_one() -> None:
    """Regression: what is left of exact readings is the arithmetic's, and a change of 1e-12 mm was told."""
    for seed in range(6):
        floor = planted(random := Exact(seed))
        anywhere = read_floor(floor, crooked_walls(random), random, 24)
        for readings in (read_rows(floor, random, ROWS), anywhere):
            assert fit_laid(readings, floor.axis).drift.change is None
        floor.changed, floor.changed_at = 0.001, 2000
        change = fit_laid(read_rows(floor, random, ROWS), floor.axis).drift.change
        assert change is not None
        assert change.by == pytest.approx(0.001, rel=0.1)

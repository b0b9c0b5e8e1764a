"""How sure we are between readings, and where to read next."""

from itertools import pairwise
from typing import Any

import numpy as np
import pytest
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.model.job import Pair
from engine.survey.band import (
    BAND,
    Band,
    check_finding,
    half_way_sd,
    question,
    readings_for,
    spacing_for,
    wall_band,
)
from engine.survey.curves import wall_curve
from engine.survey.read_next import read_next
from engine.survey.roughness import LADDER, room_roughness, wall_stretches
from engine.survey.suspects import check_offsets, most_likely_wrong
from engine.survey.tolerances import LEAST_ROUGHNESS

CHORD, Q, SD = 4000.0, 3e-7, 0.5
READ = ((600.0, 4.0), (1400.0, 9.0), (2300.0, 11.0), (3300.0, 5.0))


def _band(
    readings: tuple[Pair, ...] = READ, breaks: tuple[float, ...] = (), sd: float = SD, q: float = Q
) -> Band:
    curve = wall_curve("smooth", CHORD, readings, breaks)
    return wall_band(curve, wall_stretches(CHORD, readings, breaks, sd), q)


def test_band_is_that_of_a_random_walk_conditioned_on_the_readings() -> None:
    """Mean and spread agree with numpy: white bend summed twice on a 5 mm grid, Gaussian conditioning."""
    step = 5.0
    grid = np.arange(0, CHORD + step / 2, step)
    # Influence of a unit bend at u on the offset at s, both ends held: the string's influence line.
    s, u = np.meshgrid(grid, grid, indexing="ij")
    influence = np.where(s < u, s * (CHORD - u), u * (CHORD - s)) / CHORD
    prior = Q * influence @ influence.T * step
    at = [int(round(station / step)) for station, _ in READ]
    inner = prior[np.ix_(at, at)] + SD**2 * np.eye(len(at))
    gain = prior[:, at] @ np.linalg.inv(inner)
    mean = gain @ np.array([offset for _, offset in READ])
    spread = np.sqrt(np.maximum(np.diag(prior - gain @ prior[at, :]), 0))
    band = _band()
    for i in range(0, len(grid), 37):
        assert band.mean(float(grid[i])) == pytest.approx(mean[i], abs=2e-3)
        assert band.sd(float(grid[i])) == pytest.approx(spread[i], abs=2e-3)


def test_band_closes_at_the_corners_and_opens_between_readings() -> None:
    """A corner is exact in its own wall's frame; half-way between two readings less is known than at them."""
    band = _band()
    assert band.half_width(0.0) == pytest.approx(0, abs=1e-6)
    assert band.half_width(CHORD) == pytest.approx(0, abs=1e-6)
    for (a, _), (b, _) in pairwise(READ):
        assert band.sd((a + b) / 2) > max(band.sd(a), band.sd(b))


def test_row_of_readings_has_the_stated_spread_half_way() -> None:
    """0.01093·q·h³, found independently: numpy, long row of exact readings of a doubly summed walk."""
    h, spans = 400.0, 15
    at = h * np.arange(1, spans + 1)

    def walk(s: Any, t: Any) -> Any:
        low, high = np.minimum.outer(s, t), np.maximum.outer(s, t)
        return low**2 * (3 * high - low) / 6 + 1e5 * np.outer(s, t)  # free slope at the start

    half = np.array([h * (spans // 2 + 0.5)])
    cross = walk(half, at)
    left = walk(half, half) - cross @ np.linalg.solve(walk(at, at), cross.T)
    assert half_way_sd(h, Q, 1e-4) == pytest.approx(float(np.sqrt(Q * left[0, 0])), rel=1e-3)
    assert half_way_sd(h, Q, 1e-4) == pytest.approx((0.01093 * Q * h**3) ** 0.5, rel=1e-3)


@settings(deadline=None)
@given(st.floats(1.0, 5))
def test_suggested_spacing_keeps_the_wanted_accuracy(accuracy: float) -> None:
    """Read at the suggested spacing, the band half-way is what was asked for, within a twentieth."""
    spacing = spacing_for(accuracy, Q, SD)
    assert spacing is not None
    count = readings_for(20 * spacing, spacing)
    assert count == 19
    readings = tuple((spacing * k, 0.0) for k in range(1, 20))
    chord = 20 * spacing
    band = wall_band(wall_curve("smooth", chord, readings), wall_stretches(chord, readings, (), SD), Q)
    assert BAND * band.sd(9.5 * spacing) == pytest.approx(accuracy, rel=0.05)


def test_gauge_too_coarse_for_the_wish_is_said() -> None:
    """No spacing gives ± 0.5 mm with a gauge of 1 mm."""
    assert spacing_for(0.5, Q, 1.0) is None


def test_next_reading_is_where_the_band_is_widest_and_gains_what_it_says() -> None:
    """After reading there, the band at that station is what was foretold, whatever the value read."""
    band = _band()
    told = read_next(band, SD)
    assert told.now == pytest.approx(max(half for _, _, half in band.drawn()), abs=0.05)
    assert told.station % 10 == 0
    again = _band(tuple(sorted((*READ, (told.station, band.mean(told.station))))))
    assert BAND * again.sd(told.station) == pytest.approx(told.then)
    assert told.gain == pytest.approx(told.now - told.then)


def test_unread_wall_asks_to_be_read_in_its_middle() -> None:
    """Nothing known between the corners: the middle tells most."""
    assert read_next(_band(()), SD).station == pytest.approx(CHORD / 2, abs=10)


def test_break_lets_go_of_the_neighbour() -> None:
    """A reading before a step says nothing of the wall after it."""
    step = ((1000.0, 0.0), (1000.0, 300.0), (3000.0, 300.0), (3000.0, 0.0))
    one = _band(tuple(sorted((*step, (500.0, 2.0)), key=lambda r: r[0])), (1000.0, 3000.0))
    other = _band(tuple(sorted((*step, (500.0, 9.0)), key=lambda r: r[0])), (1000.0, 3000.0))
    assert one.mean(2000.0) == other.mean(2000.0)
    assert one.sd(2000.0) == other.sd(2000.0)


def test_roughness_follows_the_walls_and_keeps_its_floor() -> None:
    """Straight walls end at the floor, jagged ones well above it."""
    straight = wall_stretches(CHORD, tuple((400.0 * k, 0.0) for k in range(1, 10)), (), SD)
    jagged = wall_stretches(CHORD, tuple((400.0 * k, 12.0 * (-1) ** k) for k in range(1, 10)), (), SD)
    assert LEAST_ROUGHNESS <= room_roughness(straight) < 2 * LEAST_ROUGHNESS
    assert room_roughness(jagged) > 100 * LEAST_ROUGHNESS
    assert LADDER[0] == LEAST_ROUGHNESS


def test_reading_that_jumps_is_asked_about() -> None:
    """12 mm away from the curve so far: keep or read again? A reading that goes with the others passes."""
    band = _band()
    asked = question(band, 1800.0, band.mean(1800.0) + 12.0, SD, "room.walls[0]", "A–B")
    assert asked is not None
    assert "12 mm away" in asked.sentence
    assert question(band, 1800.0, band.mean(1800.0) + 1.0, SD, "room.walls[0]", "A–B") is None


def test_check_reading_outside_the_band_says_so() -> None:
    """The sentence names how far off it is and how wide the band was."""
    band = _band()
    found = check_finding(band, 1800.0, band.curve.offset(1800.0) - 6.0, SD, "room.walls[0].checks[0]", "A–B")
    assert found is not None
    assert "6.0 mm off" in found.sentence
    assert check_finding(band, 1800.0, band.curve.offset(1800.0) + 0.5, SD, "", "A–B") is None


@pytest.mark.parametrize("wrong", range(9))
def test_wrong_reading_is_found_among_good_ones(wrong: int) -> None:
    """15 mm on any one of nine readings of a bowed wall: that one stands out, by about 15 mm."""
    readings = tuple(
        (400.0 * k, 18 * 4 * (k / 10) * (1 - k / 10) + (15.0 if k - 1 == wrong else 0.0))
        for k in range(1, 10)
    )
    found = most_likely_wrong(check_offsets(wall_stretches(CHORD, readings, (), SD)))
    assert found is not None
    assert found.station == 400.0 * (wrong + 1)
    assert found.away == pytest.approx(15, abs=2)


def test_good_readings_are_left_in_peace() -> None:
    """A plain bow read exactly has no suspect."""
    readings = tuple((400.0 * k, 18 * 4 * (k / 10) * (1 - k / 10)) for k in range(1, 10))
    assert most_likely_wrong(check_offsets(wall_stretches(CHORD, readings, (), SD))) is None

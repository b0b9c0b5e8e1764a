"""The corridor of one cut where nothing binds it on one side."""

import pytest

from engine.cutting.corridor import Corridor, Strip

CURVE = ((300.0, 0.0), (300.0, 90.0))


@pytest.mark.parametrize(
    ("keep", "fall", "places"),
    [
        (((298.0, 0.0), (298.0, 90.0)), (), (298.0, 300.0)),
        ((), ((302.0, 0.0), (302.0, 90.0)), (300.0, 302.0)),
        ((), (), (300.0, 300.0)),
    ],
)
def test_on_a_side_where_nothing_binds_a_cut_stays_at_the_nominal_curve(
    keep: tuple[tuple[float, float], ...],
    fall: tuple[tuple[float, float], ...],
    places: tuple[float, float],
) -> None:
    """As where the whole board keeps the gap: else its stop could stand at any distance."""
    corridor = Corridor.of(Strip(nominal=CURVE, keep=keep, fall=fall))
    cuts = corridor.outermost(0.0, 0.0, 0.5)
    assert sorted(cut.at[0] for cut in cuts) == pytest.approx(places)

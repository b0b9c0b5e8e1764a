"""Times of marks against Python's own calendar, which the engine may not use."""

from datetime import UTC, datetime, timedelta, timezone
from random import Random

import pytest

from engine.wire.iso_time import seconds_of


def test_times_lie_as_far_apart_as_in_pythons_calendar() -> None:
    """datetime.fromisoformat over 500 seeded times of two centuries, leap days among them, in any zone."""
    first = datetime(1990, 2, 28, 23, 59, tzinfo=UTC)
    start = seconds_of(first.isoformat())
    assert start is not None
    for seed in range(500):
        rng = Random(seed)
        zone = timezone(timedelta(minutes=rng.choice([0, 60, -210, 345])))
        then = first.astimezone(zone) + timedelta(seconds=rng.uniform(-5e9, 5e9))
        text = then.isoformat(timespec="milliseconds")
        found = seconds_of(text)
        assert found is not None
        assert found - start == pytest.approx(
            (datetime.fromisoformat(text) - first).total_seconds(), abs=1e-3
        )


@pytest.mark.parametrize(
    "text",
    ["2024-02-29T12:00:00Z", "2024-02-29T12:00:00.000Z", "2024-02-29 12:00", "2024-02-29T13:00:00+01:00"],
)
def test_a_time_may_be_written_in_several_ways(text: str) -> None:
    """As pages write it, without seconds, or in another zone."""
    assert seconds_of(text) == seconds_of("2024-02-29T12:00:00Z")


@pytest.mark.parametrize(
    "text",
    [
        "",
        "soon",
        "2026-13-01T00:00:00Z",
        "2026-01-32T00:00:00Z",
        "2026-01-01",
        "2026-01-01T25:00:00Z",
        "2026-01-01T00:60Z",
    ],
)
def test_what_is_no_time_is_none(text: str) -> None:
    """Nothing is guessed."""
    assert seconds_of(text) is None

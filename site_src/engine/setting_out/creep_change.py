"""Did the creep change on the way? Two pieces against one, by an F-test.

Joints open when another hand lays, a new pack is wider or narrower, the wedges
are left out: one creep for the whole floor would then forecast half of it.
"""

from collections.abc import Iterator, Sequence
from dataclasses import replace

from engine.geometry.drift import WAYS, CreepChange, Drift, Way
from engine.geometry.frame import Frame
from engine.setting_out.confidence import by_chance
from engine.setting_out.laid_equations import Adjusted, LaidDistance, adjusted

# A change is told only when chance alone would show one like it in fewer than 1 floor of 100.
TOLD = 0.01
# It takes so many boards on either side, in places at least so far apart (mm), and readings to spare.
BOARDS, APART = 3, 100.0
SPARE = 3
# Where along the readings it is looked for, as parts of the way from the first to the last; then nearer.
LOOKED, NEARER = (0.3, 0.5, 0.7), 4
# Before it is fitted that place is known to this part of the same way, one standard deviation.
PLACED, PLACE = 0.25, "where the creep changed"

Distances = Sequence[LaidDistance]


def changed_creep(
    distances: Distances, sound: Distances, found: Adjusted, usual: Sequence[float]
) -> Adjusted | None:
    """The readings fitted with a change of the creep; None where nothing speaks for one.

    ``found`` is their fit without, with the weights ``usual``. ``sound`` are the readings that no slip is
    suspected in: a change must show in those alone too.
    """
    best = _best(distances, found.drift, usual, found.squares)
    if best is None:
        return None
    if len(sound) < len(distances):
        without = adjusted(sound, replace(found.drift, change=None), usual)
        if _best(sound, found.drift, usual, without.squares) is None:
            return None
    return _nearer(distances, best, usual)


def _best(distances: Distances, drift: Drift, usual: Sequence[float], squares: float) -> Adjusted | None:
    """The fit with the likeliest change, if any is more than chance: each place tried is a chance more."""
    tried = [_with(distances, drift, change, usual) for change in _places(distances, drift)]
    if not tried:
        return None
    best = min(tried, key=lambda fit: fit.squares)
    freedom = len(distances) - len(drift.values) - 1
    each = best.squares / freedom
    gain = (squares - best.squares) / each if each > 0 else float("inf")
    chance = by_chance(max(gain, 0.0) ** 0.5, freedom)
    return best if chance * len(tried) < TOLD else None


def _places(distances: Distances, drift: Drift) -> Iterator[CreepChange]:
    """Where a change can be looked for: with boards enough read on either side."""
    if len(distances) < len(drift.values) + 1 + SPARE:
        return
    for way in WAYS:
        stations = _stations(distances, drift, way)
        for part in LOOKED:
            at = stations[0] + part * (stations[-1] - stations[0])
            if (
                min(_apart([s for s in stations if s < at]), _apart([s for s in stations if s > at]))
                >= BOARDS
            ):
                yield CreepChange(way=way, at=at)


def _stations(distances: Distances, drift: Drift, way: Way) -> list[float]:
    """How far along or across the rows each board that was read lies from the drift's middle, sorted."""
    return sorted(_station(reading, drift, way) for reading in distances)


def _station(reading: LaidDistance, drift: Drift, way: Way) -> float:
    planned = Frame(drift.about[0], drift.about[1], drift.axis)
    return planned.to_board(reading.middle)[WAYS.index(way)]


def _apart(stations: Sequence[float]) -> int:
    """How many of them are at least ``APART`` from the one before."""
    count, last = 0, float("-inf")
    for station in stations:
        if station - last >= APART:
            count, last = count + 1, station
    return count


def _nearer(distances: Distances, best: Adjusted, usual: Sequence[float]) -> Adjusted:
    """The same change where it fits best."""
    change = best.drift.change
    assert change is not None
    stations = _stations(distances, best.drift, change.way)
    reach = stations[-1] - stations[0]
    places = (
        change.at + reach * step * (LOOKED[1] - LOOKED[0]) / NEARER for step in range(-NEARER, NEARER + 1)
    )
    enough = [
        replace(change, at=at)
        for at in places
        if min(_apart([s for s in stations if s < at]), _apart([s for s in stations if s > at])) >= BOARDS
    ]
    tried = (_with(distances, best.drift, each, usual) for each in enough)
    return _placed(distances, min((best, *tried), key=lambda fit: fit.squares), PLACED * reach, usual)


def _placed(distances: Distances, best: Adjusted, sd: float, usual: Sequence[float]) -> Adjusted:
    """The same with the doubt about where the creep changed in all bounds: an unknown more, of that sd in mm."""
    drift, change = best.drift, best.drift.change
    assert change is not None
    shared = [
        replace(reading, shared=(*reading.shared, (PLACE, -change.by * sd * row[len(usual)] / beyond)))
        if (beyond := _station(reading, drift, change.way) - change.at) > 0
        else reading
        for reading, row in zip(distances, best.rows, strict=True)
    ]
    found = adjusted(shared, drift, [*usual, 0.0])
    assert found.drift.change is not None
    at = change.at + sd * found.off[PLACE]
    return replace(found, drift=replace(found.drift, change=replace(found.drift.change, at=at)))


def _with(distances: Distances, drift: Drift, change: CreepChange, usual: Sequence[float]) -> Adjusted:
    start = replace(drift, change=change)
    return adjusted(distances, start, [*usual, 0.0])

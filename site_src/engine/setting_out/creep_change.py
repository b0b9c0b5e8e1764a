"""Did the creep change on the way? Two pieces against one, by an F-test.

Joints open when another hand lays, a new pack is wider or narrower, the wedges
are left out: one creep for the whole floor would then forecast half of it.
"""

from collections.abc import Iterator, Sequence

from msgspec.structs import replace

from engine.geometry.drift import WAYS, CreepChange, Drift, Way
from engine.geometry.frame import Frame
from engine.setting_out.confidence import by_chance
from engine.setting_out.laid_equations import Adjusted, LaidDistance, adjusted, changing

# A change is told only when chance alone would show one like it in fewer than 1 floor of 100.
TOLD = 0.01
# It takes so many boards on either side, in places at least so far apart (mm), and readings to spare.
BOARDS, APART = 3, 100.0
SPARE = 3
# Where along the readings it is looked for, as parts of the way from the first to the last; then nearer.
LOOKED, NEARER = (0.3, 0.5, 0.7), 4
# Before it is fitted that place is known to this part of the same way, one standard deviation.
PLACED, PLACE = 0.25, "where the creep changed"
# No reading scatters less, mm: what it says beyond that is arithmetic, and would tell a change of nothing.
FINEST = 0.05
# What a change would change, if less than this part of it is not what shift, turn and creep change too.
NOTHING = 1e-6

Distances = Sequence[LaidDistance]


def changed_creep(
    distances: Distances, sound: Distances, found: Adjusted, usual: Sequence[float]
) -> Adjusted | None:
    """The readings fitted with a change of the creep; None where nothing speaks for one.

    ``found`` is their fit without, with the weights ``usual``. ``sound`` are the readings that no slip is
    suspected in: a change must show in those alone too.
    """
    change = _told(distances, found)
    if change is None:
        return None
    if len(sound) < len(distances) and _told(sound, adjusted(sound, found.drift, usual)) is None:
        return None
    change = max(_nearer(distances, found, change), key=lambda each: _gain(distances, found, each))
    return _placed(distances, replace(found.drift, change=change), usual)


def _told(distances: Distances, found: Adjusted) -> CreepChange | None:
    """The likeliest change, if it is more than chance: each place tried is a chance more."""
    tried = [(_gain(distances, found, change), change) for change in _places(distances, found.drift)]
    if not tried:
        return None
    gain, best = max(tried, key=lambda pair: pair[0])
    freedom = len(distances) - len(found.drift.values) - 1
    finest = sum((FINEST / reading.sd) ** 2 for reading in distances) / len(distances)
    each = max((found.squares - gain) / freedom, finest)
    return best if by_chance((gain / each) ** 0.5, freedom) * len(tried) < TOLD else None


def _gain(distances: Distances, found: Adjusted, change: CreepChange) -> float:
    """By how much a change lowers the weighted squares: the equations are all but straight."""
    drift = replace(found.drift, change=replace(change, by=0.0))
    column = [changing(reading, drift)[1][-1] for reading in distances]
    weighted = [part / reading.sd**2 for part, reading in zip(column, distances, strict=True)]
    pull = sum(part * miss for part, miss in zip(weighted, found.misses, strict=True))
    size = range(len(found.covariance))
    shares = [sum(part * row[k] for part, row in zip(weighted, found.rows, strict=True)) for k in size]
    own = sum(part * slope for part, slope in zip(weighted, column, strict=True))
    left = own - sum(shares[i] * shares[j] * found.covariance[i][j] for i in size for j in size)
    return pull**2 / left if left > NOTHING * own else 0.0


def _places(distances: Distances, drift: Drift) -> Iterator[CreepChange]:
    """Where a change can be looked for: with boards enough read on either side."""
    if len(distances) < len(drift.values) + 1 + SPARE:
        return
    for way in WAYS:
        stations = _stations(distances, drift, way)
        for part in LOOKED:
            at = stations[0] + part * (stations[-1] - stations[0])
            if _is_enough(stations, at):
                yield CreepChange(way=way, at=at)


def _stations(distances: Distances, drift: Drift, way: Way) -> list[float]:
    """How far along or across the rows each board that was read lies from the drift's middle, sorted."""
    return sorted(_station(reading, drift, way) for reading in distances)


def _station(reading: LaidDistance, drift: Drift, way: Way) -> float:
    planned = Frame(drift.about[0], drift.about[1], drift.axis)
    return planned.to_board(reading.middle)[WAYS.index(way)]


def _is_enough(stations: Sequence[float], at: float) -> bool:
    """Were enough boards read on either side?"""
    sides = ([s for s in stations if s < at], [s for s in stations if s > at])
    return min(map(_apart, sides)) >= BOARDS


def _apart(stations: Sequence[float]) -> int:
    """How many of them are at least ``APART`` from the one before."""
    count, last = 0, float("-inf")
    for station in stations:
        if station - last >= APART:
            count, last = count + 1, station
    return count


def _nearer(distances: Distances, found: Adjusted, change: CreepChange) -> Iterator[CreepChange]:
    """The same change, and its like a little before and after."""
    stations = _stations(distances, found.drift, change.way)
    step = (stations[-1] - stations[0]) * (LOOKED[1] - LOOKED[0]) / NEARER
    for count in range(-NEARER, NEARER + 1):
        if _is_enough(stations, change.at + count * step):
            yield replace(change, at=change.at + count * step)


def _placed(distances: Distances, drift: Drift, usual: Sequence[float]) -> Adjusted:
    """Fitted with the change of ``drift``; the doubt about where it begins is in all bounds."""
    held = [*usual, 0.0]
    best = adjusted(distances, drift, held)
    change = best.drift.change
    assert change is not None
    stations = _stations(distances, drift, change.way)
    sd = PLACED * (stations[-1] - stations[0])
    shared = [
        replace(reading, shared=(*reading.shared, (PLACE, -change.by * sd * row[len(usual)] / beyond)))
        if (beyond := _station(reading, drift, change.way) - change.at) > 0
        else reading
        for reading, row in zip(distances, best.rows, strict=True)
    ]
    found = adjusted(shared, best.drift, held)
    assert found.drift.change is not None
    at = change.at + sd * found.off[PLACE]
    return replace(found, drift=replace(found.drift, change=replace(found.drift.change, at=at)))

"""Smooth, straight or arc: which shape a wall's readings speak for, and why."""

from collections.abc import Sequence

from msgspec import Struct

from engine.model.job import CurveKind, Pair
from engine.survey.arcs import Arc, best_sagitta
from engine.survey.curves import shape_keeping_curve, wall_curve
from engine.units import number_text

# Residuals under this many standard deviations are gauge noise.
NOISE = 2.0

# An arc has one unknown; fewer readings than this fit any arc.
LEAST_FOR_ARC = 3

# So many readings are needed before one left out can speak for a shape.
LEAST_FOR_CHAIN = 4

# A kink shows at the readings on both its sides; a chain may miss these two and must gain as many.
AT_KINKS = 2

# A reading off by more than this many standard deviations is off.
OFF = 3.0


class Proposal(Struct, frozen=True, kw_only=True):
    """A shape and its reason; ``swing`` is (station, mm) where a smooth curve leaves the readings' shape."""

    kind: CurveKind
    reason: str
    swing: Pair | None = None


def propose_shape(
    chord: float, readings: Sequence[Pair], sd: float, breaks: Sequence[float] = ()
) -> Proposal:
    """The likeliest shape of a wall. ``sd`` is the standard deviation of an offset in mm."""
    if breaks:
        return Proposal(kind="smooth", reason="The wall is broken: each part is smooth by itself.")
    if not readings:
        return Proposal(kind="straight", reason="Not read yet: taken as straight from corner to corner.")
    greatest = max(abs(offset) for _, offset in readings)
    if greatest <= NOISE * sd:
        reason = f"No reading is farther than {number_text(greatest, 1)} mm from the straight line."
        return Proposal(kind="straight", reason=reason)
    return _arc(chord, readings, sd) or _chain(chord, readings, sd) or _smooth(chord, readings, sd)


def _arc(chord: float, readings: Sequence[Pair], sd: float) -> Proposal | None:
    if len(readings) < LEAST_FOR_ARC:
        return None
    arc = Arc(chord, best_sagitta(chord, readings))
    miss = max(abs(arc.offset(station) - offset) for station, offset in readings)
    if miss > NOISE * sd:
        return None
    radius = number_text(abs(arc.radius) / 1000, 1)
    reason = f"An arc of {radius} m radius fits all readings within {number_text(miss, 1)} mm."
    return Proposal(kind="arc", reason=reason)


def _chain(chord: float, readings: Sequence[Pair], sd: float) -> Proposal | None:
    if len(readings) < LEAST_FOR_CHAIN:
        return None
    chain, smooth = _missed(chord, readings, "straight", sd), _missed(chord, readings, "smooth", sd)
    if chain > AT_KINKS or smooth < chain + AT_KINKS:
        return None
    reason = (
        f"Left out one by one, {len(readings) - chain} of {len(readings)} readings lie on straight pieces "
        f"between their neighbours, and only {len(readings) - smooth} on a smooth curve."
    )
    return Proposal(kind="straight", reason=reason)


def _missed(chord: float, readings: Sequence[Pair], kind: CurveKind, sd: float) -> int:
    """How many readings lie off the curve through the others by more than gauge noise explains."""
    missed = 0
    for i, (station, offset) in enumerate(readings):
        curve = wall_curve(kind, chord, (*readings[:i], *readings[i + 1 :]))
        missed += abs(curve.offset(station) - offset) > OFF * sd
    return missed


def _smooth(chord: float, readings: Sequence[Pair], sd: float) -> Proposal:
    swing = greatest_swing(chord, readings)
    if abs(swing[1]) <= NOISE * sd:
        return Proposal(kind="smooth", reason="The readings change gently from station to station.")
    reason = (
        f"The wall bends, and a smooth curve swings {number_text(abs(swing[1]), 1)} mm past its readings "
        f"near station {number_text(swing[0], 0)} mm: read there, or mark a break if it kinks."
    )
    return Proposal(kind="smooth", reason=reason, swing=swing)


def greatest_swing(chord: float, readings: Sequence[Pair]) -> Pair:
    """(station, mm) where the smooth curve is farthest from the one that keeps the readings' shape."""
    smooth, keeping = wall_curve("smooth", chord, readings), shape_keeping_curve(chord, readings)
    stations = [chord * k / 200 for k in range(1, 200)]
    return max(
        ((station, smooth.offset(station) - keeping.offset(station)) for station in stations),
        key=lambda point: abs(point[1]),
    )

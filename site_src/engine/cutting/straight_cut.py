"""The straight cut that keeps the gap inside its band and lies nearest to the nominal gap.

This is one piece's own choice; which of its cuts it gets in the end is decided
for all pieces together, so that the saw is set as seldom as can be.
"""

from math import floor

from engine.cutting.corridor import Corridor, CutLine, Strip

# Kept back from the band so that rounding never shows a gap outside it, mm: as walls are sampled. Every
# hundredth more costs now and then one more setting of the saw.
BAND_MARGIN = 0.002
# Beyond this no mitre saw swings; such a cut is marked and sawn along the line, degrees.
SAW_REACH = 75.0


def best_cut(strip: Strip, saw_step: float) -> CutLine | None:
    """The cut nearest to the nominal curve that the saw can be set to; None where none holds the band.

    With ``saw_step`` in degrees above 0 the angle is a multiple of it where one
    holds the band; where none does, the angle is the best one and ``is_set`` false.
    """
    bounds = Corridor.of(strip)
    slope = bounds.best_slope()
    if slope is None:
        return None
    settable = _settable_slopes(bounds, slope, saw_step)
    held = [other for other in settable if bounds.holds(other)]
    if not settable or not held:
        return bounds.line(slope, is_set=not settable)
    return bounds.line(min(held, key=bounds.departure), is_set=True)


def _settable_slopes(bounds: Corridor, slope: float, saw_step: float) -> tuple[float, ...]:
    """The slopes of the saw's settings just below and just above; none when any angle can be set."""
    angle = bounds.angle_of(slope)
    if saw_step <= 0 or abs(angle) > SAW_REACH:
        return ()
    below = floor(angle / saw_step) * saw_step
    return bounds.slope_of(below), bounds.slope_of(below + saw_step)

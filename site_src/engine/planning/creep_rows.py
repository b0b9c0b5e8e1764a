"""What the pattern gains with each row, where its front row lies now, and where the last will lie.

Row r lies at y_r = y_0 + r (W + δ): what is gained is δ, and what will be read
at the last row lies within the band of a prediction.
"""

from collections.abc import Sequence

from msgspec import Struct

from engine.geometry.drift import WAYS, Way
from engine.geometry.frame import Frame, cos_sin
from engine.geometry.shapes import Point
from engine.planning.proposals import Steps
from engine.setting_out.as_laid import NAMES, LaidFit

# Nearer than this to the middle of all readings a front row heads neither way, mm.
MIDDLE = 1.0


class RowCreep(Struct, frozen=True, kw_only=True):
    """The pattern along its rows, board by board, or across them, row by row. All in mm, bounds at 95 %.

    It gains ``gain`` ± ``bound`` with each ``step``; ``before`` is what it gained until that changed, None
    where it did not. The front row, that of the board read last, lies ``front`` on from its plan, the last
    row will lie ``last`` on, ``left`` steps later. On means away from where the laying began.
    """

    way: Way
    step: float
    is_known: bool
    gain: float
    bound: float
    before: float | None
    front: float
    front_bound: float
    left: int
    last: float
    last_bound: float


def creep_rows(fit: LaidFit, steps: Steps, at: Point, floor: Sequence[Point]) -> tuple[RowCreep, RowCreep]:
    """``at`` is the middle of the board read last, as planned; ``floor`` are the points of the lay area."""
    return _rows(fit, "along", steps.along, at, floor), _rows(fit, "across", steps.across, at, floor)


def _rows(fit: LaidFit, way: Way, step: float, at: Point, floor: Sequence[Point]) -> RowCreep:
    drift, index = fit.drift, WAYS.index(way)
    frame = Frame(drift.about[0], drift.about[1], drift.axis)
    own = frame.to_board(at)
    ends = [frame.to_board(point)[index] for point in floor]
    heading = _heading(own[index], min(ends), max(ends))
    end = (max(ends) if heading > 0 else min(ends)) - heading * step / 2
    last = frame.to_room((end, own[1]) if way == "along" else (own[0], end))
    x, y = cos_sin(drift.axis + 90 * index)
    on = heading * x, heading * y
    change = drift.change if drift.change and drift.change.way == way else None
    beyond = change is not None and own[index] > change.at
    parts = [0.0] * len(drift.values)
    parts[3 + index], parts[5:] = 1.0, [float(beyond)] * len(parts[5:])
    other = drift.creep(way) + (0.0 if beyond or change is None else change.by)
    return RowCreep(
        way=way,
        step=step,
        is_known=NAMES[3 + index] in fit.known,
        gain=drift.creep_at(at)[index] * step,
        bound=fit.bound_of(parts) * step,
        before=other * step if change else None,
        front=fit.offset(at, on),
        front_bound=fit.offset_bound(at, on),
        left=max(round(heading * (end - own[index]) / step), 0),
        last=fit.offset(last, on),
        last_bound=fit.reading_bound(last, on),
    )


def _heading(station: float, least: float, most: float) -> float:
    """Which way the laying heads: from the middle of the readings to the last, else the longer way."""
    if abs(station) > MIDDLE:
        return 1.0 if station > 0 else -1.0
    return 1.0 if most - station >= station - least else -1.0

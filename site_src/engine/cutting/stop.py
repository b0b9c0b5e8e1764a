"""Where a stop stands on the saw for one piece: long point against the fence, factory end at the stop."""

from collections.abc import Callable
from dataclasses import replace
from math import ceil, floor

from engine.cutting.corridor import CutLine
from engine.cutting.fewest import Range
from engine.cutting.gap_field import BoardGapField
from engine.cutting.sawn_piece import PlannedPiece
from engine.cutting.treatment import LeaveWhole, StraightCuts
from engine.geometry.board import BoardSize
from engine.geometry.shapes import Point

# How far a wall may lie from where the survey has it, in mm, at a point of a board's frame.
DoubtAt = Callable[[BoardGapField, Point], float]

# What a stop is set to by the tape, mm.
TAPE = 0.5
# The share of the band, at its middle, that may be used where the survey's doubt would take all of it.
SHARE = 0.5
# A stop nearer to either end of the board than this is none, mm.
LEAST = 1.0


def stop_range(planned: PlannedPiece, line: CutLine, doubt_at: DoubtAt) -> Range | None:
    """From where to where the stop may stand (mm from the blade at the fence) for a cut of this angle.

    What the survey does not know of the wall is left of the band, so that a piece need not be measured
    at the wall for the sake of the stop. None for a piece that is sawn twice, or whose end leans, and
    where the long point is none of its own.
    """
    sawn = [each for each in planned.treatments if each is not None and not isinstance(each, LeaveWhole)]
    if planned.size.lean or len(sawn) > 1 or not isinstance(sawn[0], StraightCuts) or len(sawn[0].lines) > 1:
        return None
    corridor = line.corridor
    assert corridor is not None
    nominal = next(run.points for run in planned.runs if run.is_cut)
    doubt = max(doubt_at(planned.field, point) for point in (nominal[0], nominal[-1]))
    held = corridor.outermost(corridor.slope_of(line.angle), doubt, SHARE)
    least, most = sorted(long_point(planned.size, each) for each in held)
    if least < LEAST or most > planned.size.length - LEAST:
        return None
    return least, most


def long_point(size: BoardSize, line: CutLine) -> float:
    """The greater of the two lengths of long edge that a cut leaves, from the end that stays (mm)."""
    along = line.at[0] + (_fence(size, line) - line.at[1]) * line.direction[0] / line.direction[1]
    return along if line.keeps_start else size.length - along


def _fence(size: BoardSize, line: CutLine) -> float:
    """Which long edge stays longer, by its place across the board."""
    return 0.0 if line.angle >= 0 else size.width


def preferred_stop(places: Range) -> float:
    """The place to set the stop to: near the middle of the range, as a tape is read if it can be."""
    middle = (places[0] + places[1]) / 2
    readable = floor(middle / TAPE + 0.5) * TAPE
    if not places[0] <= readable <= places[1]:
        readable = ceil(places[0] / TAPE) * TAPE
    return readable if readable <= places[1] else middle


def with_stop(size: BoardSize, line: CutLine, stop: float) -> CutLine:
    """The cut moved along the board until its long point is so long."""
    corridor = line.corridor
    assert corridor is not None
    point = (stop if line.keeps_start else size.length - stop, _fence(size, line))
    return replace(corridor.through(point, corridor.slope_of(line.angle)), is_set=line.is_set)

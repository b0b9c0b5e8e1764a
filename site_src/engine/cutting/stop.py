"""Where a stop stands on the saw for one cut: an edge of the board at the fence, an end of it at the stop."""

from collections.abc import Callable, Iterator
from math import ceil, floor

from msgspec.structs import replace

from engine.cutting.at_fence import AtFence, FenceEdge, at_fence, is_stop
from engine.cutting.corridor import Corridor, CutLine
from engine.cutting.fewest import Range
from engine.cutting.gap_field import BoardGapField
from engine.cutting.sawn_piece import PlannedPiece
from engine.cutting.treatment import LeaveWhole
from engine.geometry.shapes import Point

# How far a wall may lie from where the survey has it, in mm, at a point of a board's frame.
DoubtAt = Callable[[BoardGapField, Point], float]

# What a stop is set to by the tape, mm.
TAPE = 0.5
# The share of the band, at its middle, that may be used where the survey's doubt would take all of it.
SHARE = 0.5


def lies_for(
    planned: PlannedPiece, line: CutLine, *, is_face_up: bool, edge: FenceEdge | None = None
) -> AtFence:
    """How the board of a piece lies at the fence for a cut; ``edge`` as in ``at_fence``."""
    return at_fence(planned.size, line.angle, keeps_start=line.keeps_start, is_face_up=is_face_up, edge=edge)


def stop_range(planned: PlannedPiece, line: CutLine, lies: AtFence, doubt_at: DoubtAt) -> Range | None:
    """From where to where the stop may stand (mm from the blade along the fence) for a cut of this angle.

    What the survey does not know of the wall is left of the band, so that a piece need not be measured
    at the wall for the sake of the stop. None where the corner that meets the stop is none of the piece's.
    """
    if not lies.protrudes or not lies.has_corner(_kept(planned)):
        return None
    corridor = _corridor(line)
    doubt = max(doubt_at(planned.field, point) for point in corridor.ends)
    held = corridor.outermost(corridor.slope_of(line.angle), doubt, SHARE)
    least, most = sorted(lies.stop(each.at, each.direction) for each in held)
    return (least, most) if is_stop(least) else None


def _kept(planned: PlannedPiece) -> Iterator[Point]:
    """The corners of the piece as it will be, those of the board that are left whole among them."""
    yield from planned.nominal[0]
    for run, treatment in zip(planned.runs, planned.treatments, strict=True):
        if isinstance(treatment, LeaveWhole):
            yield from planned.size.walk(run.points[0], run.points[-1])


def _corridor(line: CutLine) -> Corridor:
    assert line.corridor is not None
    return line.corridor


def preferred_stop(places: Range) -> float:
    """The place to set the stop to: near the middle of the range, as a tape is read if it can be."""
    middle = (places[0] + places[1]) / 2
    readable = floor(middle / TAPE + 0.5) * TAPE
    if not places[0] <= readable <= places[1]:
        readable = ceil(places[0] / TAPE) * TAPE
    return readable if readable <= places[1] else middle


def with_stop(line: CutLine, lies: AtFence, stop: float) -> CutLine:
    """The cut moved along the board until the stop stands so far off the blade."""
    corridor = _corridor(line)
    moved = corridor.through(lies.point(stop), corridor.slope_of(line.angle))
    return replace(moved, is_set=line.is_set)

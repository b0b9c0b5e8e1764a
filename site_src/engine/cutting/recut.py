"""One piece cut to other lengths than worked out: somebody has measured at the wall what it needs.

Where one straight cut runs across the board, its two lengths say all of it: the
saw angle is worked out anew. Any other cut keeps its plan, and only the lengths
are those measured.
"""

from math import cos, radians, tan

from msgspec import Struct
from msgspec.structs import replace

from engine.cutting.corridor import saw_angle
from engine.cutting.cuts import SQUARE, Cut, Kind
from engine.cutting.saw_angles import Saw
from engine.cutting.saw_error import off_by
from engine.cutting.sawn_piece import SawnPiece
from engine.cutting.straight_cut import BAND_MARGIN
from engine.geometry.board import BoardSize
from engine.geometry.hull import convex_hull, least_width
from engine.geometry.shapes import Point, Ring


class Recut(Struct, frozen=True, kw_only=True):
    """The piece as it is cut now. Lengths in mm.

    ``follows``: the two lengths say the whole cut, and outline and angle follow
    them. It has no gaps: these lengths were measured at a wall that the survey
    has otherwise. ``off``: what either length comes off by because the saw has steps.
    """

    sawn: SawnPiece
    follows: bool
    off: float = 0.0


def is_cut_across(sawn: SawnPiece) -> bool:
    """Is it one straight cut from long edge to long edge, so that two lengths say all of it?"""
    return len(sawn.cuts) == 1 and sawn.cuts[0].kind in ("crosscut", "mitre")


def recut(sawn: SawnPiece, size: BoardSize, left: float, right: float, saw: Saw) -> Recut:
    """The piece with these lengths of its long edges, each above 0 and no longer than the board.

    The angle is the nearest that the saw can be set to where that moves no end of the cut by more than the
    gap's tolerance at the wall leaves beside the saw's own error.
    """
    if not is_cut_across(sawn):
        return Recut(sawn=replace(sawn, left=left, right=right, gaps=()), follows=False)
    line = cut_line(sawn, size, left, right)
    (ax, ay), (bx, by) = line
    wanted = saw_angle((bx - ax, by - ay))
    keeps_start = by > ay
    turn = saw.nearest(saw.turned(wanted, keeps_start))
    step = saw.turned(turn, keeps_start)
    off = size.width / 2 * abs(tan(radians(step)) - tan(radians(wanted)))
    open_to = sawn.cuts[0].barrier.leeway.less - BAND_MARGIN - off_by(line, size, saw.error)
    is_set = off * cos(radians(wanted)) <= max(0.0, open_to) and saw.makes(turn, size.width)
    angle = step if is_set else wanted
    cut = replace(sawn.cuts[0], kind=_kind(angle), points=line, angle=angle, is_set=is_set)
    return Recut(sawn=_sawn(sawn, size, cut, left, right), follows=True, off=off if is_set else 0.0)


def _kind(angle: float) -> Kind:
    return "crosscut" if abs(angle) < SQUARE else "mitre"


def cut_line(sawn: SawnPiece, size: BoardSize, left: float, right: float) -> tuple[Point, Point]:
    """The cut from long edge to long edge in the board's frame, the piece on its left."""
    start_right, far_right, far_left, start_left = size.ring
    if sawn.kept_end == "far":
        return ((far_left[0] - left, size.width), (far_right[0] - right, 0.0))
    return ((start_right[0] + right, 0.0), (start_left[0] + left, size.width))


def _sawn(sawn: SawnPiece, size: BoardSize, cut: Cut, left: float, right: float) -> SawnPiece:
    ring = _ring(sawn, size, cut.points)
    return replace(
        sawn,
        outline=(ring,),
        kind=cut.kind,
        cuts=(cut,),
        left=left,
        right=right,
        saw_angle=cut.angle,
        least_width=least_width(convex_hull(ring)),
        gaps=(),
    )


def _ring(sawn: SawnPiece, size: BoardSize, line: tuple[Point, ...]) -> Ring:
    """What stays of the board; a cut through its corner gives no point twice."""
    start_right, far_right, far_left, start_left = size.ring
    end = (far_right, far_left) if sawn.kept_end == "far" else (start_left, start_right)
    return tuple(dict.fromkeys((*end, *line)))

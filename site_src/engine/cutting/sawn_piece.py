"""One piece as the saw leaves it: its outline, its cuts, its kind and the gaps that come of it."""

from collections.abc import Iterator, Sequence
from typing import Literal

from msgspec import Struct

from engine.cutting.board_edges import Run, runs_of
from engine.cutting.cuts import Cut, Kind, cuts_of, most_laborious
from engine.cutting.gap_field import BoardGapField, Gap, edge_samples
from engine.cutting.half_plane import cut_off
from engine.cutting.rim_between import pass_each_other
from engine.cutting.straight_lines import Treatments, at_middle, moved_in_band
from engine.cutting.treatment import (
    AsMarked,
    LeaveWhole,
    Notch,
    Sawing,
    StraightCuts,
    Treatment,
    treat,
    treat_closed,
)
from engine.geometry.board import BoardSize, side_lengths
from engine.geometry.canonical import turned, without_flat_corners
from engine.geometry.hull import convex_hull, least_width
from engine.geometry.shapes import Point, Polygon, Ring, signed_area

KeptEnd = Literal["start", "far", "both", "neither"]


class SawnPiece(Struct, frozen=True, kw_only=True):
    """What one piece becomes. Rings are in the board's frame, lengths in mm."""

    outline: Polygon
    kind: Kind
    cuts: tuple[Cut, ...]
    left: float
    right: float
    saw_angle: float
    kept_end: KeptEnd
    least_width: float
    gaps: tuple[Gap, ...]

    @property
    def gap_least(self) -> float | None:
        """The least gap in mm, at its cuts or at an edge left within a gap band; None without either."""
        return min((gap.distance for gap in self.gaps), default=None)

    @property
    def gap_most(self) -> float | None:
        """The greatest gap in mm, as ``gap_least``."""
        return max((gap.distance for gap in self.gaps), default=None)

    @property
    def is_inside_band(self) -> bool:
        """Is every gap inside its band?"""
        return all(gap.is_inside_band for gap in self.gaps)


class PlannedPiece(Struct, frozen=True, kw_only=True):
    """One nominal piece (board's frame, holes allowed) and how each run of its rim is to be treated."""

    nominal: Polygon
    size: BoardSize
    field: BoardGapField
    runs: tuple[Run, ...]
    treatments: Treatments


def plan_cuts(
    nominal: Polygon, size: BoardSize, field: BoardGapField, saw_step: float, saw_error: float = 0.0
) -> PlannedPiece:
    """How one nominal piece is best sawn by itself. ``saw_error`` in degrees is left of the band."""
    sawing = Sawing(
        size=size,
        leeway_at=lambda point: field.at(point).barrier.leeway,
        saw_step=saw_step,
        saw_error=saw_error,
    )
    runs = runs_of(nominal[0], size)
    treatments = tuple(_treatment(run, runs, sawing) for run in runs)
    return PlannedPiece(nominal=nominal, size=size, field=field, runs=runs, treatments=treatments)


def saw_piece(
    planned: PlannedPiece, wanted: Treatments, *, may_move: bool = True
) -> tuple[SawnPiece, Treatments]:
    """Saw one piece so that its gaps stay inside their bands, and say how its runs were treated.

    ``wanted`` is tried before its own plan, its cuts elsewhere in their bands too if they ``may_move``.
    Where straight cuts do not hold the band after all, the cut at fault is sawn as marked, at the nominal
    gap; where none is at fault alone, all are.
    """
    for treatments in _attempts(planned, wanted, may_move):
        piece = _assemble(planned.nominal, planned.size, planned.field, planned.runs, treatments)
        if piece is not None and piece.is_inside_band:
            break
    assert piece is not None
    return piece, treatments


def _attempts(planned: PlannedPiece, wanted: Treatments, may_move: bool) -> Iterator[Treatments]:
    """All cuts as wanted, at those angles elsewhere, as planned, then one or all as marked.

    The last is sound for sure.
    """
    runs = planned.runs
    marked = tuple(AsMarked(run.points, is_round=False) if run.is_cut else None for run in runs)
    yield wanted
    yield from at_same_angles(wanted, may_move)
    if wanted != planned.treatments:
        yield planned.treatments
    if sum(run.is_cut for run in runs) > 1:
        for i, run in enumerate(runs):
            if run.is_cut:
                yield (*wanted[:i], marked[i], *wanted[i + 1 :])
    yield marked


def at_same_angles(wanted: Treatments, may_move: bool) -> Iterator[Treatments]:
    """The cuts nearest to their nominal gaps, then moved through their bands if they may be."""
    yield at_middle(wanted)
    if may_move:
        yield from moved_in_band(wanted)


def is_held(planned: PlannedPiece, treatments: Treatments) -> bool:
    """Are all gaps inside their bands when its runs are treated so?"""
    piece = _assemble(planned.nominal, planned.size, planned.field, planned.runs, treatments)
    return piece is not None and piece.is_inside_band


def _treatment(run: Run, runs: Sequence[Run], sawing: Sawing) -> Treatment | None:
    if not run.is_cut:
        return None
    if run.is_closed:
        return treat_closed(run, sawing)
    rim = [point for other in runs if not other.is_cut for point in other.points]
    return treat(run, rim, sawing)


def _assemble(
    nominal: Polygon,
    size: BoardSize,
    field: BoardGapField,
    runs: Sequence[Run],
    treatments: Sequence[Treatment | None],
) -> SawnPiece | None:
    """The piece that comes of treating each run so; None when nothing sound is left."""
    if pass_each_other(runs, treatments):
        return None
    ring = _ring(size, runs, treatments)
    for treatment in treatments:
        for line in treatment.lines if isinstance(treatment, StraightCuts) else ():
            ring = cut_off(ring, line)
    ring = tuple(without_flat_corners(ring))
    if len(ring) < 3 or signed_area(ring) <= 0:
        return None
    # A leaning board has two corners alike: noise in the last digit must not choose where its ring begins.
    outline = (turned(ring), *nominal[1:])
    cuts = tuple(cuts_of(outline, size, treatments, field))
    lines = [*(cut.points for cut in cuts), *_left_whole(size, runs, treatments)]
    gaps = tuple(field.at(point) for line in lines for point in edge_samples(line))
    return _piece(outline, size, cuts, gaps)


def _ring(size: BoardSize, runs: Sequence[Run], treatments: Sequence[Treatment | None]) -> Ring:
    """The nominal ring with each run replaced, the board's own rim where straight cuts follow."""
    points: list[Point] = []
    for run, treatment in zip(runs, treatments, strict=True):
        match treatment:
            case None:
                points += run.points[:-1]
            case AsMarked() | Notch():
                points += treatment.points
            case LeaveWhole() | StraightCuts():
                if run.is_closed:
                    return size.ring
                points += (run.points[0], *size.walk(run.points[0], run.points[-1]))
    return tuple(point for i, point in enumerate(points) if not _is_same(point, points[i - 1]))


def _is_same(a: Point, b: Point) -> bool:
    return abs(a[0] - b[0]) < 1e-6 and abs(a[1] - b[1]) < 1e-6


def _left_whole(
    size: BoardSize, runs: Sequence[Run], treatments: Sequence[Treatment | None]
) -> Iterator[tuple[Point, ...]]:
    """The rim that was left although the nominal curve takes it: a gap is measured there too."""
    for run, treatment in zip(runs, treatments, strict=True):
        if isinstance(treatment, LeaveWhole):
            yield (run.points[0], *size.walk(run.points[0], run.points[-1]), run.points[-1])


def _piece(outline: Polygon, size: BoardSize, cuts: tuple[Cut, ...], gaps: tuple[Gap, ...]) -> SawnPiece:
    lengths = side_lengths(outline[0], size)
    hardest = most_laborious(cuts)
    turned = most_laborious([cut for cut in cuts if len(cut.points) == 2])
    return SawnPiece(
        outline=outline,
        kind=hardest.kind if hardest else "whole",
        cuts=cuts,
        left=lengths["left"],
        right=lengths["right"],
        saw_angle=turned.angle if turned else 0.0,
        kept_end=_kept_end(lengths["start"], lengths["far"]),
        least_width=least_width(convex_hull(outline[0])),
        gaps=gaps,
    )


def _kept_end(start: float, far: float) -> KeptEnd:
    if start > 0 and far > 0:
        return "both"
    return "start" if start > 0 else "far" if far > 0 else "neither"

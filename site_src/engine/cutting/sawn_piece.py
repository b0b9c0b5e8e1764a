"""One piece as the saw leaves it: its outline, its cuts, its kind and the gaps that come of it."""

from collections.abc import Iterator, Sequence
from dataclasses import dataclass
from itertools import pairwise
from math import ceil, hypot
from typing import Literal

from engine.cutting.board_edges import BoardSize, Run, Side, runs_of, side_lengths
from engine.cutting.gap_field import BoardGapField, Gap
from engine.cutting.half_plane import cut_off
from engine.cutting.straight_cut import saw_angle
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
from engine.geometry.canonical import without_flat_corners
from engine.geometry.hull import convex_hull, least_width
from engine.geometry.shapes import Point, Polygon, Ring, signed_area

Kind = Literal["whole", "crosscut", "mitre", "corner", "rip", "taper", "notch", "hole", "scribe"]
KeptEnd = Literal["start", "far", "both", "neither"]

# The kinds from plain to laborious: a piece bears the name of its most laborious cut.
KINDS: tuple[Kind, ...] = ("whole", "crosscut", "mitre", "corner", "rip", "taper", "notch", "scribe", "hole")
# Nearer to square, or to parallel with the long edges, than this needs no angle set, degrees.
SQUARE = 0.25
# Gaps are measured at least this often along a cut, mm.
GAP_EVERY = 10.0


@dataclass(frozen=True, kw_only=True, slots=True)
class Cut:
    """One cut of a piece in the board's frame, the piece on its left. ``angle`` as ``saw_angle``."""

    kind: Kind
    points: tuple[Point, ...]
    angle: float
    is_set: bool
    barrier: str


@dataclass(frozen=True, kw_only=True, slots=True)
class SawnPiece:
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
        """The least gap along its cuts in mm, None for a piece without a cut."""
        return min((gap.distance for gap in self.gaps), default=None)

    @property
    def gap_most(self) -> float | None:
        """The greatest gap along its cuts in mm, None for a piece without a cut."""
        return max((gap.distance for gap in self.gaps), default=None)

    @property
    def is_inside_band(self) -> bool:
        """Is every gap inside its band?"""
        return all(gap.is_inside_band for gap in self.gaps)


def saw_piece(nominal: Polygon, size: BoardSize, field: BoardGapField, saw_step: float) -> SawnPiece:
    """Saw one nominal piece (board's frame, holes allowed) so that its gaps stay inside their bands.

    Where straight cuts do not hold the band after all, the piece is sawn as marked, at the nominal gap.
    """
    sawing = Sawing(
        size=size, tolerance_at=lambda point: field.at(point).barrier.tolerance, saw_step=saw_step
    )
    runs = runs_of(nominal[0], size)
    treatments = [_treatment(run, runs, sawing) for run in runs]
    piece = _assemble(nominal, size, field, runs, treatments)
    if piece is None or not piece.is_inside_band:
        marked = [AsMarked(run.points, False) if run.is_cut else None for run in runs]
        piece = _assemble(nominal, size, field, runs, marked)
        assert piece is not None
    return piece


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
    ring = _ring(size, runs, treatments)
    for treatment in treatments:
        if isinstance(treatment, StraightCuts):
            for line in treatment.lines:
                ring = cut_off(ring, line)
    ring = tuple(without_flat_corners(ring))
    if len(ring) < 3 or signed_area(ring) <= 0:
        return None
    outline = (ring, *nominal[1:])
    cuts = tuple(_cuts(outline, size, field, treatments))
    return _piece(outline, size, cuts, tuple(_gaps(outline, size, field, runs, treatments)))


def _ring(size: BoardSize, runs: Sequence[Run], treatments: Sequence[Treatment | None]) -> Ring:
    """The nominal ring with each run replaced, the board's own rim where straight cuts follow."""
    points: list[Point] = []
    for run, treatment in zip(runs, treatments, strict=True):
        match treatment:
            case None:
                points += run.points[:-1]
            case AsMarked(curve, _) | Notch(curve, _):
                points += curve
            case LeaveWhole() | StraightCuts():
                if run.is_closed:
                    return size.ring
                points += (run.points[0], *size.walk(run.points[0], run.points[-1]))
    return tuple(point for i, point in enumerate(points) if not _is_same(point, points[i - 1]))


def _is_same(a: Point, b: Point) -> bool:
    return abs(a[0] - b[0]) < 1e-6 and abs(a[1] - b[1]) < 1e-6


def _cuts(
    outline: Polygon, size: BoardSize, field: BoardGapField, treatments: Sequence[Treatment | None]
) -> Iterator[Cut]:
    """Every cut to be read off the finished outline."""
    unset = [
        line.angle
        for treatment in treatments
        if isinstance(treatment, StraightCuts)
        for line in treatment.lines
        if not line.is_set
    ]
    curves = [treatment for treatment in treatments if isinstance(treatment, AsMarked | Notch)]
    for run in runs_of(outline[0], size):
        if run.is_cut:
            yield from _run_cuts(run, size, field, unset, curves)
    for hole in outline[1:]:
        yield _cut("hole", (*hole, hole[0]), field, is_set=True)


def _run_cuts(
    run: Run,
    size: BoardSize,
    field: BoardGapField,
    unset: Sequence[float],
    curves: Sequence[AsMarked | Notch],
) -> Iterator[Cut]:
    curve = next((curve for curve in curves if _shares_inner_points(run, curve.points)), None)
    if isinstance(curve, Notch):
        yield _cut("notch", run.points, field, is_set=curve.is_set)
    elif isinstance(curve, AsMarked):
        yield _cut("notch" if curve.is_round else "scribe", run.points, field, is_set=True)
    elif len(run.edges) > 1:
        for edge in run.edges:
            yield _cut("corner", edge, field, is_set=saw_angle(_direction(edge)) not in unset)
    else:
        angle = saw_angle(_direction(run.points))
        is_set = all(abs(angle - other) > 1e-6 for other in unset)
        yield _cut(_straight_kind(run, size, angle), run.points, field, is_set=is_set)


def _shares_inner_points(run: Run, curve: Sequence[Point]) -> bool:
    """Does a run of the finished outline follow this curve?"""
    inner = set(curve)
    return sum(point in inner for point in run.points) >= 2


def _cut(kind: Kind, points: Sequence[Point], field: BoardGapField, is_set: bool) -> Cut:
    middle = points[len(points) // 2] if len(points) > 2 else _middle(points[0], points[1])
    return Cut(
        kind=kind,
        points=tuple(points),
        angle=saw_angle(_direction(points)),
        is_set=is_set,
        barrier=field.at(middle).barrier.name,
    )


def _direction(points: Sequence[Point]) -> Point:
    return (points[-1][0] - points[0][0], points[-1][1] - points[0][1])


def _middle(a: Point, b: Point) -> Point:
    return ((a[0] + b[0]) / 2, (a[1] + b[1]) / 2)


def _straight_kind(run: Run, size: BoardSize, angle: float) -> Kind:
    """The kind of one straight cut, by the sides of the board between which it runs."""
    sides = {_cut_end(run.points[0], size), _cut_end(run.points[-1], size)}
    if sides == {"left", "right"}:
        return "crosscut" if abs(angle) < SQUARE else "mitre"
    if sides == {"start", "far"}:
        return "rip" if abs(abs(angle) - 90) < SQUARE else "taper"
    return "corner" if len(sides) == 2 else "notch"


def _cut_end(point: Point, size: BoardSize) -> Side | None:
    """The side on which a cut ends; at a corner of the board the long edge, where the lengths are read."""
    if abs(point[1]) < 0.01:
        return "right"
    if abs(point[1] - size.width) < 0.01:
        return "left"
    return size.side_of(point)


def _gaps(
    outline: Polygon,
    size: BoardSize,
    field: BoardGapField,
    runs: Sequence[Run],
    treatments: Sequence[Treatment | None],
) -> Iterator[Gap]:
    """The gaps along every cut, and along rim that was left although the nominal curve takes it."""
    for run in runs_of(outline[0], size):
        if run.is_cut:
            yield from (field.at(point) for point in edge_samples(run.points))
    for hole in outline[1:]:
        yield from (field.at(point) for point in edge_samples((*hole, hole[0])))
    for run, treatment in zip(runs, treatments, strict=True):
        if isinstance(treatment, LeaveWhole):
            ends = (run.points[0], *size.walk(run.points[0], run.points[-1]), run.points[-1])
            yield from (field.at(point) for point in edge_samples(ends))


def edge_samples(points: Sequence[Point]) -> Iterator[Point]:
    """Points along a line, its corners among them, at most ``GAP_EVERY`` apart."""
    for (ax, ay), (bx, by) in pairwise(points):
        steps = max(1, ceil(hypot(bx - ax, by - ay) / GAP_EVERY))
        for step in range(steps):
            part = step / steps
            yield (ax + part * (bx - ax), ay + part * (by - ay))
    yield points[-1]


def _piece(outline: Polygon, size: BoardSize, cuts: tuple[Cut, ...], gaps: tuple[Gap, ...]) -> SawnPiece:
    lengths = side_lengths(outline[0], size)
    main = max(cuts, key=lambda cut: (KINDS.index(cut.kind), abs(cut.angle)), default=None)
    straight = [cut for cut in cuts if len(cut.points) == 2]
    angled = max(straight, key=lambda cut: (KINDS.index(cut.kind), abs(cut.angle)), default=None)
    return SawnPiece(
        outline=outline,
        kind=main.kind if main else "whole",
        cuts=cuts,
        left=lengths["left"],
        right=lengths["right"],
        saw_angle=angled.angle if angled else 0.0,
        kept_end=_kept_end(lengths["start"], lengths["far"]),
        least_width=least_width(convex_hull(outline[0])),
        gaps=gaps,
    )


def _kept_end(start: float, far: float) -> KeptEnd:
    if start > 0 and far > 0:
        return "both"
    return "start" if start > 0 else "far" if far > 0 else "neither"

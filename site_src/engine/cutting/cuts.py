"""The cuts of a sawn outline: where each runs, what kind it is, and whether the saw can be set for it."""

from collections.abc import Iterator, Sequence
from itertools import pairwise
from typing import Literal

from msgspec import Struct

from engine.cutting.board_edges import Run, runs_of
from engine.cutting.corridor import CutLine, saw_angle
from engine.cutting.gap_field import BoardGapField
from engine.cutting.treatment import AsMarked, Notch, StraightCuts, Treatment
from engine.geometry.barrier import Barrier
from engine.geometry.board import BoardSize, Side
from engine.geometry.shapes import Point, Polygon

Kind = Literal["whole", "crosscut", "mitre", "corner", "rip", "taper", "notch", "hole", "scribe"]

# The kinds from plain to laborious: a piece bears the name of its most laborious cut.
KINDS: tuple[Kind, ...] = ("whole", "crosscut", "mitre", "corner", "rip", "taper", "notch", "scribe", "hole")
# Nearer to square, or to parallel with the long edges, than this needs no angle set, degrees.
SQUARE = 0.25
# An edge of the outline this near to a cut was made by it, and ends this near to a long edge end on it, mm.
ON_LINE = 0.01


class Cut(Struct, frozen=True, kw_only=True):
    """One cut of a piece in the board's frame, the piece on its left, and the ``barrier`` it is made for.

    ``angle`` as ``saw_angle``; ``is_set`` tells whether the saw can be set to it.
    ``drilled`` are the round things that a notch or a hole goes round: two
    pipes may stand so near that their holes are one. ``is_drilled_only``: it
    goes round nothing else.
    """

    kind: Kind
    points: tuple[Point, ...]
    angle: float
    is_set: bool
    barrier: Barrier
    drilled: tuple[Barrier, ...]
    is_drilled_only: bool


def most_laborious(cuts: Sequence[Cut]) -> Cut | None:
    """The cut that names a piece: of two of one kind the one that is farther from square."""
    return max(cuts, key=lambda cut: (KINDS.index(cut.kind), abs(cut.angle)), default=None)


def cuts_of(
    outline: Polygon, size: BoardSize, treatments: Sequence[Treatment | None], field: BoardGapField
) -> Iterator[Cut]:
    """Every cut, read off the finished outline (board's frame), by what was done with each run of it."""
    curves = [treatment for treatment in treatments if isinstance(treatment, AsMarked | Notch)]
    lines = [
        line for treatment in treatments if isinstance(treatment, StraightCuts) for line in treatment.lines
    ]
    for run in runs_of(outline[0], size):
        curve = next((curve for curve in curves if _follows(run, curve.points)), None)
        if run.is_cut and curve is not None:
            yield _curve_cut(run, curve, field)
        elif run.is_cut:
            yield from _straight_cuts(run, size, lines, field)
    for hole in outline[1:]:
        yield _cut("hole", (*hole, hole[0]), True, field)


def _follows(run: Run, curve: Sequence[Point]) -> bool:
    """Does a run of the finished outline go along this curve? Two points in common are no chance."""
    return len(set(curve).intersection(run.points)) >= 2


def _curve_cut(run: Run, curve: AsMarked | Notch, field: BoardGapField) -> Cut:
    if isinstance(curve, Notch):
        return _cut("notch", run.points, curve.is_set, field)
    return _cut("notch" if curve.is_round else "scribe", run.points, True, field)


def _straight_cuts(
    run: Run, size: BoardSize, lines: Sequence[CutLine], field: BoardGapField
) -> Iterator[Cut]:
    for edge in run.edges:
        kind = "corner" if len(run.edges) > 1 else _straight_kind(run, size)
        yield _cut(kind, edge, all(line.is_set for line in lines if _made(line, edge)), field)


def _made(line: CutLine, edge: Sequence[Point]) -> bool:
    return all(abs(line.side(point)) < ON_LINE for point in edge)


def _straight_kind(run: Run, size: BoardSize) -> Kind:
    """The kind of one straight cut, by the sides of the board between which it runs."""
    angle = abs(saw_angle(_direction(run.points)))
    sides = {_side_at(run.points[0], size), _side_at(run.points[-1], size)}
    if sides == {"left", "right"}:
        return "crosscut" if angle < SQUARE else "mitre"
    if sides == {"start", "far"}:
        return "rip" if 90 - angle < SQUARE else "taper"
    return "corner" if len(sides) == 2 else "notch"


def _side_at(point: Point, size: BoardSize) -> Side | None:
    """The side on which a cut ends; at a corner of the board the long edge, where the lengths are read."""
    if abs(point[1]) < ON_LINE:
        return "right"
    if abs(point[1] - size.width) < ON_LINE:
        return "left"
    return size.side_of(point)


def _cut(kind: Kind, points: Sequence[Point], is_set: bool, field: BoardGapField) -> Cut:
    things = _things(points, field) if kind in ("hole", "notch") else ()
    drilled = tuple(thing for thing in things if thing.radius is not None)
    return Cut(
        kind=kind,
        points=tuple(points),
        angle=saw_angle(_direction(points)),
        is_set=is_set,
        barrier=field.at(_middle(points)).barrier,
        drilled=drilled,
        is_drilled_only=bool(drilled) and drilled == things,
    )


def _things(points: Sequence[Point], field: BoardGapField) -> tuple[Barrier, ...]:
    """What a cut goes along, each once, in the order in which it meets it."""
    middles = (_middle(edge) for edge in pairwise(points))
    met = {(found.path, found.name): found for found in (field.at(middle).barrier for middle in middles)}
    return tuple(met.values())


def _direction(points: Sequence[Point]) -> Point:
    return (points[-1][0] - points[0][0], points[-1][1] - points[0][1])


def _middle(points: Sequence[Point]) -> Point:
    """A point of the cut well away from both its ends."""
    if len(points) > 2:
        return points[len(points) // 2]
    (ax, ay), (bx, by) = points
    return ((ax + bx) / 2, (ay + by) / 2)

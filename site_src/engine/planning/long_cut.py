"""The long straight cut along one wall: where it runs on the laid floor and what it leaves.

Everything stays in the floor's own frame, the room as planned: where floor and
wall have drawn apart it is the wall that is moved, because the cut is struck on
the floor.
"""

from collections.abc import Iterator, Sequence
from itertools import chain

from msgspec import Struct

from engine.cutting.corridor import CutLine
from engine.cutting.long_cut import LongCutLine, long_cut_line, offset_at, part_between
from engine.cutting.long_marks import EdgeFit, fit_edge
from engine.errors import Finding
from engine.geometry.frame import Frame
from engine.geometry.shapes import Point, Region, Ring
from engine.model.job import CountFrom, Job, LongCut
from engine.planning.long_boards import BoardsAlong, CrossedBoard, LaidCorner, by_board
from engine.planning.pieces import Piece
from engine.survey.instruments import OFFSET_SD
from engine.survey.outline import Outline, WallLine
from engine.units import band_text, number_text

# A corner of the lay area this near to the gap line of a wall lies along it, mm.
ALONG = 0.5
# No laid floor lies this far from its plan; such a mark is a slip, mm (common practice, no source).
SLIP = 30.0


class LongCutPlan(Struct, frozen=True, kw_only=True):
    """One long cut. Without a ``fit``, before two marks are measured, wall and floor lie as planned.

    ``line`` and ``stations``, the marks', are in the wall's frame, ``cut``, ``guide``
    and ``edge`` in the room. ``at_marks`` is each mark's distance to the cut and to
    the guide in mm, square to them.
    """

    record: LongCut
    wall: WallLine
    gap: float
    tolerance: float
    depth: float | None
    kerf: float
    stations: tuple[float, ...]
    fit: EdgeFit | None
    line: LongCutLine
    cut: Ring
    guide: Ring | None
    edge: Ring
    at_marks: tuple[tuple[float, float | None], ...]
    boards: tuple[CrossedBoard, ...]
    corners: tuple[LaidCorner, ...]

    @property
    def filler(self) -> float | None:
        """What fills the seam in ml; None when its depth is not known."""
        if self.depth is None:
            return None
        return self.line.seam_area * self.depth / 1000

    @property
    def known_to(self) -> float | None:
        """How well the edge is known against the floor at the worse end of the cut, ± mm (95 %)."""
        fit = self.fit
        return None if fit is None else 2 * max(fit.sd_at(u) for u, _ in self.line.ends)


def long_cuts(
    job: Job, outline: Outline, lay_area: Region, pieces: Sequence[Piece], count_from: CountFrom
) -> tuple[LongCutPlan | None, ...]:
    """Each of the job's long cuts, in its order; None where it names no wall with floor along it."""
    walls = {(wall.from_, wall.to): wall for wall in outline.walls}
    named = ((cut, walls.get((cut.from_, cut.to))) for cut in job.long_cuts)
    return tuple(
        None if wall is None else _long_cut(cut, wall, job, lay_area, pieces, count_from)
        for cut, wall in named
    )


def _long_cut(
    cut: LongCut, wall: WallLine, job: Job, lay_area: Region, pieces: Sequence[Piece], count_from: CountFrom
) -> LongCutPlan | None:
    frame = Frame(wall.start[0], wall.start[1], wall.heading)
    edge = frame.ring_to_board(wall.points)
    reach = _reach(edge, wall, frame, lay_area)
    if reach is None:
        return None
    marks = frame.ring_to_board(mark.at for mark in cut.marks)
    fit = _fit(cut, wall, edge, marks)
    moved = [(u, v + (fit.moved(u) if fit else 0.0)) for u, v in edge]
    gap = wall.wall.gap if cut.gap is None else cut.gap
    line = long_cut_line(part_between(moved, *reach), gap)
    off = _guide_off(cut, job.cutting.kerf)
    along = BoardsAlong(
        line=line, frame=frame, floor=job.floor, count_from=count_from, pieces=by_board(pieces)
    )
    return LongCutPlan(
        record=cut,
        wall=wall,
        gap=gap,
        tolerance=job.cutting.gap_tolerance if wall.wall.tolerance is None else wall.wall.tolerance,
        depth=job.floor.board.thickness if cut.depth is None else cut.depth,
        kerf=job.cutting.kerf,
        stations=tuple(u for u, _ in marks),
        fit=fit,
        line=line,
        cut=frame.ring_to_room(line.ends),
        guide=None if off is None else frame.ring_to_room(line.moved_ends(off)),
        edge=frame.ring_to_room(line.edge),
        at_marks=tuple(_at_mark(mark, line.as_cut(), off) for mark in marks),
        boards=tuple(along.crossed(wall.name, cut.allowance, job.cutting.sliver)),
        corners=tuple(along.corners()),
    )


def _reach(
    edge: Sequence[Point], wall: WallLine, frame: Frame, lay_area: Region
) -> tuple[float, float] | None:
    """From which to which station of the wall there is floor along its gap line."""
    gap, chord = wall.wall.gap, wall.chord
    corners = (frame.to_board(point) for ring in chain.from_iterable(lay_area) for point in ring)
    near = [u for u, v in corners if 0 <= u <= chord and abs(v - offset_at(edge, u) - gap) <= ALONG]
    return (min(near), max(near)) if near and max(near) - min(near) > ALONG else None


def _fit(cut: LongCut, wall: WallLine, edge: Sequence[Point], marks: Sequence[Point]) -> EdgeFit | None:
    pairs = zip(marks, cut.marks, strict=True)
    moves = [v - mark.distance - offset_at(edge, u) for (u, v), mark in pairs]
    return fit_edge([u for u, _ in marks], moves, _mark_sd(wall))


def _mark_sd(wall: WallLine) -> float:
    """A rule read to half a millimetre, a joint that stands as far off, and the wall's own readings."""
    own = OFFSET_SD if wall.wall.offset_sd is None else wall.wall.offset_sd
    return float((2 * OFFSET_SD**2 + (own**2 if wall.wall.offsets else 0.0)) ** 0.5)


def _guide_off(cut: LongCut, kerf: float) -> float | None:
    """How far into the floor of the cut the guide's edge lies, mm; negative on the waste's side."""
    if cut.guide is None:
        return None
    # On the waste's side the blade itself lies between the plate's edge and the cut.
    return cut.guide if cut.guide_on == "floor" else -(cut.guide + kerf)


def _at_mark(mark: Point, cut: CutLine, off: float | None) -> tuple[float, float | None]:
    distance = cut.side(mark)
    return distance, None if off is None else distance - off


def long_cut_findings(job: Job, plans: Sequence[LongCutPlan | None]) -> Iterator[Finding]:
    """What is missing or doubtful about each long cut."""
    for number, (record, plan) in enumerate(zip(job.long_cuts, plans, strict=True)):
        path, name = f"long_cuts[{number}]", f"{record.from_}–{record.to}"
        if plan is None:
            yield Finding(
                path=path,
                code="long cut without a wall",
                level="warning",
                sentence=f"The long cut along {name}: there is no such wall with floor along it. "
                "Choose the wall again, or take the cut out.",
            )
        elif plan.fit is not None:
            yield from (
                *_slips(plan, plan.fit, path),
                *_doubted(plan, plan.fit, path),
                *_gaps(plan, path),
                *_held(plan, path),
            )


def _slips(plan: LongCutPlan, fit: EdgeFit, path: str) -> Iterator[Finding]:
    """Two marks alone cannot tell that both are wrong; the plan can, roughly."""
    moves = {number: fit.moved(station) for number, station in enumerate(plan.stations, 1)}
    number, move = max(moves.items(), key=lambda each: abs(each[1]))
    if abs(move) <= SLIP:
        return
    way = "nearer to the floor" if move > 0 else "farther from the floor"
    yield Finding(
        path=path,
        code="mark far from plan",
        level="warning",
        sentence=f"The long cut along {plan.wall.name}: at mark {number} the edge would lie "
        f"{number_text(abs(move), 0)} mm {way} than planned. Another corner may be meant: measure there "
        "again before you saw.",
    )


def _doubted(plan: LongCutPlan, fit: EdgeFit, path: str) -> Iterator[Finding]:
    names = [str(number) for number, mark in enumerate(fit.marks, 1) if mark.is_doubted]
    if not names:
        return
    off = max(abs(mark.off or 0.0) for mark in fit.marks if mark.is_doubted)
    what = f"mark {names[0]}" if len(names) == 1 else f"one of the marks {', '.join(names)}"
    yield Finding(
        path=path,
        code="mark does not fit",
        level="warning",
        sentence=f"The long cut along {plan.wall.name}: {what} does not go with the others, by up to "
        f"{number_text(off, 1)} mm. Measure there again before you saw: the line runs between them all.",
    )


def _gaps(plan: LongCutPlan, path: str) -> Iterator[Finding]:
    least, most = plan.line.narrowest[1], plan.line.widest[1]
    if least >= max(0.0, plan.gap - plan.tolerance) - 0.001 and most <= plan.gap + plan.tolerance + 0.001:
        return
    yield Finding(
        path=path,
        code="long cut outside band",
        level="warning",
        sentence=f"The long cut along {plan.wall.name} leaves a gap from {number_text(least, 1)} to "
        f"{number_text(most, 1)} mm instead of {band_text(plan.gap, plan.tolerance)} mm: "
        "the edge is too crooked for one straight cut. Cut the pieces one by one there.",
    )


def _held(plan: LongCutPlan, path: str) -> Iterator[Finding]:
    known = plan.known_to or 0.0
    if known > max(plan.tolerance, 2.0):
        yield Finding(
            path=path,
            code="marks too near each other",
            level="warning",
            sentence=f"At one end of the long cut along {plan.wall.name} the edge is known to "
            f"± {number_text(known, 1)} mm only. Measure one more mark near each end.",
        )

"""Is the floor still where it should be? What the readings say, what to do, and the list that follows."""

from collections.abc import Callable, Iterator, Mapping, Sequence

from msgspec import Struct
from msgspec.structs import replace

from engine.cutting.gap_field import GapField
from engine.errors import Finding
from engine.geometry.drift import Drift
from engine.geometry.shapes import Point
from engine.model.job import Job
from engine.model.laid import CreepChanged, FloorTaken, Laid
from engine.patterns.pattern import LaidBoard
from engine.planning.creep_rows import RowCreep, creep_rows
from engine.planning.floor_as_it_lies import board_of, middle_of, planned_boards
from engine.planning.floor_plan import FloorPlan, Report, plan_floor
from engine.planning.forecast import WallEnd, size_of, wall_ends
from engine.planning.held_pieces import HeldPiece, fits_at, held_pieces
from engine.planning.laid_readings import ReadOnFloor, read_on_floor
from engine.planning.line_names import read_to
from engine.planning.numbering import board_id
from engine.planning.pieces import Piece
from engine.planning.proposals import Proposal, Steps, pattern_steps, proposals
from engine.planning.taken_floor import drift_faults, pattern_text
from engine.setting_out.as_laid import LaidFit, fit_laid
from engine.units import number_text

# What to read next where the readings do not tell something yet.
_READ_NEXT = {
    "ahead": "how far the pattern lies along its rows: read a corner to what lies square to the row axis",
    "left": "how far it lies to either side: read a corner to what lies along the row axis",
    "turn": "how it is turned: read two corners far apart to one wall or line",
    "creep along": "its creep along the rows: read corners far apart along the row axis to what lies square "
    "to it",
    "creep across": "its creep from row to row: read corners in rows far apart to what lies along the axis",
}


class Foreseen(Struct, frozen=True, kw_only=True):
    """The floor cut as it lies, beside the plan that is followed now.

    ``changed`` of ``left`` pieces still to be fitted no longer keep their gap
    as now planned. ``taken`` is what to keep in the job to cut the rest so;
    ``joints`` (mm²) what open joints then take. ``sizes``: how large those
    pieces then are that become slivers, or may, mm.
    """

    ends: tuple[WallEnd, ...]
    left: int
    changed: int
    held: tuple[HeldPiece, ...]
    proposals: tuple[Proposal, ...]
    taken: FloorTaken
    joints: float
    sizes: dict[str, float]


class StayingTrue(Struct, frozen=True, kw_only=True):
    """``fit`` is None without a reading that can be used, ``foreseen`` where no floor can lie so.

    ``at`` is the middle of the board that was read last, as planned; ``creep`` is along and across the rows.
    """

    plan: FloorPlan
    steps: Steps
    readings: tuple[ReadOnFloor, ...]
    fit: LaidFit | None
    at: Point
    creep: tuple[RowCreep, ...]
    foreseen: Foreseen | None
    findings: tuple[Finding, ...]


def staying_true(job: Job, report: Report = lambda step, done: None) -> StayingTrue:
    """Raises Refused as ``plan_floor``."""
    plan = plan_floor(job, report)
    boards = _boards(plan)
    readings, findings = read_on_floor(plan, boards)
    fit = fit_laid([one.read for one in readings], job.floor.axis) if readings else None
    at = readings[-1].read.middle if readings else job.floor.anchor
    faults = drift_faults(fit.drift) if fit else ()
    steps = pattern_steps(job.floor)
    rim = [point for polygon in plan.room.lay_area for point in polygon[0]]
    creep = creep_rows(fit, steps, at, rim) if fit else ()
    laid = _laid(plan, boards, readings)
    foreseen = _foreseen(plan, fit, laid, boards, report) if fit and not faults else None
    return StayingTrue(
        plan=plan,
        steps=steps,
        creep=creep,
        readings=readings,
        fit=fit,
        at=at,
        foreseen=foreseen,
        findings=(
            *findings,
            *(_fit_findings(fit, readings) if fit else ()),
            *(
                [_cannot_lie(faults)]
                if faults
                else [_creep_finding(one) for one in creep if one.before is not None]
            ),
            *(_sliver_findings(foreseen, job.cutting.sliver) if foreseen else ()),
        ),
    )


def board_of_piece(plan: FloorPlan, piece: str) -> LaidBoard | None:
    """The board of a piece as set out."""
    return _boards(plan).get(board_of(piece))


def _boards(plan: FloorPlan) -> dict[str, LaidBoard]:
    """The boards as set out, by id."""
    drift = plan.as_it_lies.drift if plan.as_it_lies else None
    planned = planned_boards(plan.room.lay_area, plan.job.floor, drift)
    return {board_id(board, plan.count_from): board for board in planned}


def _laid(
    plan: FloorPlan, boards: Mapping[str, LaidBoard], readings: Sequence[ReadOnFloor]
) -> tuple[Point, ...]:
    """The middles of the boards that lie for certain, in the plan: those read, and those marked fitted."""
    fitted = (board_of(name) for name, done in plan.job.progress.items() if done.fitted)
    middles = [middle_of(boards[name]) for name in fitted if name in boards]
    return (*(one.read.middle for one in readings), *middles)


def _foreseen(
    plan: FloorPlan, fit: LaidFit, laid: Sequence[Point], boards: Mapping[str, LaidBoard], report: Report
) -> Foreseen:
    job, field = plan.job, GapField(plan.room.barriers)
    fitted = {name for name, done in job.progress.items() if done.fitted}
    taken = _taken(job, fit.drift, fitted)
    then = plan_floor(_with(job, taken), report)
    lying, lies = then.pieces, then.as_it_lies
    left = [piece for piece in plan.pieces if piece.id not in fitted]
    to_lay = [piece for piece in lying if piece.id not in fitted]
    walls, area = plan.room.outline.walls, plan.room.lay_area
    ends = wall_ends(fit, walls, left, to_lay, boards, area, job.cutting.sliver)
    small = {name for end in ends for name in (*end.slivers, *end.doubtful)}
    changed = _changed(left, lying, field)
    held = held_pieces(_cut(plan, fitted), lying, job.progress, field)
    width = job.floor.board.width
    return Foreseen(
        ends=ends,
        left=len(left),
        changed=changed,
        held=held,
        proposals=proposals(fit, ends, len(left), changed, pattern_steps(job.floor), laid, width),
        taken=replace(
            taken,
            keeps=tuple(sorted(fitted | {one.id for one in held if one.fate == "fits"})),
            spare={one.id: _use_of(one) for one in held if one.fate != "fits"},
        ),
        joints=lies.joints if lies else 0.0,
        sizes={piece.id: size_of(piece) for piece in to_lay if piece.id in small},
    )


def _use_of(held: HeldPiece) -> str:
    """Where a piece that fits no more can be used: cut again at its own place, if it is long enough."""
    return held.id if held.fate == "trim" else held.place


def _taken(job: Job, drift: Drift, fitted: set[str]) -> FloorTaken:
    change = drift.change
    return FloorTaken(
        anchor=job.floor.anchor,
        axis=job.floor.axis,
        pattern=pattern_text(job.floor),
        about=drift.about,
        ahead=drift.ahead,
        left=drift.left,
        turn=drift.turn,
        creep_along=drift.creep_along,
        creep_across=drift.creep_across,
        change=None if change is None else CreepChanged(way=change.way, at=change.at, by=change.by),
        keeps=tuple(sorted(fitted)),
    )


def _with(job: Job, taken: FloorTaken) -> Job:
    """The job with the floor taken once more."""
    laid = job.laid or Laid()
    return replace(job, laid=replace(laid, taken=(*laid.taken, taken)))


def _changed(left: Sequence[Piece], lying: Sequence[Piece], field: GapField) -> int:
    """How many pieces would leave their gap band, cut as now planned and laid where the floor lies."""
    now = {piece.id: piece for piece in lying}
    return sum(
        piece.id not in now or not fits_at(piece.sawn, now[piece.id].board, field)
        for piece in left
        if piece.sawn.cuts or (piece.id in now and now[piece.id].sawn.cuts)
    )


def _cut(plan: FloorPlan, fitted: set[str]) -> list[Piece]:
    """The pieces that are cut and not fitted, as they were cut."""
    cut = {name for name, done in plan.job.progress.items() if done.cut} - fitted
    measured = plan.measured
    return [
        measured[piece.id].piece if piece.id in measured else piece
        for piece in plan.pieces
        if piece.id in cut
    ]


def _fit_findings(fit: LaidFit, readings: Sequence[ReadOnFloor]) -> Iterator[Finding]:
    for one in readings:
        if one.reading.id in fit.doubted:
            yield Finding(
                path=f"laid.readings.{one.reading.id}",
                code="laid reading stands out",
                level="warning",
                sentence=f"{one.reading.piece} to {read_to(one.reading.to)}: "
                f"{number_text(one.read.distance, 1)} mm does not go with the other readings, by "
                f"{number_text(abs(fit.residuals[one.reading.id]), 1)} mm. Read it again.",
            )
    unknown = [words for name, words in _READ_NEXT.items() if name not in fit.known]
    for words in unknown:
        yield Finding(
            path="laid",
            code="not known yet",
            level="note",
            sentence=f"Not known yet is {words}. Until then the bounds are wider.",
        )


def _creep_finding(creep: RowCreep) -> Finding:
    unit = "board" if creep.way == "along" else "row"
    return Finding(
        path="laid",
        code="creep changed",
        level="warning",
        sentence=f"The creep {creep.way} the rows changed on the way: "
        f"{number_text(creep.before or 0.0, 2)} mm a {unit} at first, {number_text(creep.gain, 2)} mm now. "
        "What is to come is forecast from the later part. Look what changed: another pack, wedges left "
        "out, joints not driven home.",
    )


def _cannot_lie(faults: tuple[str, ...]) -> Finding:
    return Finding(
        path="laid",
        code="floor cannot lie so",
        level="warning",
        sentence=f"By these readings the floor would lie {' and '.join(faults)}, which no floor does. Look "
        "for a wrong corner or wall among them.",
    )


def _sliver_findings(foreseen: Foreseen, limit: float) -> Iterator[Finding]:
    """Before a small triangle becomes a sliver somebody has to know."""
    for along, one, more in (
        (_by_piece(foreseen.ends, lambda end: end.slivers), "becomes", "become"),
        (_by_piece(foreseen.ends, lambda end: end.doubtful), "may become", "may become"),
    ):
        if along:
            count = f"1 piece {one}" if len(along) == 1 else f"{len(along)} pieces {more}"
            walls = sorted({wall for walls in along.values() for wall in walls})
            sizes = [f"{name} {number_text(foreseen.sizes[name], 1)} mm" for name in along]
            yield Finding(
                path="laid",
                code="sliver ahead",
                level="warning",
                sentence=f"{count} too small along {' and '.join(walls)}: {_listed(sizes)}. The sliver limit "
                f"is {number_text(limit, 0)} mm. See what can be done before you lay on.",
            )


def _by_piece(
    ends: Sequence[WallEnd], names_of: Callable[[WallEnd], tuple[str, ...]]
) -> dict[str, list[str]]:
    """Piece → the walls that it lies along."""
    along: dict[str, list[str]] = {}
    for end in ends:
        for name in names_of(end):
            along.setdefault(name, []).append(end.wall)
    return along


def _listed(names: Sequence[str]) -> str:
    shown = ", ".join(names[:4])
    return shown if len(names) <= 4 else f"{shown} and {len(names) - 4} more"

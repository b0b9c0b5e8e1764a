"""The floor while it is laid, as the screen shows it: where it lies, where it ends, and what to do."""

from collections.abc import Collection, Sequence

from msgspec import to_builtins

from engine.planning.forecast import WallEnd
from engine.planning.held_pieces import Fate
from engine.planning.laid_readings import ReadOnFloor
from engine.planning.line_names import read_to
from engine.planning.staying_true import Foreseen, StayingTrue
from engine.planning.taken_floor import drift_of, spare_in_use, taken_findings, taken_in_use
from engine.setting_out.as_laid import LaidFit
from engine.units import number_text
from engine.wire.as_laid_figures import arrow, creep_rows_shown, now_figures, turn_figure, verdict, within
from engine.wire.drawings import Figure
from engine.wire.figures import Writer, figure, formulas_of, marked
from engine.wire.laid_drawings import HeldRow, LaidReadingRow, ProposalRow, WallEndRow
from engine.wire.replies import AsLaidReply

# A floor taken as it lies is taken anew when any of its values has moved by more than this.
MOVED = 1e-9

# What to do with pieces that are cut, those that still serve first.
_FATES: dict[Fate, str] = {
    "fits": "Still fit",
    "trim": "Cut again: long enough",
    "elsewhere": "Use elsewhere, and cut others",
    "again": "Cut others",
    "not needed": "No longer needed",
}


def as_laid_view(state: StayingTrue, writer: Writer) -> AsLaidReply:
    """All that the screen shows."""
    now, turn, ends = now_figures(state, writer), turn_figure(state, writer), end_rows(state, writer)
    readings, joints = reading_rows(state, writer), joints_figure(state, writer)
    creep, laid = creep_rows_shown(state, writer), state.plan.job.laid
    shown = [*now, *(one for one in (turn, joints) if one)]
    shown += [one for row in creep for one in (row.gain, row.front, row.last)]
    shown += [one for end in ends for one in (end.off, end.planned, end.now)]
    shown += [row.residual for row in readings]
    return AsLaidReply(
        at=state.readings[-1].reading.piece if state.readings else "",
        now=now,
        arrow=arrow(state),
        verdict=verdict(state),
        turn=turn,
        creep=creep,
        ends=ends,
        readings=readings,
        read_to={one.to: read_to(one.to) for one in laid.readings} if laid else {},
        proposals=proposal_rows(state, writer),
        held=held_rows(state),
        joints=joints,
        take=to_take(state),
        taken=taken_words(state),
        set_aside=" ".join(one.sentence for one in taken_findings(laid, state.plan.job.floor)),
        spare=spare_rows(state),
        formulas=formulas_of(shown),
        findings=marked(state.findings, writer),
    )


def end_rows(state: StayingTrue, writer: Writer) -> tuple[WallEndRow, ...]:
    """One row a wall, where the pattern will be off most first."""
    ends = state.foreseen.ends if state.foreseen else ()
    return tuple(_end_row(end, writer) for end in sorted(ends, key=lambda end: (-abs(end.off), end.wall)))


def _end_row(end: WallEnd, writer: Writer) -> WallEndRow:
    now, way = writer.length(end.now), "nearer" if end.off >= 0 else "farther"
    inside = ("within the bound", f"{writer.length(end.least)} to {writer.mm(end.most)}")
    pieces = ("pieces still to be fitted", str(end.pieces))
    return WallEndRow(
        wall=end.wall,
        off=figure(
            f"end {end.wall}",
            f"Will end {way} {'to' if way == 'nearer' else 'from'} {end.wall}",
            writer.length(abs(end.off)),
            within(end.bound, writer),
            "laid end",
            pieces,
        ),
        way=way,
        planned=figure(
            f"planned {end.wall}", "Smallest, planned", writer.length(end.planned), "mm", "laid size", pieces
        ),
        now=figure(f"smallest {end.wall}", "As it lies", now, "mm", "laid size", pieces, inside),
        warning=_warning(end),
    )


def _warning(end: WallEnd) -> str:
    """How many pieces are or may become too small."""
    words = []
    if end.slivers:
        words.append(f"{len(end.slivers)} become slivers" if len(end.slivers) > 1 else "1 becomes a sliver")
    if end.doubtful:
        words.append(f"{len(end.doubtful)} may become {'slivers' if len(end.doubtful) > 1 else 'a sliver'}")
    return ", ".join(words)


def reading_rows(state: StayingTrue, writer: Writer) -> tuple[LaidReadingRow, ...]:
    """Every reading that is used."""
    fit = state.fit
    return tuple(_reading_row(one, fit, writer) for one in state.readings) if fit else ()


def _reading_row(one: ReadOnFloor, fit: LaidFit, writer: Writer) -> LaidReadingRow:
    reading, name = one.reading, reading_name(one)
    sd = ("standard deviation", writer.mm(one.read.sd))
    return LaidReadingRow(
        id=reading.id,
        name=name,
        typed=f"{reading.typed} {reading.unit}",
        residual=figure(
            f"residual {reading.id}",
            "Off the others",
            writer.length(fit.residuals[reading.id]),
            "mm",
            "laid residual",
            ("read", f"{reading.typed} {reading.unit}"),
            ("from", name),
            ("planned, to the corner of the whole board", writer.mm(one.planned)),
            sd,
        ),
        is_doubted=reading.id in fit.doubted,
    )


def reading_name(one: ReadOnFloor) -> str:
    """The corner, and what it was read to."""
    reading = one.reading
    return f"{reading.piece} {reading.end} {reading.side}, to {read_to(reading.to)}"


def proposal_rows(state: StayingTrue, writer: Writer) -> tuple[ProposalRow, ...]:
    """What can be done, the one that is proposed first."""
    offered = state.foreseen.proposals if state.foreseen else ()
    return tuple(
        ProposalRow(
            kind=one.kind,
            title=one.title,
            sentence=writer.sentence(one.sentence),
            can=one.can,
            best=one.best,
        )
        for one in sorted(offered, key=lambda one: not one.best)
    )


def held_rows(state: StayingTrue) -> tuple[HeldRow, ...]:
    """The pieces that are cut, by what becomes of them."""
    held = state.foreseen.held if state.foreseen else ()
    return _by_fate([(one.fate, one.id, one.place) for one in held])


def _by_fate(pieces: Sequence[tuple[Fate, str, str]]) -> tuple[HeldRow, ...]:
    groups = [(fate, [(name, place) for f, name, place in pieces if f == fate]) for fate in _FATES]
    return tuple(
        HeldRow(
            fate=fate,
            words=_FATES[fate],
            count=str(len(here)),
            pieces=tuple(f"{name} as {place}" if place else name for name, place in here),
        )
        for fate, here in groups
        if here
    )


def joints_figure(state: StayingTrue, writer: Writer) -> Figure | None:
    """What open joints take."""
    if state.foreseen is None:
        return None
    joints = number_text(state.foreseen.joints / 100, 0, writer.mark)
    return figure("joints", "Open joints in all", joints, "cm²", "open joints")


def to_take(state: StayingTrue) -> dict[str, object] | None:
    """What to add to the job, unless the floor was taken like this already."""
    if state.foreseen is None or _is_taken(state, state.foreseen):
        return None
    taken: dict[str, object] = to_builtins(state.foreseen.taken)
    return taken


def _is_taken(state: StayingTrue, foreseen: Foreseen) -> bool:
    used = taken_in_use(state.plan.job.laid, state.plan.job.floor)
    if not used or foreseen.changed:
        return False
    last, now = drift_of(used[-1]), drift_of(foreseen.taken)
    if last.about != now.about or (last.change is None) != (now.change is None):
        return False
    return all(abs(one - other) <= MOVED for one, other in zip(last.values, now.values, strict=True))


def taken_words(state: StayingTrue) -> str:
    """That the pieces are cut from the floor as it lies."""
    used = taken_in_use(state.plan.job.laid, state.plan.job.floor)
    if not used:
        return ""
    kept = len(used[-1].keeps)
    stay = {0: "", 1: ", 1 stays as it was cut"}.get(kept, f", {kept} stay as they were cut")
    return (
        f"The pieces are cut from the floor as it lies{stay}. How far off it is still counts from the "
        "pattern as set out."
    )


def spare_rows(state: StayingTrue) -> tuple[HeldRow, ...]:
    """What was cut and no longer fitted its place when the floor was taken as it lies."""
    spare = sorted(spare_in_use(state.plan.job.laid, state.plan.job.floor).items())
    pieces = {piece.id for piece in state.plan.pieces}
    return _by_fate([_fate_of(name, place, pieces) for name, place in spare])


def _fate_of(name: str, place: str, pieces: Collection[str]) -> tuple[Fate, str, str]:
    """What becomes of a piece that was cut, as the job keeps it."""
    if place == name:
        return "trim", name, ""
    if place:
        return "elsewhere", name, place
    return ("again" if name in pieces else "not needed"), name, ""

"""The floor while it is laid, as the screen shows it: where it lies, where it ends, and what to do."""

from collections.abc import Iterator

from msgspec import to_builtins

from engine.planning.floor_as_it_lies import drift_of, taken_in_use
from engine.planning.forecast import WallEnd
from engine.planning.held_pieces import Fate
from engine.planning.laid_readings import ReadOnFloor
from engine.planning.staying_true import Foreseen, StayingTrue
from engine.setting_out.as_laid import LaidFit
from engine.units import number_text
from engine.wire.as_laid_figures import drift_figures, now_figures, within
from engine.wire.drawings import Figure, HeldRow, LaidReadingRow, ProposalRow, WallEndRow
from engine.wire.figures import Writer, figure, formulas_of, marked
from engine.wire.replies import AsLaidReply

# A floor taken as it lies is taken anew when any of its values has moved by more than this.
MOVED = 1e-9

_FATES: dict[Fate, str] = {
    "fits": "still fits",
    "trim": "cut again, it is long enough",
    "elsewhere": "use elsewhere, and cut another",
    "again": "cut another",
    "not needed": "its place is gone",
}


def as_laid_view(state: StayingTrue, writer: Writer) -> AsLaidReply:
    """All that the screen shows."""
    now, drift, ends = now_figures(state, writer), drift_figures(state, writer), end_rows(state, writer)
    readings, joints = reading_rows(state, writer), joints_figure(state, writer)
    shown = [*now, *drift, *([joints] if joints else [])]
    shown += [one for end in ends for one in (end.off, end.planned, end.now)]
    shown += [one for row in readings for one in (row.planned, row.residual)]
    return AsLaidReply(
        at=state.readings[-1].reading.piece if state.readings else "",
        now=now,
        drift=drift,
        ends=ends,
        readings=readings,
        proposals=proposal_rows(state, writer),
        held=held_rows(state),
        joints=joints,
        take=to_take(state),
        taken=taken_words(state),
        spare=tuple(spare_words(state)),
        formulas=formulas_of(shown),
        findings=marked(state.findings, writer),
    )


def end_rows(state: StayingTrue, writer: Writer) -> tuple[WallEndRow, ...]:
    """One row a wall, where the pattern will be off most first."""
    ends = state.foreseen.ends if state.foreseen else ()
    return tuple(_end_row(end, writer) for end in sorted(ends, key=lambda end: (-abs(end.off), end.wall)))


def _end_row(end: WallEnd, writer: Writer) -> WallEndRow:
    now, way = writer.length(end.now), "nearer to" if end.off >= 0 else "farther from"
    inside = ("within the bound", f"{writer.length(end.least)} to {writer.mm(end.most)}")
    pieces = ("pieces still to be fitted", str(end.pieces))
    return WallEndRow(
        wall=end.wall,
        off=figure(
            f"end {end.wall}",
            f"Will end {way} {end.wall}",
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
        planned=figure(
            f"planned {reading.id}",
            "Planned",
            writer.length(one.planned),
            "mm",
            "laid distance",
            ("from", name),
        ),
        residual=figure(
            f"residual {reading.id}",
            "Off the others",
            writer.length(fit.residuals[reading.id]),
            "mm",
            "laid residual",
            ("read", f"{reading.typed} {reading.unit}"),
            sd,
        ),
        is_doubted=reading.id in fit.doubted,
    )


def reading_name(one: ReadOnFloor) -> str:
    """The corner, and what it was read to."""
    reading = one.reading
    return f"{reading.piece} {reading.end} {reading.side}, to {reading.to}"


def proposal_rows(state: StayingTrue, writer: Writer) -> tuple[ProposalRow, ...]:
    """What can be done, the one that is proposed first."""
    offered = state.foreseen.proposals if state.foreseen else ()
    return tuple(
        ProposalRow(kind=one.kind, sentence=writer.sentence(one.sentence), can=one.can, best=one.best)
        for one in sorted(offered, key=lambda one: not one.best)
    )


def held_rows(state: StayingTrue) -> tuple[HeldRow, ...]:
    """Each piece that is cut, what no longer fits first."""
    held = state.foreseen.held if state.foreseen else ()
    return tuple(
        HeldRow(
            id=one.id,
            fate=one.fate,
            words=f"use it as {one.place}, and cut another" if one.place else _FATES[one.fate],
            place=one.place,
        )
        for one in sorted(held, key=lambda one: one.fate == "fits")
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
    return last.about == now.about and all(
        abs(one - other) <= MOVED for one, other in zip(last.values, now.values, strict=True)
    )


def taken_words(state: StayingTrue) -> str:
    """That the pieces are cut from the floor as it lies."""
    used = taken_in_use(state.plan.job.laid, state.plan.job.floor)
    if not used:
        return ""
    kept = len(used[-1].keeps)
    stay = {0: "", 1: " 1 piece stays as it was cut."}.get(kept, f" {kept} pieces stay as they were cut.")
    return (
        f"The pieces are cut from the floor as it lies.{stay} How far off it is still counts from the "
        "pattern as set out."
    )


def spare_words(state: StayingTrue) -> Iterator[str]:
    """What was cut and no longer fitted its place when the floor was taken as it lies."""
    used = taken_in_use(state.plan.job.laid, state.plan.job.floor)
    for name, place in sorted(used[-1].spare.items()) if used else ():
        yield f"{name}, cut before: use it as {place}." if place else f"{name}, cut before: cut it again."

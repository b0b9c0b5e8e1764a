"""How far the laid pattern lies off its plan, and what it gains with each step, as figures."""

from math import atan2, degrees

from engine.geometry.frame import cos_sin
from engine.geometry.shapes import Point
from engine.planning.creep_rows import RowCreep
from engine.planning.forecast import TELLING
from engine.planning.staying_true import StayingTrue
from engine.planning.towards import wall_towards
from engine.setting_out.as_laid import LaidFit
from engine.units import number_text
from engine.wire.drawings import Figure
from engine.wire.figures import Writer, figure
from engine.wire.laid_drawings import CreepRow

NOT_KNOWN = "not known yet"


def ways_off(state: StayingTrue) -> tuple[Point, ...]:
    """Along and across the rows, each the way the pattern is off at the board read last; larger first."""
    fit = state.fit
    if fit is None:
        return ()
    cosine, sine = cos_sin(fit.drift.axis)
    offs = [(fit.offset(state.at, way), way) for way in ((cosine, sine), (-sine, cosine))]
    turned = [(abs(off), (x, y) if off >= 0 else (0.0 - x, 0.0 - y)) for off, (x, y) in offs]
    # What is not known cannot be the larger: it is nothing yet.
    known = [(-off if fit.offset_bound(state.at, way) <= TELLING else 1.0, way) for off, way in turned]
    return tuple(way for _, way in sorted(known, key=lambda pair: pair[0]))


def now_figures(state: StayingTrue, writer: Writer) -> tuple[Figure, ...]:
    """How far off the pattern lies at the board read last, either way, by the wall that it is off towards."""
    fit = state.fit
    return tuple(_now(fit, state, way, writer) for way in ways_off(state)) if fit else ()


def _now(fit: LaidFit, state: StayingTrue, way: Point, writer: Writer) -> Figure:
    off, bound = fit.offset(state.at, way), fit.offset_bound(state.at, way)
    known = bound <= TELLING
    wall = wall_towards(state.plan.room.outline.walls, state.at, way)
    along = abs(way[0] * cos_sin(fit.drift.axis)[0] + way[1] * cos_sin(fit.drift.axis)[1]) > 0.5
    return figure(
        "now along" if along else "now across",
        f"Off towards {wall}" if known and wall else f"Off {'along' if along else 'across'} the rows",
        writer.length(off) if known else NOT_KNOWN,
        within(bound, writer) if known else "",
        "laid offset",
        *_fit_inputs(fit, writer),
    )


def arrow(state: StayingTrue) -> float:
    """Degrees clockwise from pointing right, for the larger way as a plan shows it."""
    return round(-degrees(atan2(*reversed(ways_off(state)[0]))), 1) + 0.0 if state.fit else 0.0


def verdict(state: StayingTrue) -> str:
    """Said where the pattern lies off by no more than the readings can tell."""
    fit = state.fit
    if fit is None:
        return ""
    offs = [(fit.offset(state.at, way), fit.offset_bound(state.at, way)) for way in ways_off(state)]
    if any(off > bound for off, bound in offs) or any(bound > TELLING for _, bound in offs):
        return ""
    return "It lies true, as far as these readings can tell."


def within(bound: float, writer: Writer, decimals: int = 1) -> str:
    """The unit of a length with its 95 % bound: beside the figure, which stays large."""
    return f"mm\N{NO-BREAK SPACE}±\N{NO-BREAK SPACE}{number_text(bound, decimals, writer.mark)}"


def _fit_inputs(fit: LaidFit, writer: Writer) -> tuple[tuple[str, str], ...]:
    scatter = [("they scatter more than stated by", number_text(fit.spread, 1, writer.mark))]
    return (
        ("readings", str(len(fit.residuals))),
        ("factor", number_text(fit.factor / fit.spread, 2, writer.mark)),
        *(scatter if fit.spread > 1 else []),
    )


def turn_figure(state: StayingTrue, writer: Writer) -> Figure | None:
    """How the pattern is turned, or that it is not known yet."""
    fit = state.fit
    if fit is None:
        return None
    turn, is_known = fit.drift.values[2], "turn" in fit.known
    return figure(
        "turn",
        "Turned, each metre",
        _hundredths(turn * 1000, writer) if is_known else NOT_KNOWN,
        within(fit.bound(2) * 1000, writer, 2) if is_known else "",
        "laid turn",
        ("angle", _angle(turn, writer)),
        *_fit_inputs(fit, writer),
    )


def creep_rows_shown(state: StayingTrue, writer: Writer) -> tuple[CreepRow, ...]:
    """What the pattern gains along and across, where the front row lies, and where the last will."""
    return tuple(_creep_row(one, state.fit, writer) for one in state.creep) if state.fit else ()


def _creep_row(creep: RowCreep, fit: LaidFit, writer: Writer) -> CreepRow:
    unit = "board" if creep.way == "along" else "row"
    inputs = (("step of the pattern", writer.mm(creep.step)), *_fit_inputs(fit, writer))
    earlier = f"{_hundredths(creep.before or 0.0, writer)} mm"
    return CreepRow(
        name=f"{creep.way.capitalize()} the rows",
        gain=figure(
            f"creep {creep.way}",
            f"Gains with each {unit}",
            _hundredths(creep.gain, writer) if creep.is_known else NOT_KNOWN,
            within(creep.bound, writer, 2) if creep.is_known else "",
            "laid row",
            *([] if creep.before is None else [("before it changed", earlier)]),
            *inputs,
        ),
        front=_row_figure(
            f"front {creep.way}",
            f"Front {unit} now",
            (creep.front, creep.front_bound),
            "laid front row",
            inputs,
            writer,
        ),
        last=_row_figure(
            f"last {creep.way}",
            _last_words(creep.left, unit),
            (creep.last, creep.last_bound),
            "laid last row",
            (("one reading’s standard deviation", writer.mm(fit.reading_sd)), *inputs),
            writer,
        ),
    )


def _row_figure(
    key: str,
    label: str,
    value: tuple[float, float],
    formula: str,
    inputs: tuple[tuple[str, str], ...],
    writer: Writer,
) -> Figure:
    """How far on a row lies, with its bound; nothing where that is too wide to tell anything."""
    on, bound = value
    if bound > TELLING:
        return figure(key, label, NOT_KNOWN, "", formula, *inputs)
    text = writer.length(on)
    return figure(key, label, f"+{text}" if on > 0 else text, within(bound, writer), formula, *inputs)


def _last_words(left: int, unit: str) -> str:
    if left == 0:
        return f"The last {unit}"
    return f"Last, {left} {unit}{'' if left == 1 else 's'} on"


def _hundredths(value: float, writer: Writer) -> str:
    text = number_text(value, 2, writer.mark)
    return f"+{text}" if value > 0 else text


def _angle(turn: float, writer: Writer) -> str:
    return f"{number_text(degrees(turn), 2, writer.mark)}°"

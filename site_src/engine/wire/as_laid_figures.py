"""How far the laid pattern lies off its plan, and what it gains with each step, as figures."""

from math import degrees

from engine.geometry.frame import cos_sin
from engine.geometry.shapes import Point
from engine.planning.forecast import TELLING
from engine.planning.staying_true import StayingTrue
from engine.setting_out.as_laid import LaidFit
from engine.units import number_text
from engine.wire.drawings import Figure
from engine.wire.figures import Writer, figure


def now_figures(state: StayingTrue, writer: Writer) -> tuple[Figure, ...]:
    """How far off the pattern lies at the board read last: to the side, and along the rows."""
    fit = state.fit
    if fit is None:
        return ()
    cosine, sine = cos_sin(fit.drift.axis)
    ways = (("right", "left", (sine, -cosine)), ("ahead", "back", (cosine, sine)))
    return tuple(_now(fit, state.at, *way, writer) for way in ways)


def _now(fit: LaidFit, at: Point, plus: str, minus: str, way: Point, writer: Writer) -> Figure:
    off, bound = fit.offset(at, way), fit.offset_bound(at, way)
    known = bound <= TELLING
    word = plus if off >= 0 else minus
    label = f"Now, to the {word}" if plus == "right" else f"Now, {word}"
    return figure(
        f"now {plus}",
        label,
        writer.length(abs(off)) if known else NOT_KNOWN,
        within(bound, writer) if known else "",
        "laid offset",
        *_fit_inputs(fit, writer),
    )


def within(bound: float, writer: Writer) -> str:
    """The unit of a length with its 95 % bound: beside the figure, which stays large."""
    return f"mm\N{NO-BREAK SPACE}±\N{NO-BREAK SPACE}{writer.length(bound)}"


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
        "Turned",
        _signed(turn * 1000, fit.bound(2) * 1000, writer) if is_known else NOT_KNOWN,
        "mm a metre" if is_known else "",
        "laid turn",
        ("angle", _angle(turn, writer)),
        *_fit_inputs(fit, writer),
    )


def creep_rows_shown(state: StayingTrue, writer: Writer) -> tuple[CreepRow, ...]:
    """What the pattern gains along and across, where the front row lies, and where the last will."""
    return tuple(_creep_row(one, state, writer) for one in state.creep)


def _creep_row(creep: RowCreep, state: StayingTrue, writer: Writer) -> CreepRow:
    assert state.fit is not None
    unit = "board" if creep.way == "along" else "row"
    inputs = (("step of the pattern", writer.mm(creep.step)), *_fit_inputs(state.fit, writer))
    before = (
        [] if creep.before is None else [("before it changed", f"{_hundredths(creep.before, writer)} mm")]
    )
    ends = (
        ("front", f"Front {unit} now", creep.front, creep.front_bound, "laid front row", ()),
        (
            "last",
            f"Last, {creep.left} {unit}{'' if creep.left == 1 else 's'} on",
            creep.last,
            creep.last_bound,
            "laid last row",
            (("one reading’s standard deviation", writer.mm(state.fit.reading_sd)),),
        ),
    )
    front, last = (
        figure(
            f"{key} {creep.way}",
            label,
            f"{_tenths(value, writer)} ± {writer.length(bound)}" if bound <= TELLING else NOT_KNOWN,
            "mm" if bound <= TELLING else "",
            formula,
            *more,
            *inputs,
        )
        for key, label, value, bound, formula, more in ends
    )
    return CreepRow(
        name=f"{creep.way.capitalize()} the rows",
        gain=figure(
            f"creep {creep.way}",
            f"Gains with each {unit}",
            _signed(creep.gain, creep.bound, writer) if creep.is_known else NOT_KNOWN,
            "mm" if creep.is_known else "",
            "laid row",
            *before,
            *inputs,
        ),
        front=front,
        last=last,
    )


def _signed(value: float, bound: float, writer: Writer) -> str:
    return f"{_hundredths(value, writer)} ± {number_text(bound, 2, writer.mark)}"


def _hundredths(value: float, writer: Writer) -> str:
    text = number_text(value, 2, writer.mark)
    return f"+{text}" if value > 0 else text


def _tenths(value: float, writer: Writer) -> str:
    return f"+{writer.length(value)}" if value > 0 else writer.length(value)


def _angle(turn: float, writer: Writer) -> str:
    return f"{number_text(degrees(turn), 2, writer.mark)}°"

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
        writer.length(abs(off)) if known else "not known yet",
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


def drift_figures(state: StayingTrue, writer: Writer) -> tuple[Figure, ...]:
    """Turn and creep, or that they are not known yet."""
    fit = state.fit
    if fit is None:
        return ()
    turn, along, across = fit.drift.values[2:]
    shown = (
        ("turn", "Turned", turn, fit.bound(2), 1000.0, "mm a metre", "laid turn"),
        (
            "creep along",
            "Gains along the row",
            along,
            fit.bound(3),
            state.steps.along,
            "mm a board",
            "laid creep",
        ),
        ("creep across", "Gains across", across, fit.bound(4), state.steps.across, "mm a row", "laid creep"),
    )
    return tuple(
        figure(
            name,
            label,
            _signed(value * step, bound * step, writer) if name in fit.known else "not known yet",
            unit if name in fit.known else "",
            formula,
            ("step of the pattern", writer.mm(step)) if step != 1000.0 else ("angle", _angle(value, writer)),
            *_fit_inputs(fit, writer),
        )
        for name, label, value, bound, step, unit, formula in shown
    )


def _signed(value: float, bound: float, writer: Writer) -> str:
    return f"{number_text(value, 2, writer.mark)} ± {number_text(bound, 2, writer.mark)}"


def _angle(turn: float, writer: Writer) -> str:
    return f"{number_text(degrees(turn), 2, writer.mark)}°"

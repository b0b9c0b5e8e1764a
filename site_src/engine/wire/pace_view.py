"""The pace of the work in figures and words: from the marks of the pieces, never a single number."""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence

from engine.cutting.cuts import Kind
from engine.planning.pace import Mark, Pace, pace
from engine.wire.drawings import Figure
from engine.wire.figures import Writer, figure, formulas_of
from engine.wire.iso_time import seconds_of
from engine.wire.piece_words import KIND_TEXT
from engine.wire.replies import KindPaceShown, PaceReply, PaceShown
from engine.wire.requests import PieceMarks

# All pieces together, where they are not told apart by kind.
ANY = "any"
# The work, what is done with a piece, and what is still to be done.
Work = tuple[str, str, str]
CUTTING: Work = ("Cutting", "cut", "Left to cut")
FITTING: Work = ("Fitting", "fitted", "Left to fit")


def pace_view(pieces: Sequence[PieceMarks], writer: Writer) -> PaceReply:
    """Cutting by kind of piece, fitting of all together: a fitted mitre takes no longer than a crosscut."""
    cut = pace(
        _marks((piece.kind, piece.cut_at) for piece in pieces if piece.is_cut),
        Counter(piece.kind for piece in pieces if not piece.is_cut),
    )
    fitted = pace(
        _marks((ANY, piece.fitted_at) for piece in pieces if piece.is_fitted),
        Counter(ANY for piece in pieces if not piece.is_fitted),
    )
    cutting = None if cut is None else _shown(cut, CUTTING, writer)
    fitting = None if fitted is None else _shown(fitted, FITTING, writer)
    shown = [*_figures(cutting), *_figures(fitting)]
    return PaceReply(cutting=cutting, fitting=fitting, formulas=formulas_of(shown))


def _figures(work: PaceShown | None) -> Iterator[Figure]:
    if work is not None:
        yield from (work.rate, work.left)
        yield from (kind.rate for kind in work.kinds if kind.rate)


def _marks(times: Iterable[tuple[str, str]]) -> Iterator[Mark]:
    """A mark without a time that can be read tells nothing of the pace."""
    for kind, text in times:
        at = seconds_of(text)
        if at is not None:
            yield Mark(kind=kind, at=at)


def _shown(found: Pace, work: Work, writer: Writer) -> PaceShown:
    name, done, to_do = work
    timed = ("pieces timed", str(found.timed))
    left = ("pieces left", str(found.left))
    rate, (hours, unit) = _spread(found.rate, writer), _hours(found.hours, writer)
    return PaceShown(
        title=f"{name}: {rate} pieces an hour, {hours} {unit} left",
        rate=figure(f"{name} pace", f"Pieces {done}", rate, "an hour", "pace", timed),
        left=figure(f"{name} left", to_do, hours, unit, "time left", timed, left),
        kinds=tuple(_kinds(found, name, writer)),
        words=_words(found),
    )


def _kinds(found: Pace, work: str, writer: Writer) -> Iterator[KindPaceShown]:
    """Kind by kind, where there is more than one."""
    for kind in found.kinds if len(found.kinds) > 1 else ():
        name: Kind = kind.kind  # type: ignore[assignment]
        text = KIND_TEXT[name].capitalize()
        timed = ("pieces timed", str(kind.timed))
        key = f"{work} {name}"
        yield KindPaceShown(
            kind_text=text,
            rate=kind.rate and figure(key, text, _spread(kind.rate, writer), "an hour", "pace", timed),
            left=f"{kind.left} left",
        )


def _spread(limits: tuple[float, float], writer: Writer) -> str:
    """Least and most, to whole pieces once there are a few."""
    decimals = 0 if limits[0] >= 3 else 1
    low, high = (writer.count(value, decimals) for value in limits)
    return low if low == high else f"{low}–{high}"


def _hours(limits: tuple[float, float], writer: Writer) -> tuple[str, str]:
    """In minutes while it is less than an hour and a half."""
    if limits[1] < 1.5:
        low, high = (writer.count(60 * value, 0) for value in limits)
        return (low if low == high else f"{low}–{high}"), "min"
    return _spread(limits, writer), "h"


def _words(found: Pace) -> str:
    rests = f"From {found.timed} pieces marked one after the other; 8 times out of 10 it comes out so."
    if not found.breaks:
        return rests
    minutes = round(found.break_seconds / 60)
    long = f"{minutes // 60} h {minutes % 60} min" if minutes >= 60 else f"{minutes} min"
    breaks = "a break" if found.breaks == 1 else f"{found.breaks} breaks"
    return f"{rests} Left out: {breaks} of more than 30 min, {long} in all."

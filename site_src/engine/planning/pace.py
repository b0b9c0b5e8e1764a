"""How fast the work goes, from the times at which pieces were marked, and what is left: always as a spread.

The time from one mark to the next is that of the later piece. Times of a kind are
taken as gamma distributed. Their regularity a (1: as irregular as calls at an
exchange) is found from all of them together; a · rate · time is then gamma
distributed with shape a · pieces, which gives the rate's limits (for a = 1 those of
Garwood 1936 and of Epstein & Sobel 1953, from memory). What is left has its own
spread and that of the rate, and both add up.
"""

from collections import Counter
from collections.abc import Iterable, Iterator, Sequence
from math import sqrt

from msgspec import Struct

# A longer time for one piece is a break and not work, seconds.
BREAK = 30 * 60.0
# Marks that follow one another sooner were set together, after the work: they share its time, seconds.
TOGETHER = 20.0
# Fewer timed pieces of a kind say nothing of it; it is then taken as the mean of all.
LEAST = 3
# A kind that is taken as the mean of all may well take half or twice as long: variance of its mean, relative.
UNKNOWN = 0.35
# Regularity is found from at least so many pieces, and no more than this is believed of a person.
JUDGED_FROM, MOST_REGULAR = 16, 4.0
# 80 % of a normal distribution lie within so many standard deviations.
WITHIN = 1.2815515655446004


class Mark(Struct, frozen=True, kw_only=True):
    """One piece marked: its kind and when, in seconds of any clock."""

    kind: str
    at: float


class Timed(Struct, frozen=True, kw_only=True):
    """One piece with the seconds that it took. ``is_alone``: it was marked by itself, so they are its own."""

    kind: str
    seconds: float
    is_alone: bool


class KindPace(Struct, frozen=True, kw_only=True):
    """``rate`` is least and most pieces an hour (80 %), None when too few were timed."""

    kind: str
    timed: int
    seconds: float
    left: int
    rate: tuple[float, float] | None


class Pace(Struct, frozen=True, kw_only=True):
    """``rate`` and ``hours`` left are least and most (80 %). ``breaks`` were left out."""

    rate: tuple[float, float]
    hours: tuple[float, float]
    timed: int
    left: int
    kinds: tuple[KindPace, ...]
    breaks: int
    break_seconds: float


def pace(marks: Iterable[Mark], left: Counter[str]) -> Pace | None:
    """The pace of the marks, and what ``left`` takes of each kind; None when too few are timed."""
    pieces, breaks = timed_pieces(marks)
    if len(pieces) < LEAST:
        return None
    regular = regularity(pieces)
    kinds = tuple(
        _kind(kind, pieces, left[kind], regular) for kind in sorted({*(p.kind for p in pieces), *left})
    )
    seconds = sum(piece.seconds for piece in pieces)
    return Pace(
        rate=_rate(len(pieces), seconds, regular),
        hours=_hours_left(kinds, seconds / len(pieces), regular),
        timed=len(pieces),
        left=left.total(),
        kinds=kinds,
        breaks=len(breaks),
        break_seconds=sum(breaks),
    )


def timed_pieces(marks: Iterable[Mark]) -> tuple[list[Timed], list[float]]:
    """Each piece but the first with the time it took, and the breaks in seconds, which are left out."""
    groups = list(_groups(sorted(marks, key=lambda mark: mark.at)))
    pieces: list[Timed] = []
    breaks: list[float] = []
    for before, group in zip(groups, groups[1:], strict=False):
        seconds = group[-1].at - before[-1].at
        each = seconds / len(group)
        if each > BREAK:
            breaks.append(seconds)
        else:
            is_alone = len(group) == 1
            pieces += (Timed(kind=mark.kind, seconds=each, is_alone=is_alone) for mark in group)
    return pieces, breaks


def _groups(marks: Sequence[Mark]) -> Iterator[list[Mark]]:
    """Marks that were set together."""
    group: list[Mark] = []
    for mark in marks:
        if group and mark.at - group[-1].at >= TOGETHER:
            yield group
            group = []
        group.append(mark)
    if group:
        yield group


def regularity(pieces: Sequence[Timed]) -> float:
    """1 over the relative variance of the times within their kinds, from 1 to ``MOST_REGULAR``."""
    alone = [piece for piece in pieces if piece.is_alone]
    counts = Counter(piece.kind for piece in alone)
    freedom = len(alone) - len(counts)
    if freedom < JUDGED_FROM:
        return 1.0
    sums: Counter[str] = Counter()
    for piece in alone:
        sums[piece.kind] += piece.seconds  # type: ignore[assignment]
    squares = sum((piece.seconds * counts[piece.kind] / sums[piece.kind] - 1) ** 2 for piece in alone)
    return min(max(freedom / squares, 1.0), MOST_REGULAR) if squares > 0 else MOST_REGULAR


def _kind(kind: str, pieces: Sequence[Timed], left: int, regular: float) -> KindPace:
    own = [piece.seconds for piece in pieces if piece.kind == kind]
    rate = _rate(len(own), sum(own), regular) if len(own) >= LEAST else None
    return KindPace(kind=kind, timed=len(own), seconds=sum(own), left=left, rate=rate)


def _rate(count: int, seconds: float, regular: float) -> tuple[float, float]:
    """Least and most pieces an hour."""
    low, high = gamma_limits(count * regular)
    return 3600 * low / (regular * seconds), 3600 * high / (regular * seconds)


def _hours_left(kinds: Sequence[KindPace], mean: float, regular: float) -> tuple[float, float]:
    """Least and most hours for all that is left: means and variances of the kinds add up."""
    total = variance = 0.0
    for kind in kinds:
        if kind.left == 0:
            continue
        is_known = kind.rate is not None
        seconds = kind.left * (kind.seconds / kind.timed if is_known else mean)
        of_rate = 1 / (regular * kind.timed) if is_known else UNKNOWN
        total += seconds
        variance += seconds**2 * (1 / (regular * kind.left) + of_rate)
    if total == 0:
        return 0.0, 0.0
    shape = total**2 / variance
    low, high = gamma_limits(shape)
    return total * low / shape / 3600, total * high / shape / 3600


def gamma_limits(shape: float) -> tuple[float, float]:
    """Between which values 80 % of a gamma distribution lie (Wilson & Hilferty 1931, from memory)."""
    root = 1 / (3 * sqrt(shape))
    low, high = (shape * max(1 - root**2 + z * root, 0.0) ** 3 for z in (-WITHIN, WITHIN))
    return low, high

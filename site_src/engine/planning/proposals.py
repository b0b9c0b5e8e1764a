"""What to do about a pattern that lies off its plan, each with the figures it stands on; one is proposed."""

from collections.abc import Sequence
from math import cos, radians, sin
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from engine.geometry.shapes import Point
from engine.model.job import Floor
from engine.patterns import find_pattern
from engine.planning.forecast import WallEnd
from engine.setting_out.as_laid import LaidFit
from engine.units import number_text

Kind = Literal["nothing", "take", "joints", "cut row", "re-phase"]

# A joint opened by more than this shows and fills with dirt, mm. Common practice, no source.
MOST_OPENED = 0.2
# So many small pieces are glued to their neighbours before the cut; more are worth a break in the pattern.
# Common practice, no source.
FEW = 5
# Less than this nobody saws off a row, mm.
LEAST_CUT = 0.5


class Steps(Struct, frozen=True, kw_only=True):
    """How far the pattern goes on with each board along the row axis and with each row across it, mm."""

    along: float
    across: float


class Proposal(Struct, frozen=True, kw_only=True):
    """One thing to do, in few words and a sentence. ``can``: it would do; ``best``: this one is proposed.

    ``harms``: it leaves small pieces, or a joint without its lock.
    """

    kind: Kind
    title: str
    sentence: str
    can: bool
    harms: bool = False
    best: bool = False


def pattern_steps(floor: Floor) -> Steps:
    """The pattern's own steps along and across its rows."""
    pattern = find_pattern(floor.pattern)
    cell, turn = pattern.cell(floor), radians(pattern.turn)
    hands = [board.hand for board in cell.boards]
    boards = max(hands.count(hand) for hand in hands)
    (px, py), (rx, ry) = cell.next_place, cell.next_row
    along = abs(px * cos(turn) - py * sin(turn)) / boards
    return Steps(along=along, across=abs(rx * sin(turn) + ry * cos(turn)))


def proposals(
    fit: LaidFit,
    ends: Sequence[WallEnd],
    left: int,
    changed: int,
    steps: Steps,
    laid: Sequence[Point],
    width: float,
) -> tuple[Proposal, ...]:
    """``left`` pieces are still to be fitted, ``changed`` of them would leave their gap bands as now planned.

    ``laid`` are the middles of boards that lie, in the plan; ``width`` is a board's.
    """
    if changed == 0:
        words = f"All {left} pieces still to be fitted keep their gap."
        return (Proposal(kind="nothing", title="Lay on", sentence=words, can=True, best=True),)
    nothing, take = _nothing(left, changed), _take(left, changed, ends)
    if not ends:
        return _choose([nothing, take])
    worst = max(ends, key=lambda end: (len(end.slivers) + len(end.doubtful), abs(end.off), end.wall))
    off = _said(worst.off)
    # What is not wider than its own doubt is nothing to act upon.
    if abs(worst.off) <= worst.bound and not worst.slivers:
        return _choose([nothing, take])
    others = [_joints(fit, worst, steps, laid), _cut_row(worst, width), _re_phase(worst, off)]
    return _choose([nothing, take, *others])


def _choose(offered: Sequence[Proposal]) -> tuple[Proposal, ...]:
    """The first that would do, what does no harm first, then from the least work on: as they are offered."""
    would = sorted((one for one in offered if one.can), key=lambda one: one.harms)
    best = would[0].kind if would else "take"
    return tuple(replace(one, best=one.kind == best) for one in offered)


def _nothing(left: int, changed: int) -> Proposal:
    words = f"{changed} of {left} pieces still to be fitted would leave their gap band."
    return Proposal(kind="nothing", title="Laying on is not enough", sentence=words, can=False)


def _take(left: int, changed: int, ends: Sequence[WallEnd]) -> Proposal:
    slivers = len({name for end in ends for name in end.slivers})
    becomes = f"{_pieces(slivers)} become{'s' if slivers == 1 else ''} too small"
    glue = f"; {becomes}: glue {'it' if slivers == 1 else 'them'} to the next before cutting"
    return Proposal(
        kind="take",
        title="Cut the rest from the floor as it lies",
        sentence=f"{changed} of {left} pieces change{glue if slivers else ', none becomes too small'}.",
        can=slivers <= FEW,
        harms=slivers > 0,
    )


def _joints(fit: LaidFit, end: WallEnd, steps: Steps, laid: Sequence[Point]) -> Proposal:
    """The offset shared among the joints that are still to come on the way to that wall."""
    axis = radians(fit.drift.axis)
    ways = ((cos(axis), sin(axis)), (-sin(axis), cos(axis)))
    shares = [abs(end.outwards[0] * wx + end.outwards[1] * wy) for wx, wy in ways]
    per_mm = [share / step for share, step in zip(shares, (steps.along, steps.across), strict=True)]
    joints, at = min(
        (
            sum(
                abs((end.at[0] - x) * wx + (end.at[1] - y) * wy) * each
                for (wx, wy), each in zip(ways, per_mm, strict=True)
            ),
            (x, y),
        )
        for x, y in laid
    )
    each = abs(end.off) / joints if joints >= 1 else float("inf")
    if joints < 1:
        words = f"No joints are left before {end.wall}."
        return Proposal(kind="joints", title="Open or close the joints", sentence=words, can=False)
    count, share = number_text(joints, 0), number_text(each, 2)
    if end.off < 0:
        enough = each <= MOST_OPENED
        verdict = "" if enough else f" More than {number_text(MOST_OPENED, 1)} mm shows."
        return Proposal(
            kind="joints",
            title="Open the joints",
            sentence=f"Open the {count} joints still to come to {end.wall} by {share} mm each.{verdict}",
            can=enough,
        )
    opened = sum(
        creep * step * share
        for creep, step, share in zip(
            fit.drift.creep_at(at), (steps.along, steps.across), shares, strict=True
        )
    )
    enough = each <= opened
    found = f"up to now they came {number_text(max(opened, 0.0), 2)} mm open"
    return Proposal(
        kind="joints",
        title="Close the joints",
        sentence=f"Close the {count} joints still to come to {end.wall} by {share} mm each; {found}"
        f"{'.' if enough else ', so there is not that much to close.'}",
        can=enough,
    )


def _cut_row(end: WallEnd, width: float) -> Proposal:
    first, last = end.at_corners
    one, other = end.wall.split("–", 1) if "–" in end.wall else (end.wall, end.wall)
    can = min(first, last) > 0 and LEAST_CUT <= end.off <= width / 2
    if end.off <= 0:
        words = f"This does not help: the pattern is short of {end.wall}, not too far."
    else:
        words = (
            f"Along {end.wall} saw {_mm(first)} off towards {one}, {_mm(last)} off towards {other}. The row "
            "loses its lock there and has to be glued."
        )
    return Proposal(kind="cut row", title="Cut the next row narrower", sentence=words, can=can, harms=True)


def _re_phase(end: WallEnd, off: str) -> Proposal:
    way = "away from" if end.off > 0 else "towards"
    as_planned = "it then ends there as planned. "
    gained = f"the smallest piece there is then {_mm(end.planned)}, not {_mm(end.now)}. "
    return Proposal(
        kind="re-phase",
        title="Begin the rest anew",
        sentence=f"Move the rest {off} {way} {end.wall}: {gained if end.planned > end.now else as_planned}"
        "The break shows as a line, and the boards along it lose their lock.",
        can=True,
        harms=True,
    )


def _said(value: float) -> str:
    return _mm(abs(value))


def _mm(value: float) -> str:
    return f"{number_text(value, 1)} mm"


def _pieces(count: int) -> str:
    return "1 piece" if count == 1 else f"{count} pieces"

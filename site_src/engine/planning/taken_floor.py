"""Which of the times that a floor was taken as it lies still count, and what is said of those that do not.

A taking belongs to the pattern of its day: where that lay, and which it was, board and all. With another
pattern it is set aside, not lost: put the pattern back, and it counts again.
"""

from collections.abc import Iterator

from engine.errors import Finding
from engine.geometry.drift import CreepChange, Drift
from engine.model.job import Floor, Stagger
from engine.model.laid import FloorTaken, Laid
from engine.patterns import find_pattern
from engine.units import number_text

# Beyond these no floor lies; such readings are slips: mm off, degrees, mm for each mm.
MOST_OFF, MOST_TURN, MOST_CREEP = 200.0, 3.0, 0.02


def drift_of(taken: FloorTaken) -> Drift:
    """Where the floor lay when it was taken."""
    change = taken.change
    return Drift(
        about=taken.about,
        axis=taken.axis,
        ahead=taken.ahead,
        left=taken.left,
        turn=taken.turn,
        creep_along=taken.creep_along,
        creep_across=taken.creep_across,
        change=None if change is None else CreepChange(way=change.way, at=change.at, by=change.by),
    )


def taken_in_use(laid: Laid | None, floor: Floor) -> tuple[FloorTaken, ...]:
    """Each time the floor was taken as it lies, as long as the pattern was not changed since."""
    return tuple(taken for taken in (laid.taken if laid else ()) if not _why_not(taken, floor))


def pattern_text(floor: Floor) -> str:
    """The pattern wherever it lies, in words that differ where it does."""
    # What was typed for another pattern makes no difference to this one.
    uses = find_pattern(floor.pattern).uses
    stagger = (floor.stagger if "stagger" in uses else None) or Stagger()
    more = {
        "strips": floor.strips if "strips" in uses else None,
        "angle": floor.angle if "angle" in uses else None,
        "rows moved by": stagger.by,
        "joints apart": stagger.least,
        "by chance": stagger.seed,
    }
    board = f"board {_exactly(floor.board.length)} × {_exactly(floor.board.width)}"
    said = (f"{name} {_exactly(value)}" for name, value in more.items() if value is not None)
    return ", ".join((floor.pattern, board, *said))


def _exactly(value: float) -> str:
    return f"{value:.12g}"


def spare_in_use(laid: Laid | None, floor: Floor) -> dict[str, str]:
    """Of the pieces that were cut before the floor was last taken and fit no more: where each is of use."""
    used = taken_in_use(laid, floor)
    return used[-1].spare if used else {}


def drift_faults(drift: Drift) -> tuple[str, ...]:
    """What of a drift no floor can have, in words."""
    x, y = drift.ahead, drift.left
    change = drift.change
    later = drift.creep(change.way) + change.by if change else 0.0
    creep = max(abs(drift.creep_along), abs(drift.creep_across), abs(later))
    return (
        *([f"{number_text(max(abs(x), abs(y)), 0)} mm off"] if max(abs(x), abs(y)) > MOST_OFF else []),
        *([f"turned by {number_text(drift.turn, 1)}°"] if abs(drift.turn) > MOST_TURN else []),
        *([f"creeping by {number_text(creep * 1000, 0)} mm a metre"] if creep > MOST_CREEP else []),
    )


def taken_findings(laid: Laid | None, floor: Floor) -> Iterator[Finding]:
    """A warning when the floor as it was taken last is not used."""
    if laid is None or not laid.taken:
        return
    why = _why_not(laid.taken[-1], floor)
    if why:
        yield Finding(
            path=f"laid.taken[{len(laid.taken) - 1}]",
            code="taken floor not used",
            level="warning",
            sentence=f"The floor was taken as it lies, but {why}: the pieces are cut for the pattern as set "
            "out. Undo, or put the pattern back, and it counts again; or read laid corners and take the "
            "floor anew.",
        )


def _why_not(taken: FloorTaken, floor: Floor) -> str:
    """Why a taking does not count; empty where it does."""
    faults = drift_faults(drift_of(taken))
    if faults:
        return f"no floor lies {' and '.join(faults)}"
    if taken.pattern not in ("", pattern_text(floor)):
        return f"it was another pattern then ({taken.pattern})"
    is_there = taken.anchor == floor.anchor and taken.axis == floor.axis
    return "" if is_there else "the pattern has been moved since"

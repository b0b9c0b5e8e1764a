"""What the lengths say, in plain words: what is wrong, what could be wrong unseen, what to measure next."""

from collections.abc import Sequence
from math import isinf

from engine.errors import Finding
from engine.survey.instruments import LASER_SD
from engine.survey.network import Adjusted, Adjustment
from engine.survey.reliability import TieGain, best_tie, smallest_blunder, suspects
from engine.units import number_text

# A corner whose 95 % ellipse reaches farther than this, in mm, would shift the cuts along its walls.
LOOSE = 20.0

# A tie that brings less than this share is not worth the walk.
WORTHWHILE = 0.8


def network_findings(order: Sequence[str], adjustment: Adjustment) -> tuple[Finding, ...]:
    """A warning for a length that stands out, and a note on what would not show."""
    doubted = suspects(adjustment)
    found = [suspicion(doubted)] if doubted else []
    found += [finding for name in order if (finding := _loose(adjustment, name)) is not None]
    return (*found, _blindness(adjustment, best_tie(order, adjustment, LASER_SD)))


def _loose(adjustment: Adjustment, name: str) -> Finding | None:
    """A corner that its lengths hold at too flat an angle."""
    reach = adjustment.ellipse(name).major
    if reach <= LOOSE:
        return None
    sentence = (
        f"The lengths hold corner {name} only to ±{number_text(reach, 0)} mm. "
        f"Measure one more tie to {name}, across the lengths that it has."
    )
    return Finding(path="room.ties", code="corner loosely held", sentence=sentence, level="warning")


def suspicion(lines: Sequence[Adjusted]) -> Finding:
    """A warning about the lengths of which one is most likely wrong."""
    worst = max(lines, key=lambda line: abs(line.w))
    away = number_text(abs(worst.residual) / worst.redundancy, 0)
    names = ", ".join(line.length.name for line in lines)
    if len(lines) == 1:
        sentence = (
            f"{worst.length.name} is most likely wrong, by about {away} mm: "
            "the other lengths contradict it. Measure it again."
        )
    else:
        sentence = (
            f"One of {names} is wrong, by about {away} mm if it is {worst.length.name}, "
            "and these lengths can not tell which. Measure them again, or one more tie."
        )
    return Finding(path=worst.length.path, code="length stands out", sentence=sentence, level="warning")


def _blindness(adjustment: Adjustment, tie: TieGain | None) -> Finding:
    sentence = _unseen(adjustment)
    if tie is not None and (tie.unchecked == 0 or isinf(tie.before)):
        sentence += _brings(tie)
    return Finding(path="room.ties", code="smallest blunder", sentence=sentence, level="note")


def _unseen(adjustment: Adjustment) -> str:
    blind = [line.length.name for line in adjustment.lengths if isinf(line.smallest_blunder)]
    if len(blind) == len(adjustment.lengths):
        return "Nothing checks these lengths: a blunder in any of them would not show."
    if blind:
        return f"A blunder in {', '.join(blind)} would not show at all."
    limit = number_text(smallest_blunder(adjustment), 0)
    return f"These readings would not show a blunder below {limit} mm."


def _brings(tie: TieGain) -> str:
    if tie.unchecked == 0 and (isinf(tie.before) or tie.after < WORTHWHILE * tie.before):
        return f" One more tie, {tie.name}, brings that to {number_text(tie.after, 0)} mm."
    if tie.unchecked:
        return f" Measure {tie.name} next."
    return ""

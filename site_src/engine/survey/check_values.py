"""Is one value of a survey possible at all? Shared by the checks of walls, ties and fixed things."""

from collections.abc import Iterator
from math import isfinite

from engine.errors import Finding
from engine.model.job import Pair
from engine.survey.tolerances import MOST_GAP, MOST_PLACE, WIDE_GAP
from engine.units import number_text


def place_fault(path: str, what: str, at: Pair) -> Finding | None:
    """A point must be made of two numbers of a room's size."""
    if not all(isfinite(value) for value in at):
        sentence = f"{what} has a coordinate that is not a number. Measure it again."
        return Finding(path=path, code="not a number", sentence=sentence)
    if any(abs(value) > MOST_PLACE for value in at):
        sentence = (
            f"{what} lies more than {number_text(MOST_PLACE / 1000, 0)} m away. "
            "Check the unit: lengths are in millimetres."
        )
        return Finding(path=path, code="absurd length", sentence=sentence)
    return None


def length_faults(path: str, what: str, length: float | None, sd: float | None) -> Iterator[Finding]:
    """A measured length must be positive, and so must its standard deviation."""
    if length is not None and not (isfinite(length) and 0 < length <= MOST_PLACE):
        sentence = f"{what} cannot be {number_text(length, 0)} mm long. Measure it again, in millimetres."
        yield Finding(path=f"{path}.length", code="impossible length", sentence=sentence)
    yield from sd_faults(f"{path}.sd", what, sd)


def sd_faults(path: str, what: str, sd: float | None) -> Iterator[Finding]:
    """A standard deviation must be above zero."""
    if sd is not None and not (isfinite(sd) and 0 < sd <= MOST_PLACE):
        sentence = (
            f"{what} has a standard deviation of {number_text(sd, 2)} mm. "
            "Give one above zero, or leave it out and the instrument's is taken."
        )
        yield Finding(path=path, code="impossible sd", sentence=sentence)


def band_faults(path: str, what: str, gap: float, tolerance: float | None) -> Iterator[Finding]:
    """A gap lies between nothing and a metre, its tolerance between nothing and the gap.

    Where no gap is wanted the floor may touch, and its tolerance is how far it may stay off.
    """
    if not (isfinite(gap) and 0 <= gap <= MOST_GAP):
        sentence = f"The gap at {what} cannot be {number_text(gap, 1)} mm. Give a gap from 0 up."
        yield Finding(path=f"{path}.gap", code="impossible gap", sentence=sentence)
    elif gap > WIDE_GAP:
        yield Finding(
            path=f"{path}.gap",
            code="wide gap",
            level="warning",
            sentence=f"The gap at {what} is {number_text(gap, 1)} mm. "
            "Check that it is meant, and what covers it.",
        )
    if tolerance is None:
        return
    if not (isfinite(tolerance) and tolerance >= 0):
        sentence = f"The tolerance at {what} cannot be {number_text(tolerance, 1)} mm. Give 0 or more."
        yield Finding(path=f"{path}.tolerance", code="impossible tolerance", sentence=sentence)
    elif isfinite(gap) and tolerance > gap > 0:
        yield Finding(
            path=f"{path}.tolerance",
            code="tolerance above gap",
            sentence=f"The tolerance at {what}, {number_text(tolerance, 1)} mm, is larger than its gap, "
            f"{number_text(gap, 1)} mm: the floor could touch. Make it at most the gap.",
        )

"""How far a reading can be trusted, by what it was taken with.

A stated accuracy is taken as two standard deviations (95 %), as hand-held
lasers state theirs.
"""

from math import ceil
from typing import Literal

from engine.model.readings import Instrument

TapeClass = Literal["I", "II", "III"]

# Hand-held laser, ISO 16331-1 statement ±1.5 to ±2 mm at 95 % (common practice, TRADE.md).
LASER_SD = 1.0

# Reading a rule or gauge against a line or straightedge, to half a millimetre (common practice).
OFFSET_SD = 0.5

# Tape, limits of error a + b·L, L in whole metres rounded up (EC classes, as quoted in TRADE.md).
_TAPE_LIMITS: dict[TapeClass, tuple[float, float]] = {"I": (0.1, 0.1), "II": (0.3, 0.2), "III": (0.6, 0.4)}


def tape_limit(length: float, grade: TapeClass = "II") -> float:
    """Greatest error of a tape of that class over ``length`` mm, in mm."""
    fixed, per_metre = _TAPE_LIMITS[grade]
    return fixed + per_metre * ceil(length / 1000)


def tape_sd(length: float, grade: TapeClass = "II") -> float:
    """Standard deviation of a taped length: half the limit of error, joined with reading it."""
    half = tape_limit(length, grade) / 2
    return float((half**2 + OFFSET_SD**2) ** 0.5)


def length_sd(instrument: Instrument | None, length: float) -> float:
    """Standard deviation of a length in mm: from the stated accuracy, else the usual one of its kind."""
    if instrument is None:
        return LASER_SD
    if instrument.accuracy is not None:
        return instrument.accuracy / 2
    return LASER_SD if instrument.kind == "laser" else tape_sd(length)


def offset_sd(instrument: Instrument | None) -> float:
    """Standard deviation of a reading on a wall in mm: from the stated accuracy, else half a millimetre."""
    if instrument is None:
        return OFFSET_SD
    if instrument.accuracy is not None:
        return instrument.accuracy / 2
    return LASER_SD if instrument.kind == "laser" else OFFSET_SD

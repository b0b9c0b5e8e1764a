"""Figures as a person reads them: rounded and with their unit here, and nowhere else."""

import re
from collections.abc import Iterable

from msgspec import Struct
from msgspec.structs import replace

from engine.errors import Finding
from engine.standards.formulas import FORMULAS, Formula
from engine.units import DecimalMark, band_text, number_text
from engine.wire.drawings import Figure

# A tape on the floor is read to half a millimetre; one more digit keeps the sum of two readings true.
LENGTH_DECIMALS = 1
ANGLE_DECIMALS = 1
AREA_DECIMALS = 2
# A file smaller than this shows one decimal of its size, bytes.
KILOBYTE_DECIMAL = 10_000
DEGREE = "°"


class Writer(Struct, frozen=True):
    """Writes numbers with the reader's decimal mark."""

    mark: DecimalMark

    def length(self, value: float) -> str:
        """A length without its unit."""
        return number_text(value, LENGTH_DECIMALS, self.mark)

    def mm(self, value: float) -> str:
        """A length with its unit."""
        return f"{self.length(value)} mm"

    def band(self, gap: float, tolerance: float) -> str:
        """A gap and how far it may be off, with the unit."""
        return f"{band_text(gap, tolerance, self.mark)} mm"

    def count(self, value: float, decimals: int) -> str:
        """A number of anything else, without its unit."""
        return number_text(value, decimals, self.mark)

    def angle(self, value: float) -> str:
        """An angle without its sign of degrees."""
        return number_text(value, ANGLE_DECIMALS, self.mark)

    def degrees(self, value: float) -> str:
        """An angle with its sign of degrees."""
        return f"{self.angle(value)}{DEGREE}"

    def sentence(self, text: str) -> str:
        """A sentence made further down, its numbers with the reader's mark."""
        return re.sub(r"(?<=\d)\.(?=\d)", self.mark, text)

    def kilobytes(self, count: int) -> str:
        """The size of a file, with its unit."""
        return f"{number_text(count / 1000, 0 if count >= KILOBYTE_DECIMAL else 1, self.mark)} kB"

    def square_metres(self, value: float) -> str:
        """An area given in mm², in m² without its unit."""
        return number_text(value / 1e6, AREA_DECIMALS, self.mark)


def as_typed(value: float) -> str:
    """A number of the job as a form takes it: in full, with a point, and not to be read as thousands."""
    text = repr(value + 0.0).removesuffix(".0")
    return f"{text}0" if len(text.partition(".")[2]) == 3 else text


def figure(key: str, label: str, text: str, unit: str, formula: str, *inputs: tuple[str, str]) -> Figure:
    """A figure with what it was computed from; its formula must be one that is written down.

    An angle's sign belongs to its number, with no space between (SI brochure, 9th ed., 5.4.3).
    """
    if formula not in FORMULAS:
        raise KeyError(f"no formula is written down under {formula!r}")
    if unit == DEGREE:
        text, unit = f"{text}{DEGREE}", ""
    return Figure(key=key, label=label, text=text, unit=unit, formula=formula, inputs=inputs)


def formulas_of(figures: Iterable[Figure]) -> dict[str, Formula]:
    """The formulas that the figures of a reply refer to."""
    used = {shown.formula for shown in figures}
    return {key: formula for key, formula in FORMULAS.items() if key in used}


def marked(findings: Iterable[Finding], writer: Writer) -> tuple[Finding, ...]:
    """The findings with the reader's decimal mark: below here no one knows who reads."""
    return tuple(replace(finding, sentence=writer.sentence(finding.sentence)) for finding in findings)

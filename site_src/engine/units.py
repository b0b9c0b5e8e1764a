"""Numbers as a person reads them on site: rounded once, here, with the decimal mark they use."""

from typing import Literal

DecimalMark = Literal[".", ","]

# U+2212: a hyphen is too short to be seen beside figures.
MINUS = "\N{MINUS SIGN}"


def number_text(value: float, decimals: int, mark: DecimalMark = ".") -> str:
    """A number with that many decimals; what rounds to zero bears no sign."""
    text = f"{abs(value):.{decimals}f}"
    sign = MINUS if value < 0 and float(text) != 0 else ""
    return sign + text.replace(".", mark)


def band_text(gap: float, tolerance: float, mark: DecimalMark = ".") -> str:
    """A gap and how far it may be off, in mm without the unit; no gap can be less than nothing."""
    own, most = number_text(gap, 1, mark), number_text(gap + tolerance, 1, mark)
    if tolerance <= gap:
        return f"{own} ± {number_text(tolerance, 1, mark)}"
    band = f"{number_text(0, 1, mark)} to {most}"
    return band if gap == 0 else f"{own}, from {band}"

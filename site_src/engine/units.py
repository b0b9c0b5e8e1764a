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

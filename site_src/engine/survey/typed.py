"""A length as typed, in its unit, as millimetres.

A comma or a point is the decimal mark; inches may be whole, decimal or with a
fraction, and with feet before them. What can be read in two ways is refused.
"""

import re

from engine.errors import Finding, Refused
from engine.model.readings import Unit

MILLIMETRES: dict[Unit, float] = {"mm": 1.0, "cm": 10.0, "m": 1000.0, "in": 25.4}

_DECIMAL = re.compile(r"([+\-−]?)(\d+(?:[.,]\d*)?|[.,]\d+)")
_FRACTION = re.compile(r"([+\-−]?)(?:(\d+)')?\s*(?:(\d+)(?:\s+|-))?(\d+)/(\d+)")
_FEET = re.compile(r"([+\-−]?)(\d+)'\s*(\d+(?:[.,]\d*)?)?")

# In millimetres "1,234" may be one metre or a millimetre and a bit; no other unit leaves a doubt.
_UNCLEAR = re.compile(r"[1-9]\d{0,2}[.,]\d{3}")


def millimetres(typed: str, unit: Unit) -> float:
    """The length in mm. Raises Refused with a sentence when the text is no length or has two meanings."""
    text = typed.strip().rstrip('"″').strip().replace("’", "'").replace("′", "'")
    value = _inches(text) if unit == "in" else None
    if value is None:
        value = _decimal(text, unit)
    return value * MILLIMETRES[unit]


def _decimal(text: str, unit: Unit) -> float:
    found = _DECIMAL.fullmatch(text)
    if found is None:
        hint = "such as 12 5/8 or 12.5" if unit == "in" else "with one comma or point for decimals"
        raise _refusal("not a number", f"“{text[:24]}” is not a length. Type a number, {hint}.")
    sign, digits = found.groups()
    if unit == "mm" and _UNCLEAR.fullmatch(digits):
        whole = digits.replace(",", "").replace(".", "")
        sentence = f"“{digits}” mm can be read as {whole} or as a decimal. Type {whole}, or {digits}0."
        raise _refusal("unclear number", sentence)
    return _signed(sign, float(digits.replace(",", ".")))


def _inches(text: str) -> float | None:
    """Feet, inches and fractions; None when the text is a plain decimal or nothing of the kind."""
    fraction, feet = _FRACTION.fullmatch(text), _FEET.fullmatch(text)
    if fraction is not None:
        sign, foot, whole, above, below = fraction.groups()
        if int(below) == 0:
            raise _refusal("not a number", f"“{text[:24]}” divides by nothing. Type the fraction again.")
        return _signed(sign, 12 * int(foot or 0) + int(whole or 0) + int(above) / int(below))
    if feet is not None:
        sign, foot, inches = feet.groups()
        return _signed(sign, 12 * int(foot) + float((inches or "0").replace(",", ".")))
    return None


def _signed(sign: str, value: float) -> float:
    return -value if sign in ("-", "−") and sign else value


def _refusal(code: str, sentence: str) -> Refused:
    return Refused(Finding(path="", code=code, sentence=sentence))

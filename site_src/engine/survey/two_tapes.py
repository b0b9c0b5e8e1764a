"""Where a corner is, from its distances to two known points."""

from math import dist, sqrt

from engine.errors import Finding, Refused
from engine.geometry.shapes import Point
from engine.units import number_text


def two_tape_fix(
    first: Point, second: Point, from_first: float, from_second: float, slack: float = 0.0
) -> Point:
    """The point left of the line first → second at those distances (x = (a² − b² + B²)/2B, TRADE.md).

    All in mm. Lengths that just fail to meet, by at most ``slack``, give the
    point on the line. Raises Refused when no triangle has these sides.
    """
    base = dist(first, second)
    _refuse_impossible(base, from_first, from_second, slack)
    x = (from_first**2 - from_second**2 + base**2) / (2 * base)
    y = sqrt(max(from_first**2 - x**2, 0.0))
    ux, uy = (second[0] - first[0]) / base, (second[1] - first[1]) / base
    return (first[0] + ux * x - uy * y, first[1] + uy * x + ux * y)


def _refuse_impossible(base: float, a: float, b: float, slack: float) -> None:
    if base <= 0:
        sentence = "The two known points are the same. Choose two that lie well apart."
        raise Refused(Finding(path="", code="same point", sentence=sentence))
    sides = sorted((base, a, b))
    lacking = sides[2] - sides[0] - sides[1]
    if lacking <= slack and sides[0] > 0:
        return
    texts = [number_text(side, 1) for side in sides]
    raise Refused(
        Finding(
            path="",
            code="impossible triangle",
            sentence=f"No triangle has the sides {texts[0]}, {texts[1]} and {texts[2]} mm: the longest is "
            f"{number_text(max(lacking, 0.0), 1)} mm longer than the other two together. "
            "Measure the longest first, then the others again.",
        )
    )

"""The best small move when every piece grows or shrinks in proportion to it."""

from collections.abc import Sequence
from math import cos, inf, pi, sin

Slope = tuple[float, float, float]
"""A value, and what it gains a mm along and a mm across."""

# A board that ends short of the floor is kept this far off it, mm.
SHORT = 0.02
# Steps are tried in so many directions, halved so often, and so many of one length gone at the most.
DIRECTIONS = tuple((round(cos(pi * way / 8), 9), round(sin(pi * way / 8), 9)) for way in range(16))
HALVINGS, MOST_STEPS = 8, 16


def climb(
    sizes: Sequence[Slope], short: Sequence[Slope], reach: float, across: tuple[float, float]
) -> tuple[float, float]:
    """The move along and across, at most ``reach`` mm, after which the smallest of ``sizes`` is largest.

    None of ``short`` may come nearer to 0 than ``SHORT``, or end there when it begins nearer; ``across``
    limits the move further.
    """
    sizes = _that_matter(sizes, reach)
    low, high = max(across[0], -reach), min(across[1], reach)
    at, step = (0.0, 0.0), reach / 2
    best = _least(sizes, at) if _stays_out(short, at) else -inf
    for _ in range(HALVINGS):
        for _ in range(MOST_STEPS):
            ways = [(at[0] + step * x, at[1] + step * y) for x, y in DIRECTIONS]
            ways += [(x, min(max(y, low), high)) for x, y in ways if not low <= y <= high]
            ways = [
                way
                for way in ways
                if abs(way[0]) <= reach and low <= way[1] <= high and _stays_out(short, way)
            ]
            value, way = max(((_least(sizes, way), way) for way in ways), default=(-inf, at))
            if value <= best:
                break
            best, at = value, way
        step /= 2
    return at


def _that_matter(rows: Sequence[Slope], reach: float) -> list[Slope]:
    """Those values that may be the smallest anywhere within reach."""
    spans = [reach * (abs(along) + abs(across)) for _, along, across in rows]
    most = min((value + span for (value, _, _), span in zip(rows, spans, strict=True)), default=0.0)
    return [row for row, span in zip(rows, spans, strict=True) if row[0] - span <= most]


def _least(rows: Sequence[Slope], way: tuple[float, float]) -> float:
    x, y = way
    return min((value + along * x + across * y for value, along, across in rows), default=0.0)


def _stays_out(rows: Sequence[Slope], way: tuple[float, float]) -> bool:
    x, y = way
    return all(value + along * x + across * y <= -SHORT for value, along, across in rows)

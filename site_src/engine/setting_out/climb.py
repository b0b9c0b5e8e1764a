"""The best small move when every piece grows or shrinks in proportion to it."""

from collections.abc import Sequence
from math import inf
from typing import NamedTuple

from engine.geometry.shapes import Point, Ring, centroid
from engine.setting_out.piece_left import clipped

Slope = tuple[float, float, float]
"""A value, and what it gains a mm along and a mm across."""

# A board that ends short of the floor is kept this far off it, mm.
SHORT = 0.012
# Moves end so much farther off, for rounding may not bring them nearer.
ROUNDING = 1e-6
# So many cuts leave less than a ten thousandth of the moves there were, for each takes 37 % or more.
CUTS = 24


class Climb(NamedTuple):
    """The best move along and across, mm, and the smallest value after it."""

    way: Point
    worth: float


def climb(sizes: Sequence[Slope], short: Sequence[Slope], reach: float, across: tuple[float, float]) -> Climb:
    """The move of at most ``reach`` mm after which the smallest of ``sizes`` is largest.

    None of ``short`` may come nearer to 0 than ``SHORT``; ``across`` limits the move further. No move
    where there is none better. The centre of area of all moves that may still be better is tried, and
    those are taken off that make the piece smaller which is smallest there (Levin 1965).
    """
    low, high = max(across[0], -reach), min(across[1], reach)
    moves: Ring = ((-reach, low), (reach, low), (reach, high), (-reach, high))
    for value, along, outwards in short:
        moves = _where_positive(moves, (-SHORT - ROUNDING - value, -along, -outwards))
    best, at = -inf, (0.0, 0.0)
    if all(value <= -SHORT for value, _, _ in short):
        best = min((value for value, _, _ in sizes), default=0.0)
    for _ in range(CUTS):
        if not moves:
            break
        there = centroid(moves)
        least, row = min(((_after(row, there), row) for row in sizes), default=(0.0, (0.0, 0.0, 0.0)))
        if least > best:
            best, at = least, there
        value, along, outwards = row
        moves = _where_positive(moves, (value - max(best, least), along, outwards))
    return Climb(at, best)


def shorter(step: float, way: Point, finest: float) -> float:
    """A step shorter than one that found a way, mm: of those that would find the same, the last."""
    step /= 4
    while step / 4 > max(map(abs, way)) and step > finest:
        step /= 4
    return step


def _after(row: Slope, way: Point) -> float:
    return row[0] + row[1] * way[0] + row[2] * way[1]


def _where_positive(moves: Ring, row: Slope) -> Ring:
    kept = clipped([[_after(row, way), *way] for way in moves], 0)
    return tuple((x, y) for _, x, y in kept)

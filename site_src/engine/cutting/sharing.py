"""Which pieces might come from one board: sure where it says no.

It asks less than sawing does: lengths that add up, pieces that keep an end parted by one cut from each
other, and room for each that slides among those. So whatever can be sawn is among the sets it allows.
"""

from collections.abc import Sequence
from itertools import combinations

from engine.cutting.offcut_shapes import FIT, Nesting, PieceShape

# Twice what a board is filled by: then no part of a set that is held to fit is held not to.
LOOSE = 2 * FIT

Pairs = set[tuple[int, int]]


def pairs_that_share(shapes: Sequence[PieceShape], nesting: Nesting) -> Pairs:
    """Every two that might share a board, the lesser number first."""
    couples = combinations(range(len(shapes)), 2)
    return {(i, j) for i, j in couples if can_share((shapes[i], shapes[j]), nesting)}


def can_share(pieces: Sequence[PieceShape], nesting: Nesting) -> bool:
    """Might some pieces come from one board? Those that slide are not looked at against each other."""
    if nesting.are_too_long(pieces):
        return False
    fixed = [piece for piece in pieces if piece.is_fixed]
    return all(nesting.are_apart(one, other) for one, other in combinations(fixed, 2)) and all(
        _has_room(piece, fixed, nesting) for piece in pieces if not piece.is_fixed
    )


def _has_room(loose: PieceShape, fixed: Sequence[PieceShape], nesting: Nesting) -> bool:
    """Is there a place along the board where it comes too near to none?"""
    least, most = loose.slide
    found = (nesting.forbidden(piece, loose) for piece in fixed)
    stretches = [stretch for stretch in found if stretch is not None]
    ways = [least, most, *(way for stretch in stretches for way in stretch)]
    return any(
        least - LOOSE <= way <= most + LOOSE
        and not any(low + LOOSE < way < high - LOOSE for low, high in stretches)
        for way in ways
    )

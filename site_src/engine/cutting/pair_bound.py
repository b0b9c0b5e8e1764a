"""A sharper proof of how many boards some pieces take, for where the quick ones leave a board in doubt.

Of pieces no three of which can share a board, two share one at most: as many boards as
pieces, less the most pairs among them. Of every three that can, one is left out: that which is
in most of them. What is left out takes no board in this proof.
"""

from collections import Counter
from collections.abc import Iterable, Sequence
from itertools import combinations

from engine.cutting.offcut_shapes import FIT, Nesting, PieceShape
from engine.cutting.pairs_among import most_pairs_among

# Threes looked at before the proof is given up: a fraction of a second on a phone.
MOST_LOOKED_AT = 150_000
# A piece that slides fits beside many others: how much rather one that keeps an end is left out.
RATHER_FIXED = (1, 8)

Pairs = set[tuple[int, int]]
Three = tuple[int, int, int]


def boards_by_pairs(shapes: Sequence[PieceShape], nesting: Nesting) -> int:
    """A number of boards below which these pieces of one hand cannot be had."""
    pairs = pairs_that_share(shapes, nesting)
    threes = _threes(shapes, pairs, nesting)
    if threes is None:
        return 0
    kept = (_without_threes(shapes, threes, rather) for rather in RATHER_FIXED)
    return max(len(left) - most_pairs_among(fits_among(left, pairs)) for left in kept)


def pairs_that_share(shapes: Sequence[PieceShape], nesting: Nesting) -> Pairs:
    """Every two that might share a board, the lesser number first."""
    couples = combinations(range(len(shapes)), 2)
    return {(i, j) for i, j in couples if can_share((shapes[i], shapes[j]), nesting)}


def fits_among(left: Sequence[int], pairs: Iterable[tuple[int, int]]) -> list[list[int]]:
    """Each with whom it can share, by their places among those left."""
    number = {i: n for n, i in enumerate(left)}
    fits: list[list[int]] = [[] for _ in left]
    for i, j in sorted(pairs):
        if i in number and j in number:
            fits[number[i]].append(number[j])
            fits[number[j]].append(number[i])
    return fits


def can_share(pieces: Sequence[PieceShape], nesting: Nesting) -> bool:
    """Might some pieces come from one board? Sure where it says no; at most one that slides is looked at."""
    if nesting.are_too_long(pieces):
        return False
    fixed = [piece for piece in pieces if piece.is_fixed]
    if not all(nesting.are_apart(one, other) for one, other in combinations(fixed, 2)):
        return False
    loose = [piece for piece in pieces if not piece.is_fixed]
    return len(loose) != 1 or _has_room(loose[0], fixed, nesting)


def _has_room(loose: PieceShape, fixed: Sequence[PieceShape], nesting: Nesting) -> bool:
    """Is there a place along the board where it comes too near to none?"""
    least, most = loose.slide
    found = (nesting.forbidden(piece, loose) for piece in fixed)
    stretches = [stretch for stretch in found if stretch is not None]
    ways = [least, most, *(way for stretch in stretches for way in stretch)]
    return any(
        least - FIT <= way <= most + FIT and not any(low + FIT < way < high - FIT for low, high in stretches)
        for way in ways
    )


def _threes(shapes: Sequence[PieceShape], pairs: Pairs, nesting: Nesting) -> list[Three] | None:
    """Every three pieces that might share a board; None where too many would have to be looked at."""
    after: dict[int, list[int]] = {}
    for i, j in sorted(pairs):
        after.setdefault(i, []).append(j)
    if sum(len(others) * (len(others) - 1) // 2 for others in after.values()) > MOST_LOOKED_AT:
        return None
    whole = nesting.size.length * nesting.size.width
    return [
        (i, j, k)
        for i, others in after.items()
        for j, k in combinations(others, 2)
        if (j, k) in pairs
        and shapes[i].area + shapes[j].area + shapes[k].area <= whole
        and can_share((shapes[i], shapes[j], shapes[k]), nesting)
    ]


def _without_threes(shapes: Sequence[PieceShape], threes: Sequence[Three], rather: int) -> list[int]:
    """The pieces that are left when no three that can share a board are."""
    left = set(range(len(shapes)))
    often = Counter(i for three in threes for i in three)
    while threes:
        worst = max(often, key=lambda i: (often[i] * (rather if shapes[i].is_fixed else 1), -i))
        left.remove(worst)
        often.subtract(i for three in threes if worst in three for i in three)
        threes = [three for three in threes if worst not in three]
    return sorted(left)

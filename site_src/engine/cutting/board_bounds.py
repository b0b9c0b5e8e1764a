"""How many boards some pieces take at least, whatever is done: proved, not guessed.

Two proofs, and the greater number counts. Of two sets of pieces, in each of
which no two can share a board (as those that have the same point of an end),
each shares with one of the other set at most: as many boards as pieces, less
the most pairs. And on each line along
the board the pieces that cross it are as long in all as their boards at most
(bin packing; Martello & Toth 1990, bound L2, from memory).
"""

from collections.abc import Sequence
from itertools import product
from math import ceil

from engine.cutting.offcut_matching import most_pairs
from engine.cutting.offcut_shapes import FIT, HEIGHTS, Nesting, PieceShape

Reach = tuple[float, float]
# How far above the end of a reach a point lies inside it, mm.
ABOVE = 0.01
# So many points of either end are looked at beside its middle, those that most pieces have.
END_POINTS = 2


def least_boards(shapes: Sequence[PieceShape], nesting: Nesting) -> int:
    """A number of boards below which these pieces of one hand cannot be had."""
    spacing = nesting.spacing
    lengths = [[s.slices[i] for s in shapes] for i in range(len(HEIGHTS))]
    by_length = (
        bin_packing_bound([at + spacing for at in row if at is not None], nesting.size.length + spacing)
        for row in lengths
    )
    return max(int(bool(shapes)), *by_length, _by_ends(shapes, nesting))


def _by_ends(shapes: Sequence[PieceShape], nesting: Nesting) -> int:
    """The best of a few points of the start end and of the far end."""
    middle = nesting.size.width / 2
    points = product(
        [middle, *_common([s.starts for s in shapes])], [middle, *_common([s.fars for s in shapes])]
    )
    return max(_with_ends(shapes, start, far, nesting) for start, far in points)


def _common(reaches: Sequence[Reach | None]) -> list[float]:
    """Heights across the board that most pieces have at an end: just above where one of them begins."""
    heights = {reach[0] + ABOVE for reach in reaches if reach}
    ordered = sorted(heights, key=lambda height: (-sum(_holds(r, height) for r in reaches), height))
    return ordered[:END_POINTS]


def _holds(reach: Reach | None, height: float) -> bool:
    return reach is not None and reach[0] < height < reach[1]


def _with_ends(shapes: Sequence[PieceShape], start: float, far: float, nesting: Nesting) -> int:
    """Two sets, in each of which no two pieces can share, less the most pairs between them.

    Those that have this point of the start end, those that have that of the
    far end, and whoever else gets along with nobody of one set.
    """
    firsts = [s for s in shapes if _holds(s.starts, start)]
    others = [s for s in shapes if not _holds(s.starts, start)]
    seconds = [s for s in others if _holds(s.fars, far)]
    for shape in others:
        if shape.is_fixed and not _holds(shape.fars, far):
            for alone in (firsts, seconds):
                if not any(nesting.are_apart(member, shape) for member in alone):
                    alone.append(shape)
                    break
    fits = [[j for j, other in enumerate(seconds) if nesting.are_apart(s, other)] for s in firsts]
    return len(firsts) + len(seconds) - len(most_pairs(fits))


def bin_packing_bound(lengths: Sequence[float], room: float) -> int:
    """Martello and Toth's L2: bins that hold ``room`` each, at least."""
    small = sorted({length for length in lengths if length <= room / 2})
    return max((_with_small_from(least, lengths, room) for least in [0.0, *small]), default=0)


def _with_small_from(least: float, lengths: Sequence[float], room: float) -> int:
    """The bins of all that is longer than half, and those that the rest from ``least`` on takes besides."""
    large = [length for length in lengths if length > room / 2]
    # Into a bin with one that is longer than ``room − least`` none of the rest goes.
    open_ = [length for length in large if length <= room - least + FIT]
    rest = sum(length for length in lengths if least <= length <= room / 2)
    over = rest - (len(open_) * room - sum(open_))
    return len(large) + max(0, ceil(over / room - FIT))

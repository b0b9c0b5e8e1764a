"""The fewest points that hit every one of some ranges, and which range takes which.

Ranges are taken by their last end; each that no point hits yet gets a point there.
That is the least number there can be, for the ranges that called for a point do not
touch one another (the classic stabbing of intervals; METHODS: fewest saw settings).
"""

from collections.abc import Callable, Sequence

Range = tuple[float, float]

# Ends this near to each other touch, degrees or mm: the same number reached on two ways.
TOUCH = 1e-7


def fewest_groups(ranges: Sequence[Range]) -> list[Range]:
    """What the ranges of each group have in common, the groups as few as can be, from left to right."""
    common: list[Range] = []
    for first, last in sorted(ranges, key=lambda each: (each[1], each[0])):
        if common and first <= common[-1][1] + TOUCH:
            common[-1] = (max(first, common[-1][0]), common[-1][1])
        else:
            common.append((first, last))
    return common


def witnesses(ranges: Sequence[Range]) -> list[Range]:
    """Ranges of which no two touch, as many as there are groups: the proof that there cannot be fewer."""
    apart: list[Range] = []
    for first, last in sorted(ranges, key=lambda each: (each[1], each[0])):
        if not apart or first > apart[-1][1] + TOUCH:
            apart.append((first, last))
    return apart


def nearest(points: Sequence[float], held: Range, wanted: float) -> float:
    """Of the points within a range, of which there must be one, that which lies nearest to the wanted one."""
    within = [point for point in points if held[0] - TOUCH <= point <= held[1] + TOUCH]
    return min(within, key=lambda point: (round(abs(point - wanted), 6), point))


def fewest_points(ranges: Sequence[Range], prefer: Callable[[Range], float]) -> list[float]:
    """As few points as hit every range; ``prefer`` takes each out of what its group has in common."""
    return [prefer(common) for common in fewest_groups(ranges)]

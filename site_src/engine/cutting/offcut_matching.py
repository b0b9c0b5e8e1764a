"""Most pairs between two sorts of pieces (Hopcroft & Karp 1973): who shares a board with whom."""

from collections import deque
from collections.abc import Mapping, Sequence


def most_pairs(fits: Sequence[Sequence[int]], begin: Mapping[int, int] | None = None) -> dict[int, int]:
    """First → second of as many pairs as can be; ``fits[i]`` are the seconds that go with first i.

    ``begin`` are pairs to begin with; whoever is paired in it stays paired, though perhaps otherwise.
    """
    pairs = dict(begin or {})
    taken = {second: first for first, second in pairs.items()}
    while True:
        depth = _depths(fits, pairs, taken)
        free = [first for first in range(len(fits)) if first not in pairs]
        if not sum(_augment(first, fits, pairs, taken, depth) for first in free):
            return pairs


def _depths(fits: Sequence[Sequence[int]], pairs: dict[int, int], taken: dict[int, int]) -> dict[int, int]:
    """How many pairs lie between each first and the nearest first that has none."""
    depth = {first: 0 for first in range(len(fits)) if first not in pairs}
    queue = deque(depth)
    while queue:
        first = queue.popleft()
        for second in fits[first]:
            other = taken.get(second)
            if other is not None and other not in depth:
                depth[other] = depth[first] + 1
                queue.append(other)
    return depth


def _augment(
    root: int,
    fits: Sequence[Sequence[int]],
    pairs: dict[int, int],
    taken: dict[int, int],
    depth: dict[int, int],
) -> bool:
    """Follow a shortest path from a free first to a free second, and pair along it; without recursion."""
    path: list[tuple[int, int]] = []  # (first, the second tried for it)
    ways = [(root, iter(fits[root]))]
    while ways:
        first, seconds = ways[-1]
        for second in seconds:
            other = taken.get(second)
            if other is None:
                for a, b in [*path, (first, second)]:
                    pairs[a], taken[b] = b, a
                return True
            if depth.get(other) == depth[first] + 1:
                path.append((first, second))
                ways.append((other, iter(fits[other])))
                break
        else:
            depth[first] = -1
            ways.pop()
            if path:
                path.pop()
    return False

"""The most pieces found of which no two can share a board: each takes a board of its own.

A set that cannot be made larger by taking one out for two others is looked for from one start after another
(local search with exchanges of one for two; Andrade, Resende & Werneck 2012, from memory). Whatever it
finds is a proof: it never takes two that might share.
"""

from collections.abc import Iterable, Sequence
from itertools import combinations

from engine.cutting.chance import Chance

# Starts of the search, each from the last set with one piece forced in: some tenths of a second on a phone.
STARTS = 120


def most_alone(count: int, pairs: Iterable[tuple[int, int]], enough: int) -> int:
    """How many of so many pieces were found of which no pair is among ``pairs``; no more than ``enough``."""
    beside: list[set[int]] = [set() for _ in range(count)]
    for i, j in pairs:
        beside[i].add(j)
        beside[j].add(i)
    chance = Chance(count)
    alone = _exchanged(_filled(set(), beside), beside)
    best = len(alone)
    for _ in range(STARTS):
        if best >= enough:
            break
        forced = chance.below(count)
        tried = _exchanged(_filled({forced, *(i for i in alone if i not in beside[forced])}, beside), beside)
        # One as good is taken too: so the search wanders.
        alone = tried if len(tried) >= len(alone) else alone
        best = max(best, len(alone))
    return min(best, enough)


def _filled(alone: set[int], beside: Sequence[set[int]]) -> set[int]:
    """The set with whatever goes in besides, those with the fewest to share with first."""
    alone = set(alone)
    for i in sorted(range(len(beside)), key=lambda i: (len(beside[i]), i)):
        if beside[i].isdisjoint(alone):
            alone.add(i)
    return alone


def _exchanged(alone: set[int], beside: Sequence[set[int]]) -> set[int]:
    """The set made larger by exchanges of one for two, as long as there are any."""
    while True:
        # Those that only one of the set keeps out, by that one.
        kept_out: dict[int, list[int]] = {}
        for i in range(len(beside)):
            if i not in alone and len(by := beside[i] & alone) == 1:
                kept_out.setdefault(min(by), []).append(i)
        found = next(
            (
                (out, one, other)
                for out in sorted(kept_out)
                for one, other in combinations(kept_out[out], 2)
                if other not in beside[one]
            ),
            None,
        )
        if found is None:
            return alone
        out, one, other = found
        alone = _filled((alone - {out}) | {one, other}, beside)

"""The fewest ways of turning a saw for all cuts, and of those the ones with the fewest numbers to set.

A saw turned 40° to the left is set anew for 40° to the right, but the number is the same: one detent, or one
mark on the scale. So the ways of turning are as few as there can be, and then the numbers.

Degrees are looked at from the largest down. Any setting can be turned down until it is the least that one of
its cuts allows, so no others are tried: where a cut can wait no longer the saw is set, on its side or on
both. What is still to come hangs on the smallest setting of either side alone; of the ways that left the
same, the best is kept. So the answer is exact (dynamic programming, common knowledge, no source).
"""

from collections.abc import Callable, Iterable, Iterator, Sequence
from math import inf

from engine.cutting.fewest import TOUCH, Range

# The smallest setting so far to the left and to the right, in degrees, neither below 0.
Smallest = tuple[float, float]
# How many ways of turning, how many numbers, and the ways: degrees, to the right positive.
Turns = tuple[int, int, tuple[float, ...]]
SIDES = LEFT, RIGHT = (0, 1)


def fewest_turns(ranges: Sequence[Range], prefer: Callable[[Range], float]) -> list[float]:
    """As few ways of turning as hit every range, in as few numbers as there then can be.

    Degrees, to the right positive. ``prefer`` takes each number, which is not below 0, out of what the cuts
    made at it have in common.
    """
    *_, chosen = _fewest(ranges)
    numbers = {
        degrees: prefer(_in_common(ranges, chosen, degrees)) for degrees in map(abs, chosen) if degrees
    }
    return sorted({_to_side(numbers.get(abs(turn), 0.0), turn) for turn in chosen})


def _fewest(ranges: Sequence[Range]) -> Turns:
    """The best way to set the saw for all, each number the least that will do."""
    waiting = _waiting(ranges)
    ways: dict[Smallest, Turns] = {(inf, inf): (0, 0, ())}
    for degrees in sorted(waiting, reverse=True):
        ways = _unbeaten(_set_at(degrees, waiting[degrees], ways))
    across = [held for held in ranges if _is_across(held)]
    return min(_with_square(across, smallest, turns) for smallest, turns in ways.items())


def _is_across(held: Range) -> bool:
    """Would square do for a cut? Then either side may."""
    return held[0] <= TOUCH and held[1] >= -TOUCH


def _on(held: Range, side: int) -> Range:
    """A range as degrees to one side."""
    return held if side == RIGHT else (-held[1], -held[0])


def _to_side(degrees: float, turn: float) -> float:
    """Degrees to the side of a turn."""
    return -degrees if turn < 0 else degrees


def _waiting(ranges: Iterable[Range]) -> dict[float, list[tuple[int, float]]]:
    """By the least degrees of a cut: its side and its most; only cuts within whose range no other's lies."""
    sided = [held for held in ranges if not _is_across(held)]
    waiting: dict[float, list[tuple[int, float]]] = {}
    for side in SIDES:
        tightest = inf
        mine = [_on(held, side) for held in sided if (held[0] > 0) == (side == RIGHT)]
        for least, most in sorted(mine, key=lambda held: (-held[0], held[1])):
            if most < tightest:
                tightest = most
                waiting.setdefault(least, []).append((side, most))
    return waiting


def _set_at(
    degrees: float, waiting: Iterable[tuple[int, float]], ways: dict[Smallest, Turns]
) -> Iterator[tuple[Smallest, Turns]]:
    """Each way so far, with the saw set to these degrees where a cut that is not made can wait no longer."""
    for smallest, (count, numbers, chosen) in ways.items():
        due = tuple(sorted({side for side, most in waiting if smallest[side] > most + TOUCH}))
        for sides in {due, SIDES} if due else ((),):
            left, right = (degrees if side in sides else smallest[side] for side in SIDES)
            turns = tuple(degrees if side == RIGHT else -degrees for side in sides)
            yield (left, right), (count + len(sides), numbers + bool(sides), chosen + turns)


def _unbeaten(found: Iterable[tuple[Smallest, Turns]]) -> dict[Smallest, Turns]:
    """The ways than which none does better with settings as small on both sides."""
    kept: dict[Smallest, Turns] = {}
    for smallest, turns in sorted(found, key=lambda each: (each[1], each[0])):
        if not any(left <= smallest[LEFT] and right <= smallest[RIGHT] for left, right in kept):
            kept[smallest] = turns
    return kept


def _with_square(across: Iterable[Range], smallest: Smallest, turns: Turns) -> Turns:
    """With the saw set square as well, if a cut for which that would do is made at no other setting."""
    if all(any(smallest[side] <= _on(held, side)[1] + TOUCH for side in SIDES) for held in across):
        return turns
    count, numbers, chosen = turns
    return count + 1, numbers + 1, (*chosen, 0.0)


def _in_common(ranges: Iterable[Range], chosen: Sequence[float], degrees: float) -> Range:
    """What the cuts have in common that are made at these degrees, each turned as little as will do."""
    least, most = degrees, inf
    for held in ranges:
        turn = min((each for each in chosen if held[0] - TOUCH <= each <= held[1] + TOUCH), key=abs)
        if abs(turn) == degrees:
            first, last = _on(held, LEFT if turn < 0 else RIGHT)
            least, most = max(least, first), min(most, last)
    return least, most

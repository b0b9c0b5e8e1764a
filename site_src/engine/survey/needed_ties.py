"""Which lengths are still to be measured before the corners can be solved.

A corner is held by two lengths to corners that are held already. Followed from
the first two corners on, this says what is lacking before anything is computed.
"""

from collections.abc import Iterable, Sequence

from engine.errors import Finding, Refused
from engine.survey.network import Length

Pairs = set[frozenset[str]]


def refuse_too_few(order: Sequence[str], lengths: Iterable[Length], placed: Sequence[str] = ()) -> None:
    """Raise Refused, naming the lengths to measure, unless every corner is held.

    ``placed`` are the corners that have their x and y already.
    """
    needed = needed_lengths(order, lengths, placed)
    if not needed:
        return
    names = _listed(_as_walls_then_ties(order, needed))
    raise Refused(
        Finding(
            path="room.ties",
            code="too few lengths",
            sentence=f"The lengths do not yet hold all corners in place. Measure {names}. "
            "One more than that, and a wrong reading would show.",
        )
    )


def needed_lengths(
    order: Sequence[str], lengths: Iterable[Length], placed: Sequence[str] = ()
) -> tuple[tuple[str, str], ...]:
    """The lengths to add so that every corner is held, walls before ties, short chains first."""
    known: Pairs = {frozenset((length.from_, length.to)) for length in lengths}
    needed: list[tuple[str, str]] = []
    held = list(placed or order[:2])
    if not placed and frozenset(held) not in known:
        needed.append((order[0], order[1]))
    while len(held) < len(order):
        name = next_corner(order, held, known)
        lacking = 2 - links(name, held, known)
        partners = _partners(order, name, held, known)[: max(lacking, 0)]
        needed += [(partner, name) for partner in partners]
        held.append(name)
    return tuple(needed)


def next_corner(order: Sequence[str], held: Sequence[str], known: Pairs) -> str:
    """The corner with most lengths to held ones; the first in the room's order among equals."""
    left = [name for name in order if name not in held]
    return max(left, key=lambda name: links(name, held, known))


def links(name: str, held: Sequence[str], known: Pairs) -> int:
    """How many lengths tie the corner to held ones."""
    return sum(frozenset((name, other)) in known for other in held)


def _partners(order: Sequence[str], name: str, held: Sequence[str], known: Pairs) -> list[str]:
    """Held corners without a length to this one: its neighbours first, then those round the ring."""
    at = order.index(name)

    def steps(other: str) -> int:
        apart = abs(order.index(other) - at)
        return min(apart, len(order) - apart)

    free = [other for other in held if frozenset((name, other)) not in known]
    return sorted(free, key=steps)


def _as_walls_then_ties(order: Sequence[str], needed: Sequence[tuple[str, str]]) -> list[str]:
    """What to measure, walls first and in the order in which one walks along them."""
    pairs = {frozenset(ends) for ends in needed}
    walls = zip(order, (*order[1:], order[0]), strict=True)
    found = [(a, b) for a, b in walls if frozenset((a, b)) in pairs]
    lengths = {frozenset(ends) for ends in found}
    ties = [ends for ends in needed if frozenset(ends) not in lengths]
    return [*(f"wall {a}–{b}" for a, b in found), *(f"tie {a}–{b}" for a, b in ties)]


def _listed(names: Sequence[str]) -> str:
    first, *then = names
    if not then:
        return f"{first} next"
    return f"{first} next, then {', '.join(then[:-1])}{' and ' if then[:-1] else ''}{then[-1]}"

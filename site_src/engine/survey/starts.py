"""A first guess of the corners, chained from triangles, with the mirror image of each corner tried.

Two lengths leave two places for a corner. The guesses that agree best with all
other lengths and whose walls do not cross are followed on, the rest dropped.
"""

from collections.abc import Iterator, Sequence
from itertools import combinations
from math import dist, sqrt

from msgspec import Struct

from engine.errors import Finding, Refused
from engine.geometry.shapes import Point
from engine.survey.crossing import Segment, count_crossing
from engine.survey.needed_ties import next_corner
from engine.survey.network import Length
from engine.survey.two_tapes import two_tape_fix

Places = dict[str, Point]

# So many guesses are followed at once: all mirror images of a room of ten corners.
BEAM = 256

# A triangle may fail to close by this many standard deviations and count as flat.
SLACK = 4.0


class _Guess(Struct, frozen=True):
    places: Places
    misfit: float
    crossed: int

    @property
    def rank(self) -> tuple[int, float]:
        return self.crossed, self.misfit


def likely_starts(order: Sequence[str], lengths: Sequence[Length], placed: Places) -> list[Places]:
    """Guesses for all corners, the likeliest first; every corner must be held (see ``needed_ties``).

    ``placed`` are corners that have their x and y; without any, the first two
    corners make the frame.
    Raises Refused when a corner's lengths cannot form a triangle in any guess.
    """
    known = {frozenset((length.from_, length.to)) for length in lengths}
    guesses = [_Guess(placed or _first_two(order, lengths), 0.0, 0)]
    while len(guesses[0].places) < len(order):
        name = next_corner(order, tuple(guesses[0].places), known)
        guesses = _followed(order, guesses, name, lengths)
    return [guess.places for guess in guesses]


def _first_two(order: Sequence[str], lengths: Sequence[Length]) -> Places:
    base = next(length for length in lengths if {length.from_, length.to} == set(order[:2]))
    return {order[0]: (0.0, 0.0), order[1]: (base.value, 0.0)}


def _followed(
    order: Sequence[str], guesses: Sequence[_Guess], name: str, lengths: Sequence[Length]
) -> list[_Guess]:
    found: list[_Guess] = []
    refusal: Refused | None = None
    for guess in guesses:
        try:
            spots = _spots(guess.places, name, lengths)
        except Refused as fault:
            refusal = refusal or fault
            continue
        found += [_extended(order, guess, name, spot, lengths) for spot in spots]
    if not found:
        assert refusal is not None
        raise refusal
    return sorted(found, key=lambda guess: guess.rank)[:BEAM]


def _spots(places: Places, name: str, lengths: Sequence[Length]) -> tuple[Point, ...]:
    """Both places that the best triangle allows; raises Refused when none closes."""
    reaches = [(length, other) for length in lengths if (other := _other_end(length, name)) in places]
    refusal: Refused | None = None
    best: tuple[float, tuple[Point, ...]] = (-1.0, ())
    for (one, first), (two, second) in combinations(reaches, 2):
        if first == second:
            continue
        try:
            left = _fix(places, first, second, one, two)
            right = _fix(places, second, first, two, one)
        except Refused as fault:
            refusal = refusal or _named(
                fault, (first, second, name), max(one, two, key=lambda length: length.value)
            )
            continue
        # The height over the base tells how well the two arcs cut each other.
        height = dist(left, right) / dist(places[first], places[second])
        best = max(best, (min(height, 1 / height) if height else 0.0, (left, right)))
    if not best[1]:
        assert refusal is not None
        raise refusal
    return best[1]


def _fix(places: Places, first: str, second: str, one: Length, two: Length) -> Point:
    slack = SLACK * sqrt(one.sd**2 + two.sd**2 + max(one.sd, two.sd) ** 2)
    return two_tape_fix(places[first], places[second], one.value, two.value, slack)


def _other_end(length: Length, name: str) -> str:
    """The other corner of a length from this one; empty when it is not its own."""
    if name == length.from_:
        return length.to
    return length.from_ if name == length.to else ""


def _named(fault: Refused, corners: tuple[str, str, str], longest: Length) -> Refused:
    (finding,) = fault.findings
    reason = finding.sentence[0].lower() + finding.sentence[1:]
    sentence = f"Corners {corners[0]}, {corners[1]} and {corners[2]}: {reason}"
    return Refused(Finding(path=longest.path, code=finding.code, sentence=sentence))


def _extended(
    order: Sequence[str], guess: _Guess, name: str, spot: Point, lengths: Sequence[Length]
) -> _Guess:
    places = {**guess.places, name: spot}
    added = sum(
        ((dist(spot, places[other]) - length.value) / length.sd) ** 2
        for length in lengths
        if (other := _other_end(length, name)) in guess.places
    )
    return _Guess(places, guess.misfit + added, count_crossing(list(_walls(order, places))))


def _walls(order: Sequence[str], places: Places) -> Iterator[Segment]:
    for a, b in zip(order, (*order[1:], order[0]), strict=True):
        if a in places and b in places:
            yield places[a], places[b]

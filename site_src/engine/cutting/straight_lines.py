"""The straight cuts among the treatments of a piece's runs: found, replaced, moved within their bands."""

from collections.abc import Iterator, Mapping

from engine.cutting.corridor import CutLine
from engine.cutting.treatment import StraightCuts, Treatment

Treatments = tuple[Treatment | None, ...]
# Which cut of a piece: the run of its rim, the line of that run.
CutPlace = tuple[int, int]

# How far through its band a cut is moved where another wall's band does not allow the middle, nearest first.
SHARES = (0.35, 0.65, 0.2, 0.8, 0.05, 0.95)
# Two cuts are turned alike to this, degrees.
ALIKE = 1e-9


def lines_of(treatments: Treatments) -> Iterator[tuple[CutPlace, CutLine]]:
    """Every straight cut with its place."""
    for r, treatment in enumerate(treatments):
        for n, line in enumerate(treatment.lines if isinstance(treatment, StraightCuts) else ()):
            yield (r, n), line


def with_lines(treatments: Treatments, lines: Mapping[CutPlace, CutLine]) -> Treatments:
    """The same with other lines for some of the straight cuts."""
    return tuple(
        StraightCuts(tuple(lines.get((r, n), line) for n, line in enumerate(treatment.lines)))
        if isinstance(treatment, StraightCuts)
        else treatment
        for r, treatment in enumerate(treatments)
    )


def at_middle(treatments: Treatments) -> Treatments:
    """The same with each straight cut as near to the nominal gap as it can be at its angle."""
    return with_lines(
        treatments,
        {
            place: line.corridor.line(line.corridor.slope_of(line.angle), line.is_set)
            for place, line in lines_of(treatments)
            if line.corridor
        },
    )


def moved_in_band(treatments: Treatments) -> Iterator[Treatments]:
    """The same with one cut after the other moved through its band at its angle; last, all at once."""
    free = [(place, line.corridor, line) for place, line in lines_of(treatments) if line.corridor]
    for group in [[each] for each in free] + ([free] if len(free) > 1 else []):
        for share in SHARES:
            moved = {
                place: corridor.moved(corridor.slope_of(line.angle), share, line.is_set)
                for place, corridor, line in group
            }
            yield with_lines(treatments, moved)


def are_turned_alike(one: Treatments, other: Treatments) -> bool:
    """Have both the same straight cuts at the same angles, wherever they lie in their bands?"""
    first, second = dict(lines_of(one)), dict(lines_of(other))
    return first.keys() == second.keys() and all(
        abs(line.angle - second[place].angle) < ALIKE for place, line in first.items()
    )

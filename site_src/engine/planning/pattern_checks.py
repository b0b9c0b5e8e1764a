"""What makes no sense in a floor's pattern: a name that there is not, or what the pattern itself finds."""

from collections.abc import Iterator

from engine.errors import Finding
from engine.model.job import Floor
from engine.patterns import find_pattern, pattern_names

# The fields of a floor that only some patterns take.
TAKEN_BY_SOME = ("strips", "angle", "stagger")


def unknown_pattern(floor: Floor) -> Iterator[Finding]:
    """A finding when there is no pattern of that name, with those there are."""
    if floor.pattern not in pattern_names():
        yield Finding(
            path="floor.pattern",
            code="pattern not known",
            sentence=f"There is no pattern called “{floor.pattern}”. "
            f"Choose one of: {', '.join(pattern_names())}.",
        )


def pattern_faults(floor: Floor) -> Iterator[Finding]:
    """All findings about a pattern that there is; the board's measures must be sound."""
    pattern = find_pattern(floor.pattern)
    yield from pattern.faults(floor)
    for name in TAKEN_BY_SOME:
        if getattr(floor, name) is not None and name not in pattern.uses:
            yield Finding(
                path=f"floor.{name}",
                code="not used by the pattern",
                level="note",
                sentence=f"“{name}” says nothing to the pattern {floor.pattern}; it is kept and not used.",
            )

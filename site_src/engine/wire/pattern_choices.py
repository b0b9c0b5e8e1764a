"""The patterns there are, for a page to choose from."""

from engine.patterns import find_pattern, pattern_names
from engine.wire.replies import PatternChoice


def pattern_choices() -> tuple[PatternChoice, ...]:
    """Every pattern, with the entries that it uses."""
    return tuple(PatternChoice(name=name, uses=find_pattern(name).uses) for name in pattern_names())

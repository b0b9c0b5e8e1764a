"""Laying patterns, one file each: a file that defines ``PATTERN`` is found by itself, by its own name."""

from importlib import import_module
from pkgutil import iter_modules

from engine.patterns.pattern import Pattern

# What all patterns share; every other file here is a pattern.
SHARED = ("edge_roles", "lattice", "pattern", "row_lines", "stagger")


def pattern_names() -> tuple[str, ...]:
    """Every pattern there is, in alphabetical order; a low line in a file's name is a space."""
    files = (module.name for module in iter_modules(__path__))
    return tuple(sorted(name.replace("_", " ") for name in files if name not in SHARED))


def find_pattern(name: str) -> Pattern:
    """The pattern of that name. Raises KeyError with the names there are."""
    if name not in pattern_names():
        raise KeyError(f"no pattern {name!r}; there are {', '.join(pattern_names())}")
    pattern = import_module(f"{__name__}.{name.replace(' ', '_')}").PATTERN
    assert isinstance(pattern, Pattern)
    return pattern

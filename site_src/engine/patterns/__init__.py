"""Laying patterns, one file each. A file that defines ``PATTERN`` is found by itself."""

from importlib import import_module
from pkgutil import iter_modules

from engine.patterns.lattice import Pattern


def pattern_names() -> tuple[str, ...]:
    """Every pattern there is, in alphabetical order."""
    return tuple(sorted(module.name for module in iter_modules(__path__) if module.name != "lattice"))


def find_pattern(name: str) -> Pattern:
    """The pattern of that name. Raises KeyError with the names there are."""
    if name not in pattern_names():
        raise KeyError(f"no pattern {name!r}; there are {', '.join(pattern_names())}")
    pattern = import_module(f"{__name__}.{name}").PATTERN
    assert isinstance(pattern, Pattern)
    return pattern

"""Prints what the app weighs on the way to a phone and how fast the engine starts."""


def bench() -> None:
    """Print both tables."""

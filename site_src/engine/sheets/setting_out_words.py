"""The texts of the setting-out sheet as the wire hands them over, with the reader's decimal mark."""

from msgspec import Struct

from engine.patterns.pattern import Hand

# From what, and how far in mm.
Measured = tuple[str, str]


class MarkWords(Struct, frozen=True, kw_only=True):
    """A row of the table: ``ties`` are the two tapes, ``check`` a third one, ``along`` the place at its wall.

    ``note`` says what to do when a tape does not run freely.
    """

    number: str
    ties: tuple[Measured, Measured]
    check: Measured | None
    along: Measured | None
    known_to: str
    note: str


class LineWords(Struct, frozen=True, kw_only=True):
    """A line to strike: what it is, its marks, and ``checks`` in sentences.

    ``is_struck``: it was struck before the floor was taken as it lies, and others are to be struck now.
    """

    name: str
    is_struck: bool
    words: str
    marks: tuple[MarkWords, MarkWords]
    checks: tuple[str, ...]


class SettingOutWords(Struct, frozen=True, kw_only=True):
    """All texts of the sheet; ``numbers`` by piece are its place in the order of laying."""

    lines: tuple[LineWords, ...]
    square: tuple[str, ...]
    first: tuple[str, ...]
    hands: dict[Hand, str]
    in_hand: tuple[str, ...]
    numbers: dict[str, str]
    laying: tuple[str, ...]
    cautions: tuple[str, ...]

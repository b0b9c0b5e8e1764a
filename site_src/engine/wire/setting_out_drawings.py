"""The sheet for the floor as a page shows it, part of the plan's reply; shapes and texts as in drawings."""

from msgspec import Struct

from engine.wire.drawings import BoardPicture, Box, Figure, Label, Spot


class MarkDrawing(Struct, frozen=True, kw_only=True):
    """One mark on the floor: ``ties`` are the two tapes that fix it, ``check`` a third one.

    ``tapes`` are drawn from their corners to the mark. ``along`` is how far along the wall it lies, where
    it lies at one. ``words`` say what to do when a tape does not run freely.
    """

    number: str
    label: Label
    tapes: str
    ties: tuple[Figure, ...]
    check: Figure | None
    along: Figure | None
    known_to: Figure
    words: str


class StrikeDrawing(Struct, frozen=True, kw_only=True):
    """One line to strike, from mark to mark. ``laser``: how far corners lie from it, to its left or right.

    ``field``: from where to where whole boards lie at it; the cutting begins there. ``is_struck``: it
    was before the floor was taken as it lies.
    """

    name: str
    is_struck: bool
    path: str
    words: str
    length: Figure
    marks: tuple[MarkDrawing, ...]
    laser: tuple[Figure, ...]
    field: tuple[Figure, ...]


class SquareDrawing(Struct, frozen=True, kw_only=True):
    """The 3-4-5 over two of the lines; ``diagonals`` are drawn dashed."""

    path: str
    diagonals: str
    labels: tuple[Label, ...]
    figures: tuple[Figure, ...]
    words: tuple[str, ...]


class FirstBoards(Struct, frozen=True, kw_only=True):
    """The first boards where the lines cross, numbered in the order of laying."""

    view_box: Box
    lines: tuple[str, ...]
    boards: tuple[BoardPicture, ...]
    words: tuple[str, ...]


class BoardsInHand(Struct, frozen=True, kw_only=True):
    """Which way round: each hand of board beside the other, the start end nearest to who holds it."""

    view_box: Box
    boards: tuple[BoardPicture, ...]
    words: tuple[str, ...]


class LayingDrawing(Struct, frozen=True, kw_only=True):
    """The order of laying. ``numbers`` by piece, ``waiting`` the cut pieces that are laid last.

    ``field`` is the edge of the whole boards: where the field ends and the cutting begins.
    """

    field: str
    numbers: dict[str, str]
    waiting: tuple[str, ...]
    figures: tuple[Figure, ...]
    words: tuple[str, ...]


class OpeningChoice(Struct, frozen=True, kw_only=True):
    """A wall or opening to whose middle a row axis can be brought; ``ends`` are its two corners."""

    name: str
    words: str
    ends: tuple[Spot, Spot]


class SettingOutSheet(Struct, frozen=True, kw_only=True):
    """All that is set out on the floor before the first board.

    ``as_it_lies`` says what still holds of it once the floor was taken as it lies, else it is empty;
    ``before_change`` asks before the pattern of a floor that was taken so is changed.
    ``through`` says what lies in the middle of an opening to which a row axis is brought; ``openings`` can
    be chosen for it, and ``shut`` says why others cannot. ``letters``: how large those of the marks' numbers
    may be so that none touch, mm of the room; 0 where there is no bound.
    """

    as_it_lies: str
    before_change: str
    through: str
    openings: tuple[OpeningChoice, ...]
    shut: str
    lines: tuple[StrikeDrawing, ...]
    letters: float
    square: SquareDrawing | None
    first: FirstBoards
    in_hand: BoardsInHand
    laying: LayingDrawing
    cautions: tuple[str, ...]

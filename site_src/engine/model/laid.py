"""The floor while it is laid: distances read from laid corners, and where it was taken as it lies."""

from typing import Literal

from msgspec import Struct

from engine.model.readings import Taken

Pair = tuple[float, float]

ROW_AXIS, SQUARE_TO_IT = "row axis", "square to it"


class LaidReading(Taken, frozen=True, kw_only=True, omit_defaults=True):
    """The distance from a corner of a laid board to a wall or to a line that was struck.

    The corner is that of ``piece`` at its ``end`` and on its ``side``, as the board heads. ``to`` is a wall
    (``A–B``) or one of the two lines through the anchor, ``row axis`` and ``square to it``. ``sd`` in mm;
    without it the instrument's.
    """

    piece: str
    end: Literal["start", "far"]
    side: Literal["left", "right"]
    to: str
    sd: float | None = None


class CreepChanged(Struct, frozen=True, kw_only=True):
    """From ``at`` mm on, counted from ``about``, the pattern gains ``by`` more mm for each mm."""

    way: Literal["along", "across"]
    at: float
    by: float


class FloorTaken(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """The floor taken as it lies: from then on what is left is cut for where it lies.

    ``anchor`` and ``axis`` are the floor's at that time, ``pattern`` its pattern and board in words (files
    from before have none: any counts). At ``about`` (a point
    of the plan) the pattern lies ``ahead`` mm along the row axis and ``left`` mm
    to the left of it, turned by ``turn`` degrees counter-clockwise, and from
    there gains ``creep_along`` and ``creep_across`` mm for each mm, from a
    ``change`` on more or less. Pieces in
    ``keeps`` stay as they were cut until then. ``spare`` are pieces that were
    cut and fit their place no more: piece → the place it can be used at (its
    own, cut again), or an empty text.
    """

    time: str = ""
    anchor: Pair
    axis: float
    pattern: str = ""
    about: Pair
    ahead: float
    left: float
    turn: float
    creep_along: float
    creep_across: float
    change: CreepChanged | None = None
    keeps: tuple[str, ...] = ()
    spare: dict[str, str] = {}


class Laid(Struct, frozen=True, kw_only=True, omit_defaults=True):
    """All readings in the order in which they were taken, and each time the floor was taken as it lies."""

    readings: tuple[LaidReading, ...] = ()
    taken: tuple[FloorTaken, ...] = ()

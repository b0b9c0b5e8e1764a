"""What a page shows of the floor as it lies: corners to read, readings, forecast, proposals, pieces held."""

from msgspec import Struct

from engine.wire.drawings import Figure, Spot


class LaidTarget(Struct, frozen=True, kw_only=True):
    """A wall or line that a corner can be read to: ``to`` in files, ``name`` for people; how far by plan."""

    to: str
    name: str
    planned: str


class LaidCorner(Struct, frozen=True, kw_only=True):
    """A corner that is left on a board, and what it can be read to."""

    end: str
    side: str
    name: str
    at: Spot
    targets: tuple[LaidTarget, ...]


class LaidReadingRow(Struct, frozen=True, kw_only=True):
    """One reading on the laid floor that is used: as read, and against the others."""

    id: str
    name: str
    typed: str
    residual: Figure
    is_doubted: bool


class WallEndRow(Struct, frozen=True, kw_only=True):
    """Where the pattern will end at a wall, and the smallest piece there as planned and as the floor lies."""

    wall: str
    off: Figure
    way: str
    planned: Figure
    now: Figure
    warning: str


class CreepRow(Struct, frozen=True, kw_only=True):
    """What the pattern gains along or across its rows: with each, at the front row now, and at the last."""

    name: str
    gain: Figure
    front: Figure
    last: Figure


class ProposalRow(Struct, frozen=True, kw_only=True):
    """One thing to do: in a few words, and in a sentence."""

    kind: str
    title: str
    sentence: str
    can: bool
    best: bool


class HeldRow(Struct, frozen=True, kw_only=True):
    """Pieces that are cut and meet the same fate; ``pieces`` are their ids, and where else they fit."""

    fate: str
    words: str
    count: str
    pieces: tuple[str, ...]

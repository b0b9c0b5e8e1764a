"""The pieces in the order in which the saw is set: every setting once, and at it every place of the stop.

The settings are read off the pieces as they are to be cut, so a piece that was
measured at the wall stands under the setting that it needs now.
"""

from collections.abc import Iterable, Iterator
from itertools import groupby
from math import radians, tan
from typing import Literal

from msgspec import Struct

from engine.cutting.at_fence import AtFence, at_fence, is_stop
from engine.cutting.cuts import Cut
from engine.cutting.saw_angles import Saw
from engine.geometry.board import side_lengths
from engine.planning.pieces import Piece

# A ten-thousandth of a degree or millimetre: what is one setting is the same to that.
DECIMALS = 4
# What a length measured at the wall may differ from the outline before that says nothing of the cut, mm.
SAME = 0.01

# A piece, and which of its cuts on the mitre saw.
PieceCut = tuple[str, int]
Turned = Literal["left", "right", "square"]
BladeSide = Literal["left", "right"]


class SawSetting(Struct, frozen=True, kw_only=True):
    """One setting of the mitre saw, and the cuts made at it, in the order of their list.

    ``angle`` in degrees as on the saw's scale, never below 0; ``turned`` tells to
    which side. ``stop`` is the distance in mm from the blade to the stop, along
    the fence, on the ``side`` of the blade on which the piece lies; None where
    each cut goes by its marks.
    """

    angle: float
    turned: Turned
    stop: float | None
    side: BladeSide
    cuts: tuple[PieceCut, ...]

    @property
    def pieces(self) -> tuple[str, ...]:
        """The pieces cut at it."""
        return tuple(dict.fromkeys(name for name, _ in self.cuts))


def saw_settings(pieces: Iterable[Piece], saw: Saw) -> tuple[SawSetting, ...]:
    """All settings for these pieces, the saw swept once from left to right, the longest stop first.

    Stops from ends that were sawn before come after the others.
    """
    keyed = sorted(
        ((*_key(piece, cut, saw), number, which, piece.id) for number, piece in enumerate(pieces)
         for which, cut in enumerate(turned_cuts(piece, saw))),
    )  # fmt: skip
    return tuple(
        SawSetting(
            angle=abs(turn),
            turned=way_turned(turn),
            stop=-stop if stop < 0 else None,
            side=side,
            cuts=tuple((name, which) for *_, which, name in group),
        )
        for (turn, _, side, stop), group in groupby(keyed, key=lambda each: each[:4])
    )


def turned_cuts(piece: Piece, saw: Saw) -> Iterator[Cut]:
    """The cuts of a piece that the mitre saw makes; of glued pieces one stands for all."""
    for cut in in_order(piece, saw):
        if cut.kind in ("crosscut", "mitre", "corner") and is_on_saw(piece, cut, saw):
            yield cut


def is_on_saw(piece: Piece, cut: Cut, saw: Saw) -> bool:
    """Can the mitre saw make a straight cut? How far it reaches across joined boards was seen to before."""
    across = 0.0 if piece.glued else across_of(piece, cut, saw)
    return is_at_fence(piece, cut) and saw.makes(turn_for(cut, saw), across)


def across_of(piece: Piece, cut: Cut, saw: Saw) -> float:
    """How far off the fence a cut ends (mm)."""
    return _lies(piece, cut, saw).across(cut.points)


def in_order(piece: Piece, saw: Saw) -> tuple[Cut, ...]:
    """The cuts of a piece as they are made: one from whose end another is measured goes first."""
    first = first_cut(piece, saw)
    return piece.sawn.cuts if first is None else tuple(sorted(piece.sawn.cuts, key=lambda cut: cut != first))


def first_cut(piece: Piece, saw: Saw) -> Cut | None:
    """Of a piece that keeps neither end, the cut across it whose end then meets the stop for the other one.

    It is the one that comes first as the saw is swept, of two alike the first by the piece's own order.
    None where there are no two such cuts.
    """
    if piece.sawn.kept_end != "neither" or piece.glued is not None:
        return None
    across = [cut for cut in piece.sawn.cuts if cut.kind in ("crosscut", "mitre")]
    turns = [round(turn_for(cut, saw), DECIMALS) for cut in across]
    if len(across) != 2 or not all(saw.makes(turn, piece.board.width) for turn in turns):
        return None
    return across[turns.index(min(turns))]


def is_at_fence(piece: Piece, cut: Cut) -> bool:
    """Can the piece lie at the mitre saw's fence for a cut? One that is glued on lies where it was glued."""
    glued = piece.glued
    return glued is None or (glued.fence is not None and glued.leads == piece.id and is_as_one(piece, cut))


def is_as_one(piece: Piece, cut: Cut) -> bool:
    """Does a cut go through other pieces too that are glued to this one?"""
    return piece.glued is not None and (cut.barrier.path, cut.barrier.name) in piece.glued.along


def turn_for(cut: Cut, saw: Saw) -> float:
    """How the saw is turned for a cut, in degrees, to the right positive."""
    return saw.turned(cut.angle, keeps_start(cut))


def way_turned(turn: float) -> Turned:
    """Which way the saw is turned."""
    turn = round(turn, DECIMALS)
    return "square" if turn == 0 else "left" if turn < 0 else "right"


def keeps_start(cut: Cut) -> bool:
    """Is the start end of the board on the piece's side of a straight cut?"""
    return cut.points[-1][1] > cut.points[0][1]


def lies_at_fence(piece: Piece, cut: Cut, saw: Saw) -> AtFence:
    """How the board lies on the mitre saw for a cut."""
    lies = _lies(piece, cut, saw)
    first = first_cut(piece, saw)
    return lies if first in (None, cut) or cut.kind == "corner" else lies.after(first.points)


def _lies(piece: Piece, cut: Cut, saw: Saw) -> AtFence:
    """The same before another cut has made its end."""
    size, edge = piece.board.size, piece.glued.fence if piece.glued else None
    return at_fence(size, cut.angle, keeps_start=keeps_start(cut), is_face_up=saw.is_face_up, edge=edge)


def stop_for(piece: Piece, cut: Cut, saw: Saw) -> float | None:
    """How far from the blade the end that stays lies along the fence (mm).

    Of a piece that keeps neither end, the second cut counts from the end that the first one has made.
    None where the corner of that end at the fence is none of the piece's, or where the lengths were
    measured at the wall and do not say this cut.
    """
    lies = lies_at_fence(piece, cut, saw)
    if (piece.sawn.kept_end == "neither" and lies.tip is None) or _is_measured_otherwise(piece):
        return None
    if not lies.protrudes or not lies.has_corner(piece.sawn.outline[0]):
        return None
    if piece.glued and lies.end not in piece.glued.ends:
        return None
    # The saw's angle may differ a little from the line of a piece measured at the wall: both meet half-way.
    (ax, ay), (bx, by) = cut.points[0], cut.points[-1]
    direction = (-tan(radians(cut.angle)), 1.0 if keeps_start(cut) else -1.0)
    stop = lies.stop(((ax + bx) / 2, (ay + by) / 2), direction)
    return stop if is_stop(stop) else None


def _is_measured_otherwise(piece: Piece) -> bool:
    """Are the lengths to cut others than those of the outline?"""
    drawn = side_lengths(piece.sawn.outline[0], piece.board.size)
    return max(abs(drawn["left"] - piece.sawn.left), abs(drawn["right"] - piece.sawn.right)) > SAME


def blade_side(lies: AtFence) -> BladeSide:
    """On which side of the blade the piece and its stop lie."""
    return "left" if lies.is_left else "right"


def _key(piece: Piece, cut: Cut, saw: Saw) -> tuple[float, bool, BladeSide, float]:
    """Turn, side and place of the stop as a negative number: in this order the pieces are cut.

    At one turn those come last that lie against an end which may have been sawn at it just before.
    """
    lies, stop = lies_at_fence(piece, cut, saw), stop_for(piece, cut, saw)
    is_after = lies.tip is not None and stop is not None
    turn = round(turn_for(cut, saw), DECIMALS) + 0.0
    return turn, is_after, blade_side(lies), -round(stop or 0.0, DECIMALS) + 0.0

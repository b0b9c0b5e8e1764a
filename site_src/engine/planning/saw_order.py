"""The pieces in the order in which the saw is set: every setting once, and at it every place of the stop.

The settings are read off the pieces as they are to be cut, so a piece that was
measured at the wall stands under the setting that it needs now.
"""

from collections.abc import Iterable, Iterator
from dataclasses import dataclass
from itertools import groupby
from typing import Literal

from engine.cutting.cuts import Cut
from engine.cutting.saw_angles import Saw
from engine.planning.pieces import Piece

# A ten-thousandth of a degree or millimetre: what is one setting is the same to that.
DECIMALS = 4
# A stop nearer to either end of the board than this is none, mm.
LEAST_STOP = 1.0

Turned = Literal["left", "right", "square"]


@dataclass(frozen=True, kw_only=True, slots=True)
class SawSetting:
    """One setting of the mitre saw, and the pieces cut at it (ids, in the order of their list).

    ``angle`` in degrees is that of the pieces: its sign tells which long edge
    stays longer, and so which lies at the fence. ``turned`` tells which way
    the saw is turned for it. ``stop`` is the distance in mm from the blade to
    the stop, along the fence; None where each cut goes by its marks.
    """

    angle: float
    turned: Turned
    stop: float | None
    pieces: tuple[str, ...]


def saw_settings(pieces: Iterable[Piece], saw: Saw) -> tuple[SawSetting, ...]:
    """All settings for these pieces, the saw swept once from left to right, the longest stop first."""
    keyed = sorted(
        ((*_key(piece, cut, saw), number, piece.id) for number, piece in enumerate(pieces)
         for cut in turned_cuts(piece, saw)),
    )  # fmt: skip
    return tuple(
        SawSetting(
            angle=angle,
            turned=way_turned(turn),
            stop=-stop if stop < 0 else None,
            pieces=tuple(dict.fromkeys(name for *_, name in group)),
        )
        for (turn, stop, angle), group in groupby(keyed, key=lambda each: each[:3])
    )


def turned_cuts(piece: Piece, saw: Saw) -> Iterator[Cut]:
    """The cuts of a piece that the mitre saw makes."""
    for cut in piece.sawn.cuts:
        if cut.kind in ("crosscut", "mitre", "corner") and saw.only(turn_for(cut, saw)):
            yield cut


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


def stop_for(piece: Piece, cut: Cut) -> float | None:
    """The long point of a piece with one straight cut, from the factory end that stays (mm)."""
    others = [each for each in piece.sawn.cuts if each.kind != "hole"]
    if len(others) > 1 or piece.board.size.lean:
        return None
    longer = piece.sawn.right if cut.angle >= 0 else piece.sawn.left
    return longer if LEAST_STOP <= longer <= piece.board.length - LEAST_STOP else None


def _key(piece: Piece, cut: Cut, saw: Saw) -> tuple[float, float, float]:
    """Turn, place of the stop as a negative number, angle: in this order the pieces are cut."""
    stop = stop_for(piece, cut)
    turn, angle = (round(value, DECIMALS) + 0.0 for value in (turn_for(cut, saw), cut.angle))
    return turn, -round(stop or 0.0, DECIMALS) + 0.0, angle

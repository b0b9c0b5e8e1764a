"""How a board lies while a piece is cut from it: on the mitre saw, or marked on its face or back.

On the mitre saw the longer edge lies at the fence, and the fence is at the top of the drawing. Turned round
or turned over, a board's left and right change places; so must the drawing.
"""

from dataclasses import dataclass

from engine.cutting.cuts import Cut
from engine.geometry.board import BoardSize
from engine.geometry.shapes import Point, Ring
from engine.model.job import Cutting
from engine.planning.pieces import Piece
from engine.planning.saw_order import stop_for, turned_cuts
from engine.planning.tools import mitre_saw


@dataclass(frozen=True, kw_only=True, slots=True)
class Lie:
    """A board's own frame turned as the board lies. ``is_round``: its start end is at the right.

    ``is_back_up``: what is seen is its back. ``cut`` is the cut for which it lies on the mitre saw, its
    ``stop`` along the fence in mm from the blade; both None where it is marked and cut by hand.
    """

    size: BoardSize
    is_round: bool
    is_back_up: bool
    cut: Cut | None = None
    stop: float | None = None

    def point(self, point: Point) -> Point:
        """A point of the board's frame where it is seen."""
        x, y = point
        long, width = self.size.length + self.size.lean, self.size.width
        is_low = self.is_round != self.is_back_up
        return (long - x if self.is_round else x, width - y if is_low else y)

    def ring(self, ring: Ring) -> Ring:
        """A ring where it is seen."""
        return tuple(self.point(point) for point in ring)

    @property
    def stop_at(self) -> Point | None:
        """Where the stop touches the end of the board, at the fence."""
        if self.stop is None:
            return None
        assert self.cut is not None
        keeps_start = self.cut.points[-1][1] > self.cut.points[0][1]
        across = 0.0 if self.cut.angle > 0 else self.size.width
        return self.point((0.0 if keeps_start else self.size.length, across))


def lie_of(piece: Piece, cutting: Cutting) -> Lie:
    """How the board lies for a piece's first cut on the mitre saw; else how it lies to be marked."""
    size = piece.board.size
    cut = next(turned_cuts(piece, mitre_saw(cutting)), None) if "mitre saw" in cutting.tools else None
    if cut is None:
        return Lie(size=size, is_round=False, is_back_up=cutting.marked_on == "back")
    is_right_at_fence, is_back_up = cut.angle > 0, cutting.face == "down"
    return Lie(
        size=size,
        is_round=is_right_at_fence != is_back_up,
        is_back_up=is_back_up,
        cut=cut,
        stop=stop_for(piece, cut),
    )

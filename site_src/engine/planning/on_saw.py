"""How a board lies while a piece is cut from it: on the mitre saw, or marked on its face or back.

On the mitre saw the fence is at the top of the drawing. Turned round or turned over, a board's left and
right change places; so must the drawing.
"""

from msgspec import Struct

from engine.cutting.at_fence import AtFence
from engine.cutting.cuts import Cut
from engine.geometry.board import BoardSize
from engine.geometry.shapes import Point, Ring
from engine.model.job import Cutting
from engine.planning.pieces import Piece
from engine.planning.saw_order import first_cut, lies_at_fence, stop_for, turned_cuts
from engine.planning.tools import mitre_saw


class Lie(Struct, frozen=True, kw_only=True):
    """A board's own frame turned as the board lies. ``is_round``: its start end is at the right.

    ``is_back_up``: what is seen is its back. ``cut`` is the cut for which it lies on the mitre saw ``at`` the
    fence, its ``stop`` along the fence in mm from the blade; all None where it is marked and cut by hand.
    ``first`` is the cut that has made the end at the stop.
    """

    size: BoardSize
    is_round: bool
    is_back_up: bool
    cut: Cut | None = None
    at: AtFence | None = None
    stop: float | None = None
    first: Cut | None = None

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
        return None if self.stop is None or self.at is None else self.point(self.at.corner)


def lies_of(piece: Piece, cutting: Cutting) -> tuple[Lie, ...]:
    """How the board lies for each of a piece's cuts on the mitre saw; else how it lies to be marked."""
    size, saw = piece.board.size, mitre_saw(cutting)
    cuts = tuple(turned_cuts(piece, saw)) if "mitre saw" in cutting.tools else ()
    if not cuts:
        return (Lie(size=size, is_round=False, is_back_up=cutting.marked_on == "back"),)
    return tuple(_on_saw(piece, cut, cutting) for cut in cuts)


def _on_saw(piece: Piece, cut: Cut, cutting: Cutting) -> Lie:
    saw = mitre_saw(cutting)
    at = lies_at_fence(piece, cut, saw)
    return Lie(
        size=piece.board.size,
        is_round=at.is_right == saw.is_face_up,
        is_back_up=not saw.is_face_up,
        cut=cut,
        at=at,
        stop=stop_for(piece, cut, saw),
        first=first_cut(piece, saw) if at.tip else None,
    )

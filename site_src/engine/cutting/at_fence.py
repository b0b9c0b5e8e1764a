"""How a board lies at the mitre saw's fence for one cut, and how far off its end a stop stands.

The long point lies at the fence. Where a chevron's end leans so that another than its corner at the fence
would meet the stop, the board is turned half round: the cut is the same, and the short point lies there.
"""

from collections.abc import Iterable, Sequence
from math import dist
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from engine.geometry.board import BoardSize
from engine.geometry.shapes import Point

# The long edge of a board that lies at the fence.
FenceEdge = Literal["right", "left"]
# The end of it that stays.
KeptSide = Literal["start", "far"]

# A stop nearer to the blade than this is none, mm.
LEAST = 1.0
# Nearer to square than this is square, degrees.
SQUARE = 0.00005
# A corner of the board this near to a point of the piece is there, mm.
THERE = 0.01


class AtFence(Struct, frozen=True, kw_only=True):
    """``is_right``: the right long edge lies at the fence, else the left one.

    ``keeps_start`` tells which end stays. ``is_left``: seen from above, the fence behind, the piece lies to
    the left of the blade. ``tip`` is what meets the stop of an end that another cut has made.
    """

    size: BoardSize
    is_right: bool
    keeps_start: bool
    is_left: bool
    tip: Point | None = None

    @property
    def corner(self) -> Point:
        """Where the end that stays meets the edge at the fence, in the board's frame."""
        if self.tip is not None:
            return self.tip
        start_right, far_right, far_left, start_left = self.size.ring
        if self.is_right:
            return start_right if self.keeps_start else far_right
        return start_left if self.keeps_start else far_left

    @property
    def end(self) -> KeptSide:
        """The end that stays."""
        return "start" if self.keeps_start else "far"

    @property
    def protrudes(self) -> bool:
        """Does the end reach farthest at the fence, so that its corner there meets the stop?"""
        lean = self.size.lean
        return self.tip is not None or lean == 0 or (lean > 0) == (self.is_right == self.keeps_start)

    def after(self, cut: Sequence[Point]) -> "AtFence":
        """The same with the end made by another cut across the board.

        The board is turned half round where the farther point of that end would else lie off the fence.
        """
        at_right, at_left = sorted((cut[0], cut[-1]), key=lambda point: point[1])
        tip, other = (at_right, at_left) if self.is_right else (at_left, at_right)
        short = tip[0] - other[0] if self.keeps_start else other[0] - tip[0]
        if short < THERE:
            return replace(self, tip=tip)
        return replace(self, tip=other, is_right=not self.is_right, is_left=not self.is_left)

    def stop(self, at: Point, direction: Point) -> float:
        """How far along the fence it is from the line of a cut to the corner (mm)."""
        x, y = self.corner
        crossing = at[0] + (y - at[1]) * direction[0] / direction[1]
        return crossing - x if self.keeps_start else x - crossing

    def point(self, stop: float) -> Point:
        """Where the line of a cut crosses the edge at the fence when the stop stands so far off."""
        x, y = self.corner
        return (x + stop if self.keeps_start else x - stop, y)

    def across(self, points: Iterable[Point]) -> float:
        """How far off the fence the farthest of these points lies (mm)."""
        return max(y if self.is_right else self.size.width - y for _, y in points)

    def has_corner(self, points: Iterable[Point]) -> bool:
        """Is the corner among these points of a piece?"""
        return any(dist(point, self.corner) < THERE for point in points)


def at_fence(
    size: BoardSize, angle: float, *, keeps_start: bool, is_face_up: bool, edge: FenceEdge | None = None
) -> AtFence:
    """How the board lies for a cut of this saw angle. Square, the piece lies to the right of the blade.

    ``edge``: the only one that can lie at the fence, where other boards are joined to this one.
    """
    if edge is not None:
        return _lies(size, edge == "right", keeps_start, is_face_up)
    is_right = keeps_start == is_face_up if abs(angle) < SQUARE else angle > 0
    lies = _lies(size, is_right, keeps_start, is_face_up)
    return lies if lies.protrudes else _lies(size, not is_right, keeps_start, is_face_up)


def _lies(size: BoardSize, is_right: bool, keeps_start: bool, is_face_up: bool) -> AtFence:
    # Face up and the right long edge at the fence, the board heads to the left.
    is_left = keeps_start != (is_right == is_face_up)
    return AtFence(size=size, is_right=is_right, keeps_start=keeps_start, is_left=is_left)


def is_stop(stop: float) -> bool:
    """Is a stop so far off the blade that it can stand there?"""
    return stop >= LEAST

"""One cut for several boards that are glued to one: the same line in the frame of each of them.

The first board lies against the saw's fence, so the cut's angle, its stop and its freedom are those in its
frame; on the others the line lies where it lies on the floor.
"""

from collections.abc import Iterator, Sequence

from msgspec import Struct
from msgspec.structs import replace

from engine.cutting.at_fence import FenceEdge, KeptSide
from engine.cutting.corridor import Corridor, CutLine
from engine.cutting.freedom import Freedom
from engine.geometry.frame import Frame
from engine.geometry.shapes import Point

# Which cut: the piece, the run of its rim, the line of that run.
Place = tuple[int, int, int]


class JoinedCut(Struct, frozen=True, kw_only=True):
    """The places of one cut on all pieces that it goes through; the first has this edge at the fence.

    A stop may stand against its ``ends``.
    """

    places: tuple[Place, ...]
    fence: FenceEdge
    ends: frozenset[KeptSide]

    def lines(self, line: CutLine, pieces: Sequence[Freedom]) -> Iterator[tuple[Place, CutLine]]:
        """The cut on each piece, from its ``line`` on the first."""
        frame = _frame(pieces, self.places[0])
        for place in self.places:
            moved = line_between(line, frame, _frame(pieces, place))
            yield place, line if place == self.places[0] else moved


def _frame(pieces: Sequence[Freedom], place: Place) -> Frame:
    return pieces[place[0]].plan.field.frame


def line_between(line: CutLine, now: Frame, then: Frame) -> CutLine:
    """A cut of one board's frame in that of another; it has no freedom of its own there."""
    in_room = replace(line, at=now.to_room(line.at), direction=_turned(line.direction, now), corridor=None)
    return line_in(in_room, then)


def line_in(line: CutLine, frame: Frame) -> CutLine:
    """A cut of the room in a board's frame, with all the cuts that it was chosen from."""
    return replace(
        line,
        at=frame.to_board(line.at),
        direction=_back(line.direction, frame),
        corridor=None if line.corridor is None else _corridor_in(line.corridor, frame),
    )


def _corridor_in(corridor: Corridor, frame: Frame) -> Corridor:
    return replace(corridor, origin=frame.to_board(corridor.origin), along=_back(corridor.along, frame))


def _turned(direction: Point, frame: Frame) -> Point:
    x, y = frame.to_room(direction)
    return x - frame.x, y - frame.y


def _back(direction: Point, frame: Frame) -> Point:
    return frame.to_board((direction[0] + frame.x, direction[1] + frame.y))

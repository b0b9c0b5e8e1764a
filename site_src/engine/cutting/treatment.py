"""How one cut curve of a piece is sawn: not at all, straight, along two legs, or as marked.

The curve runs counter-clockwise round the piece, from one point of the board's
rim to another, with the piece on its left.
"""

from collections.abc import Iterable, Sequence
from itertools import pairwise

from msgspec import Struct
from msgspec.structs import replace

from engine.cutting.band import BOTH, Ends, LeewayAt, kept_corner, out_of_reach, strip_of
from engine.cutting.board_edges import Run
from engine.cutting.corridor import CutLine, Strip
from engine.cutting.half_plane import crossing, meeting
from engine.cutting.legs import Leg, legs_of, turns_outward
from engine.cutting.loops import without_loops
from engine.cutting.saw_error import less_the_error, off_by
from engine.cutting.straight_cut import best_cut
from engine.geometry.board import BoardSize
from engine.geometry.shapes import Point

# A joint of a notch this near to the board is on it, mm.
ON_BOARD = 0.001


class LeaveWhole(Struct, frozen=True):
    """The board may stay as it is here: the gap is inside its band without a cut."""


class StraightCuts(Struct, frozen=True):
    """One straight cut, or several that meet in a point of the piece."""

    lines: tuple[CutLine, ...]


class Notch(Struct, frozen=True):
    """A bite out of the piece: what replaces the curve, the inner round drilled."""

    points: tuple[Point, ...]
    is_set: bool


class AsMarked(Struct, frozen=True):
    """No straight cut holds the band: the curve itself is marked and sawn."""

    points: tuple[Point, ...]
    is_round: bool


Treatment = LeaveWhole | StraightCuts | Notch | AsMarked


class Sawing(Struct, frozen=True, kw_only=True):
    """What treating a curve depends on besides the curve."""

    size: BoardSize
    leeway_at: LeewayAt
    saw_step: float
    saw_error: float = 0.0


def treat(run: Run, rim: Sequence[Point], sawing: Sawing) -> Treatment:
    """The simplest way of sawing one cut run that keeps the gap inside its band.

    ``rim`` are the corners of the nominal piece that lie on the board's rim.
    """
    size, leeway_at = sawing.size, sawing.leeway_at
    less, more = (min(ways) for ways in zip(*(leeway_at(point) for point in run.points), strict=True))
    falls = out_of_reach(size.walk(run.points[0], run.points[-1]), run.points, less)
    if not falls and not strip_of(run.points, leeway_at, size).fall:
        return LeaveWhole()
    strip = _sawn_strip(run.points, sawing, BOTH)
    keeps = out_of_reach(rim, run.points, more)
    whole = Strip(nominal=strip.nominal, keep=strip.keep + keeps, fall=strip.fall + falls)
    line = best_cut(whole, sawing.saw_step)
    if line is not None:
        return StraightCuts((line,))
    return _treat_legs(run.points, keeps, sawing)


def treat_closed(run: Run, sawing: Sawing) -> Treatment:
    """The same for a piece that is cut all round: straight when every leg is, else as marked."""
    return _treat_legs(_from_a_corner(run.points), (), sawing)


def _treat_legs(points: Sequence[Point], keeps: Sequence[Point], sawing: Sawing) -> Treatment:
    legs = legs_of(points)
    marked = AsMarked(tuple(points), is_round=all(leg.is_round for leg in legs))
    corners = [None, *(_corner_of(*pair, sawing) for pair in pairwise(legs)), None]
    lines = [
        None if leg.is_round else _leg_cut(leg, sawing, Ends(leg is legs[0], leg is legs[-1]), at_ends)
        for leg, at_ends in zip(legs, pairwise(corners), strict=True)
    ]
    straight = tuple(line for line in lines if line is not None)
    if len(legs) == 1 or len(straight) < sum(not leg.is_round for leg in legs):
        return marked
    if len(straight) == len(legs) and not turns_outward(points):
        return _convex(straight, keeps) or marked
    return _notch(legs, lines, sawing.size) or marked


def _corner_of(before: Leg, after: Leg, sawing: Sawing) -> Point | None:
    """What must stay where two straight legs meet, if it lies in the board."""
    if before.is_round or after.is_round:
        return None
    corner = kept_corner(before.points, after.points, sawing.leeway_at)
    return corner if corner is not None and sawing.size.holds(corner, ON_BOARD) else None


def _leg_cut(leg: Leg, sawing: Sawing, ends: Ends, corners: Iterable[Point | None]) -> CutLine | None:
    strip = _sawn_strip(leg.points, sawing, ends)
    keep = (*strip.keep, *(corner for corner in corners if corner is not None))
    return best_cut(replace(strip, keep=keep), sawing.saw_step)


def _sawn_strip(points: Sequence[Point], sawing: Sawing, ends: Ends) -> Strip:
    """What of the band a cut may use: the saw's error is left of it."""
    off = off_by(points, sawing.size, sawing.saw_error)
    return strip_of(points, less_the_error(sawing.leeway_at, off), sawing.size, ends)


def _convex(lines: tuple[CutLine, ...], keeps: Sequence[Point]) -> StraightCuts | None:
    """Cuts that meet at an outward point, provided that none of them takes off what must stay."""
    if any(line.side(point) < 0 for line in lines for point in keeps):
        return None
    return StraightCuts(lines)


def _notch(legs: Sequence[Leg], lines: Sequence[CutLine | None], size: BoardSize) -> Notch | None:
    """The legs' cuts from rim to rim with the rounds between them; None when a joint leaves the board."""
    joints = [leg.points[0] for leg in legs] + [legs[-1].points[-1]]
    placed = [
        _joint(point, before, after, size)
        for point, before, after in zip(joints, [None, *lines], [*lines, None], strict=True)
    ]
    points = placed[:1]
    for leg, before, after, joint in zip(legs, [None, *lines], [*lines[1:], None], placed[1:], strict=False):
        inner: tuple[Point, ...] = ()
        if leg.is_round:
            inner, first = _from_a_tip(leg.points[1:-1], before)
            turned_round, last = _from_a_tip(inner[::-1], after)
            inner, points[-1], joint = turned_round[::-1], first or points[-1], last or joint
        points += [*inner, joint]
    path = without_loops(points)
    if not all(size.holds(point, ON_BOARD) for point in path):
        return None
    return Notch(path, is_set=all(line is None or line.is_set for line in lines))


def _from_a_tip(points: Sequence[Point], line: CutLine | None) -> tuple[tuple[Point, ...], Point | None]:
    """The points of a round from where it comes up through the cut beside it, and that place.

    A pipe's round and a wall's leg may meet in a sharp tip: set a little otherwise, the leg then crosses
    the round. All of a round that touches its leg lies beyond it and stays.
    """
    sides = [line.side(point) for point in points] if line else []
    up = next((i for i, side in enumerate(sides) if side >= 0), 0)
    if up == 0:
        return tuple(points), None
    return tuple(points[up:]), crossing(points[up - 1], points[up], sides[up - 1], sides[up])


def _joint(point: Point, before: CutLine | None, after: CutLine | None, size: BoardSize) -> Point:
    """Where the point between two legs comes to lie: on both their cuts, or on the one there is."""
    if before is not None and after is not None:
        return meeting(before, after) or _foot(point, after)
    line = before or after
    if line is None:
        return point
    return _on_rim(point, line, size) or _foot(point, line)


def _on_rim(point: Point, line: CutLine, size: BoardSize) -> Point | None:
    """Where a cut crosses the line of the board's side on which ``point`` lies."""
    dx, dy = line.direction
    side = size.side_of(point)
    if side in ("right", "left") and dy != 0:
        y = 0.0 if side == "right" else size.width
        return (line.at[0] + (y - line.at[1]) * dx / dy, y)
    along = dx - size.lean * dy / size.width
    if side in ("start", "far") and along != 0:
        end = 0.0 if side == "start" else size.length
        y = line.at[1] + (end - size.along(line.at)) * dy / along
        return (end + size.lean * y / size.width, y)
    return None


def _foot(point: Point, line: CutLine) -> Point:
    """The nearest point of a cut."""
    off = line.side(point)
    return (point[0] + line.direction[1] * off, point[1] - line.direction[0] * off)


def _from_a_corner(points: Sequence[Point]) -> tuple[Point, ...]:
    """A closed curve begun at one of its corners, so that no leg is split."""
    ring = tuple(points[:-1])
    for i in range(len(ring)):
        if len(legs_of((ring[i - 1], ring[i], ring[(i + 1) % len(ring)]))) > 1:
            return (*ring[i:], *ring[: i + 1])
    return tuple(points)

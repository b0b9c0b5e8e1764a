"""A convex thing near an edge of the floor: what it surely takes of a board there, over a range of phases.

A board that moves by up to so much along and across cannot get away from a thing
that has been made smaller by as much all round.
"""

from collections.abc import Sequence
from itertools import pairwise
from math import ceil, dist, hypot

from msgspec import Struct

from engine.geometry.frame import Frame
from engine.geometry.hull import convex_hull, turn_of
from engine.geometry.shapes import Point, Ring
from engine.setting_out.rim import Stretch

# A round thing is known by corners whose sides leave it by no more than this, mm; over ranges by so few.
NEARLY = 0.05
MOST_CORNERS = 16
# The rim round a thing may turn towards the floor by rounding alone, mm².
ROUNDING = 1e-3


class Thing(Struct, frozen=True):
    """A convex thing in the frame of an edge: its ring, counter-clockwise, and some of its corners.

    ``radius`` is that of a circle round ``centre`` that holds it. ``shares``: by what part of its
    distance from the centre each side of the few moves in for a mm along the edge, and for one across.
    """

    ring: Ring
    few: Ring
    centre: Point
    radius: float
    shares: tuple[tuple[float, float], ...]

    def is_near(self, stations: Sequence[float], across: Sequence[float], more: float) -> bool:
        """May a board by its corners come to it by a move of some mm?"""
        (x, y), half = self.centre, hypot(stations[2] - stations[0], across[2] - across[0]) / 2
        half = max(half, hypot(stations[3] - stations[1], across[3] - across[1]) / 2)
        middle = (stations[0] + stations[2]) / 2, (across[0] + across[2]) / 2
        return hypot(middle[0] - x, middle[1] - y) < self.radius + half + more

    def smaller(self, along: float, up: float) -> Ring | None:
        """A ring that lies within it however it is moved by up to some mm; None where nothing is left."""
        if not along and not up:
            return self.ring
        scale = 1 - max(along * one + up * other for one, other in self.shares)
        x, y = self.centre
        return tuple((x + scale * (u - x), y + scale * (v - y)) for u, v in self.few) if scale > 0 else None


def thing_ring(stretch: Stretch) -> Ring | None:
    """The ring that a stretch of the rim goes round, the thing on its right; None unless it is convex."""
    points = stretch.points
    turns = (turn_of(a, b, c) for (a, b), c in zip(pairwise(points), points[2:], strict=False))
    if len(points) < 4 or any(turn > ROUNDING for turn in turns):
        return None
    return _nearly(convex_hull(points))


def thing_in(ring: Ring, frame: Frame) -> Thing:
    """A convex ring, counter-clockwise, as a thing in a frame."""
    local = frame.ring_to_board(ring)
    few = local[:: ceil(len(local) / MOST_CORNERS)]
    centre = sum(x for x, _ in few) / len(few), sum(y for _, y in few) / len(few)
    sides = zip(few, few[1:] + few[:1], strict=True)
    shares = tuple(
        (abs(by - ay) / turn_of(a, b, centre), abs(bx - ax) / turn_of(a, b, centre))
        for a, b in sides
        for (ax, ay), (bx, by) in [(a, b)]
    )
    return Thing(local, few, centre, max(dist(centre, point) for point in local), shares)


def _nearly(hull: Ring) -> Ring:
    """A convex ring by those of its corners that it takes to be near to all."""
    kept = [0]
    for place in range(1, len(hull)):
        a, b = hull[kept[-1]], hull[(place + 1) % len(hull)]
        passed = hull[kept[-1] + 1 : place + 1]
        if any(abs(turn_of(a, b, point)) > NEARLY * dist(a, b) for point in passed):
            kept.append(place)
    return tuple(hull[place] for place in kept)

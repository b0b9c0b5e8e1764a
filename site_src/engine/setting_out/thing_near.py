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

# A round thing is known by so many of its corners at the most.
MOST_CORNERS = 16
# The rim round a thing may turn towards the floor by rounding alone, mm².
ROUNDING = 1e-3


class Thing(Struct, frozen=True):
    """A convex thing in the frame of an edge.

    ``faces``: inward normal and what is added to it, so that inside all are positive (mm).
    ``radius`` is that of a circle round ``centre`` that holds it, ``size`` how far it
    reaches along the edge and across it.
    """

    faces: tuple[tuple[float, float, float], ...]
    centre: Point
    radius: float
    size: Point

    def is_near(self, stations: Sequence[float], across: Sequence[float], more: float) -> bool:
        """May a board by its corners come to it by a move of some mm?"""
        (x, y), half = self.centre, hypot(stations[2] - stations[0], across[2] - across[0]) / 2
        half = max(half, hypot(stations[3] - stations[1], across[3] - across[1]) / 2)
        middle = (stations[0] + stations[2]) / 2, (across[0] + across[2]) / 2
        return hypot(middle[0] - x, middle[1] - y) < self.radius + half + more

    def is_left(self, along: float, up: float) -> bool:
        """Is anything left of it once it is smaller by some mm on all sides?"""
        return 2 * along < self.size[0] and 2 * up < self.size[1]

    def depths(
        self, stations: Sequence[float], across: Sequence[float], along: float, up: float
    ) -> list[list[float]] | None:
        """How deep each corner of a board stands in each face, once the thing is smaller by some mm.

        None when the board lies wholly beyond one of them.
        """
        corners, depths = list(zip(stations, across, strict=True)), []
        for nx, ny, off in self.faces:
            off -= abs(nx) * along + abs(ny) * up
            depth = [nx * s + ny * t + off for s, t in corners]
            if max(depth) <= 0:
                return None
            depths.append(depth)
        return depths


def thing_ring(stretch: Stretch) -> Ring | None:
    """The ring that a stretch of the rim goes round, the thing on its right; None unless it is convex."""
    points = stretch.points
    turns = (turn_of(a, b, c) for (a, b), c in zip(pairwise(points), points[2:], strict=False))
    if len(points) < 4 or any(turn > ROUNDING for turn in turns):
        return None
    hull = convex_hull(points)
    return hull[:: ceil(len(hull) / MOST_CORNERS)]


def thing_in(ring: Ring, frame: Frame) -> Thing:
    """A convex ring, counter-clockwise, as a thing in a frame."""
    local = frame.ring_to_board(ring)
    faces = []
    for (ax, ay), (bx, by) in zip(local, local[1:] + local[:1], strict=True):
        length = hypot(bx - ax, by - ay)
        nx, ny = (ay - by) / length, (bx - ax) / length
        faces.append((nx, ny, -nx * ax - ny * ay))
    centre = sum(x for x, _ in local) / len(local), sum(y for _, y in local) / len(local)
    xs, ys = zip(*local, strict=True)
    size = max(xs) - min(xs), max(ys) - min(ys)
    return Thing(tuple(faces), centre, max(dist(centre, point) for point in local), size)

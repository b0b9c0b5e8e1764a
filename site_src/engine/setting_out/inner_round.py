"""The round about an inner corner of the room: there the floor's rim keeps its gap to both walls at once."""

from collections.abc import Sequence
from math import dist

from msgspec import Struct

from engine.geometry.plane import comes_within, in_ring
from engine.geometry.shapes import Point, Region, Ring


class InnerRound(Struct, frozen=True):
    """Points at ``radius`` mm, a wall's gap, from the ``corner`` in which that wall ends."""

    corner: Point
    radius: float

    def is_near(self, point: Point, slack: float) -> bool:
        """Does a point of the floor lie on the round, to within ``slack`` mm?"""
        return dist(point, self.corner) <= self.radius + slack

    def is_met_by(self, ring: Sequence[Point], slack: float) -> bool:
        """Does a convex board come to within ``slack`` mm of the round, or over it?"""
        ring = tuple(ring)
        return self.is_touched_by(ring, slack) or in_ring(self.corner, ring)

    def is_touched_by(self, ring: Ring, slack: float) -> bool:
        """Does the outline of a part of the floor come to within ``slack`` mm of the round?"""
        return comes_within(ring, self.corner, self.radius + slack)


def inner_round(corner: Point, gap: float, lay_area: Region, slack: float) -> InnerRound | None:
    """The round about a wall's end, None where the floor does not go round it."""
    found = InnerRound(corner, gap)
    on_it = [
        point for polygon in lay_area for ring in polygon for point in ring if found.is_near(point, slack)
    ]
    return found if len(on_it) > 1 else None

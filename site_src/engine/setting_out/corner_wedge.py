"""What one side of a board bars at an outer corner of the floor.

While the corner lies in the board, some piece lies there, along both edges. When one
side of the board passes it by, that piece is no more than a triangle between the two
edges and that side, which grows with how deep the corner lies in the board. No edge by
itself tells of it: such a board may rise over neither while it moves along its own side.
"""

from collections.abc import Iterator, Sequence
from itertools import chain
from math import cos, hypot, inf, radians, sin, sqrt

from msgspec import Struct

from engine.geometry.shapes import Point
from engine.model.setting_out import Measure
from engine.setting_out.barred import Strip
from engine.setting_out.edge_line import EdgeLine

# A side that runs so nearly along an edge cuts no triangle off the corner, sine of the angle.
ALONG = 0.02
# A corner this near to where its edges meet has no round, mm.
SHARP = 1e-6
# Long edges are those from a board's first corner to its second, and from its third to its fourth.
LONG = (0, 2)


class Wedge(Struct, frozen=True):
    """An outer corner in the frame of one of its edges.

    ``corner`` is where that edge ends; the floor reaches no farther than between the two unit vectors
    ``ways`` from ``apex``, as far as a board goes.
    """

    corner: Point
    apex: Point
    ways: tuple[Point, Point]

    def triangle(self, normal: Point, is_long: bool, heading: Point, measure: Measure) -> float:
        """What a side leaves of the floor by the measure, when the apex lies a mm deep in it.

        ``normal`` is the side's, inwards; ``is_long``: is it a long edge? Long edges head along ``heading``.
        Infinite when it cuts no triangle off. Areas grow with the square of the depth, lengths with it.
        """
        (ux, uy), (vx, vy) = self.ways
        down, across = -ux * normal[0] - uy * normal[1], -vx * normal[0] - vy * normal[1]
        if down < ALONG or across < ALONG:
            return inf
        if measure == "area":
            return abs(ux * vy - uy * vx) / (2 * down * across)
        if not is_long:
            # Between a short end and its parallel through the apex no long edge is longer than this.
            return 1 / max(abs(heading[0] * normal[0] + heading[1] * normal[1]), ALONG)
        return hypot(ux / down - vx / across, uy / down - vy / across)

    def missed(self, ring: Sequence[Point]) -> float | None:
        """How far a board ends from the corner, in mm, where one side alone passes it by; None else."""
        found = None
        for normal, depth in depths_in(ring, self.corner):
            if depth < 0:
                if found is not None or any(x * normal[0] + y * normal[1] > -ALONG for x, y in self.ways):
                    return None
                found = -depth
        return found


def depths_in(ring: Sequence[Point], point: Point) -> Iterator[tuple[Point, float]]:
    """The inward normal of each side of a board, and how deep a point lies in it, mm."""
    x, y = point
    for (ax, ay), (bx, by) in zip(ring, (*ring[1:], ring[0]), strict=True):
        length = hypot(bx - ax, by - ay)
        nx, ny = (ay - by) / length, (bx - ax) / length
        yield (nx, ny), nx * (x - ax) + ny * (y - ay)


def wedge_at(own: EdgeLine, other: EdgeLine, is_after: bool, reach: float) -> Wedge | None:
    """The outer corner at an end of an edge, for boards that reach some mm; None if it is none."""
    one, two = (own, other) if is_after else (other, own)
    ends = chain((one.points[-1],), one.round_after, two.round_before, (two.points[0],))
    points = list(own.frame.ring_to_board(ends))
    mine = _below(own, is_after, reach)
    turned = radians(other.frame.angle - own.frame.angle)
    x, y = _below(other, not is_after, reach)
    theirs = cos(turned) * x - sin(turned) * y, sin(turned) * x + cos(turned) * y
    # Inwards square to either way: the way along the first edge is gone back from its end.
    sign = 1.0 if is_after else -1.0
    inwards = (sign * mine[1], -sign * mine[0]), (-sign * theirs[1], sign * theirs[0])
    lows = [min(nx * px + ny * py for px, py in points) for nx, ny in inwards]
    (ax, ay), (bx, by) = inwards
    crossing = ax * by - ay * bx
    if sign * crossing < ALONG:
        return None
    apex = (lows[0] * by - lows[1] * ay) / crossing, (lows[1] * ax - lows[0] * bx) / crossing
    corner = (own.stations[-1], own.offsets[-1]) if is_after else (own.stations[0], own.offsets[0])
    return Wedge(corner, apex, (mine, theirs))


def _below(line: EdgeLine, is_after: bool, reach: float) -> Point:
    """The way from an end of an edge, in its own frame, that nowhere within some mm runs inside the floor."""
    end = -1 if is_after else 0
    station, offset = line.stations[end], line.offsets[end]
    far = max(line.stations[0], station - reach) if is_after else min(line.stations[-1], station + reach)
    among = [each for each in line.stations if min(far, station) < each < max(far, station)]
    slopes = [(line.offset(each) - offset) / abs(each - station) for each in (*among, far)]
    slope = min(slopes)
    length = hypot(1.0, slope)
    return (-1.0 if is_after else 1.0) / length, slope / length


def corner_strips(
    wedge: Wedge,
    ring: Sequence[Point],
    ways: tuple[Point, Point],
    slack: tuple[float, float],
    measure: Measure,
    wanted: float,
    clear: float,
) -> Iterator[Strip]:
    """The moves after which the corner lies in a board, which leaves no more than wanted there.

    Or the board misses the corner by less than ``clear`` mm. ``ring`` are the board's corners in the
    edge's frame, ``ways`` how a cell along and across moves it (mm), and ``slack`` by how much a range of
    phases does to either side.
    """
    (place_x, place_y), (row_x, row_y) = ways
    (ax, ay), (bx, by) = ring[:2]
    long = hypot(bx - ax, by - ay)
    heading = (bx - ax) / long, (by - ay) / long
    depths: list[tuple[float, float, Point]] = []
    for (nx, ny), depth in depths_in(ring, wedge.corner):
        more = abs(nx) * slack[0] + abs(ny) * slack[1]
        if depth + more <= -clear:
            return
        depths.append((depth, more, (nx, ny)))
    doubtful = [side for side, (depth, more, _) in enumerate(depths) if depth <= more]
    if len(doubtful) > 1:
        return
    # What lies beyond the corner, where the rim goes round it, is deeper in a side.
    off_x, off_y = wedge.apex[0] - wedge.corner[0], wedge.apex[1] - wedge.corner[1]
    # What just misses a corner with a round may have a piece along that alone.
    short = clear if hypot(off_x, off_y) < SHARP else 0.0
    for side in doubtful or range(len(depths)):
        depth, more, (nx, ny) = depths[side]
        left = wedge.triangle((nx, ny), side in LONG, heading, measure)
        if left == inf:
            continue
        deepest = (sqrt(wanted / left) if measure == "area" else wanted / left) - nx * off_x - ny * off_y
        if deepest > max(0.0, depth - more):
            yield Strip(
                -nx * place_x - ny * place_y, -nx * row_x - ny * row_y, -depth - short, deepest - depth
            )

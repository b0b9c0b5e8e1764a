"""One edge of the floor as heights over its own straight line, quick to ask and cheap to bound.

The wall is near to straight, so in its own frame it is a function: how far the
rim stands off at each station. A board's corners then have heights over it, and
what the board loses there follows by proportion along its edges.
"""

from bisect import bisect_right
from collections.abc import Iterable, Sequence
from itertools import accumulate, pairwise
from math import atan2, degrees, dist

from msgspec import Struct

from engine.geometry.frame import Frame
from engine.geometry.shapes import Point
from engine.setting_out.rim import Stretch

# An edge all of which runs within this of the line from end to end is one, however it bends, degrees.
MOST_BENT = 45.0
# Of others, as of a round thing, what turns away by more than this from their longest part is left out.
STEEPEST = 30.0


class EdgeLine(Struct, frozen=True):
    """The rim along one wall: ``offsets`` over ``stations`` in ``frame``, the floor on the side of greater y.

    ``gradients`` are its slopes from station to station, ``slopes`` the least and the
    greatest, ``levels`` those of its offsets; ``areas`` is what lies below it up to each
    station (mm²). ``round_before`` and ``round_after`` are points of the rim beyond its ends,
    before the next edge. ``most_sag``: how far it leaves the straight line of a stretch as long as a board.
    """

    name: str
    frame: Frame
    stations: tuple[float, ...]
    offsets: tuple[float, ...]
    gradients: tuple[float, ...]
    slopes: tuple[float, float]
    levels: tuple[float, float]
    areas: tuple[float, ...]
    most_sag: float
    round_before: tuple[Point, ...]
    round_after: tuple[Point, ...]

    @property
    def points(self) -> tuple[Point, ...]:
        """The edge in the room."""
        return self.frame.ring_to_room(zip(self.stations, self.offsets, strict=True))

    @property
    def ends(self) -> tuple[Point, Point]:
        """Where it begins and ends in the room."""
        ends = zip(
            self.stations[:: len(self.stations) - 1], self.offsets[:: len(self.offsets) - 1], strict=True
        )
        first, last = self.frame.ring_to_room(ends)
        return first, last

    @property
    def widening(self) -> float:
        """How much more two points can differ in height than they lie apart."""
        return 1 + max(map(abs, self.slopes))

    def height(self, point: Point) -> float:
        """How far a point stands inside the floor past this edge, in mm across its straight line."""
        station, across = self.frame.to_board(point)
        return across - self.offset(station)

    def heights(self, stations: Sequence[float], across: Sequence[float]) -> list[float]:
        """The same of several points in the edge's frame."""
        own, offsets, gradients, most = self.stations, self.offsets, self.gradients, len(self.stations) - 1
        found = []
        for station, each in zip(stations, across, strict=True):
            place = bisect_right(own, station, 1, most) - 1
            found.append(each - offsets[place] - gradients[place] * (station - own[place]))
        return found

    def slopes_between(self, low: float, high: float) -> tuple[float, float]:
        """Its least and greatest slope from one station to another."""
        most = len(self.stations) - 1
        first, last = bisect_right(self.stations, low, 1, most), bisect_right(self.stations, high, 1, most)
        found = self.gradients[first - 1 : last]
        return min(found), max(found)

    @property
    def is_straight(self) -> bool:
        """Is it straight from end to end?"""
        return len(self.stations) == 2

    def offset(self, station: float) -> float:
        """Where the rim lies at a station; beyond the ends it goes straight on."""
        place = bisect_right(self.stations, station, 1, len(self.stations) - 1) - 1
        return self.offsets[place] + self.gradients[place] * (station - self.stations[place])

    def chord(self, one: float, other: float) -> tuple[float, float]:
        """The straight line through the rim at two stations: its offset at the first, and its slope."""
        start = self.offset(one)
        return start, (self.offset(other) - start) / (other - one)

    def bulge(self, one: float, other: float) -> float:
        """How far the rim stands off its chord between two stations, in the mean."""
        whole = self._area(other) - self._area(one)
        return whole / (other - one) - (self.offset(one) + self.offset(other)) / 2

    def _area(self, station: float) -> float:
        """What lies between the straight line and the rim up to a station, mm²."""
        place = bisect_right(self.stations, station, 1, len(self.stations) - 1) - 1
        beyond = station - self.stations[place]
        return self.areas[place] + (self.offsets[place] + self.gradients[place] * beyond / 2) * beyond

    def strays(self, one: float, other: float, low: float, high: float) -> float:
        """The most by which the rim leaves the chord of two stations, from ``low`` to ``high``."""
        return max(map(abs, self._over_chord(one, other, low, high)))

    def falls_below(self, one: float, other: float, low: float, high: float) -> float:
        """The most by which the rim lies below the chord of two stations, from ``low`` to ``high``."""
        return max(0.0, -min(self._over_chord(one, other, low, high)))

    def bends(self, low: float, high: float) -> Iterable[Point]:
        """Where it bends from one station to another, with its offset there."""
        first, last = bisect_right(self.stations, low), bisect_right(self.stations, high)
        return zip(self.stations[first:last], self.offsets[first:last], strict=True)

    def _over_chord(self, one: float, other: float, low: float, high: float) -> list[float]:
        """How high the rim lies over the chord of two stations, where it bends from ``low`` to ``high``."""
        start, slope = self.chord(one, other)
        points = [(low, self.offset(low)), *self.bends(low, high), (high, self.offset(high))]
        return [offset - start - slope * (station - one) for station, offset in points]


def edge_line(stretch: Stretch, board_length: float) -> EdgeLine | None:
    """The edge along a stretch of the rim; None when it is a single point or bends back on itself."""
    first, last = _kept(stretch)
    points = stretch.points[first : last + 1]
    if len(points) < 2:
        return None
    (ax, ay), (bx, by) = points[0], points[-1]
    frame = Frame(ax, ay, degrees(atan2(by - ay, bx - ax)))
    local = [frame.to_board(point) for point in points]
    if any(b[0] - a[0] <= 0 for a, b in pairwise(local)):
        return None
    gradients = tuple((b[1] - a[1]) / (b[0] - a[0]) for a, b in pairwise(local))
    return EdgeLine(
        name=stretch.barrier,
        frame=frame,
        stations=tuple(x for x, _ in local),
        offsets=tuple(y for _, y in local),
        gradients=gradients,
        slopes=(min(gradients), max(gradients)),
        levels=(min(y for _, y in local), max(y for _, y in local)),
        areas=tuple(accumulate(((b[0] - a[0]) * (a[1] + b[1]) / 2 for a, b in pairwise(local)), initial=0.0)),
        most_sag=_sag([x for x, _ in local], [y for _, y in local], board_length),
        round_before=stretch.points[:first],
        round_after=stretch.points[last + 1 :],
    )


def _kept(stretch: Stretch) -> tuple[int, int]:
    """The first and the last point of a stretch without the rounds of inner corners at its ends."""
    edges, (before, after) = list(pairwise(stretch.points)), stretch.rounds
    if not edges:
        return 0, 0
    own = edges[before : len(edges) - after]
    if own and all(_turn(edge, (own[0][0], own[-1][1])) < MOST_BENT for edge in own):
        return before, len(edges) - after
    longest = max(edges, key=lambda edge: dist(*edge))
    follows = [
        before <= place < len(edges) - after and _turn(edge, longest) < STEEPEST
        for place, edge in enumerate(edges)
    ]
    first = next((place for place, does in enumerate(follows) if does), 0)
    return first, len(edges) - next((place for place, does in enumerate(follows[::-1]) if does), 0)


def _turn(edge: tuple[Point, Point], line: tuple[Point, Point]) -> float:
    """By how much an edge turns away from a line, in degrees from 0 to 180."""
    return abs((_heading(edge) - _heading(line) + 180) % 360 - 180)


def _heading(edge: tuple[Point, Point]) -> float:
    (ax, ay), (bx, by) = edge
    return degrees(atan2(by - ay, bx - ax))


def _sag(stations: Sequence[float], offsets: Sequence[float], length: float) -> float:
    """The most by which a line in its own frame leaves the chord of any stretch of that length, in mm.

    Looked at are the stretches that begin, end or have their middle at a point of the line.
    """
    worst = 0.0
    for start in (station - length * part for station in stations for part in (0.0, 0.5, 1.0)):
        low, high = (_offset(stations, offsets, end) for end in (start, start + length))
        for place in range(bisect_right(stations, start), bisect_right(stations, start + length)):
            chord = low + (stations[place] - start) / length * (high - low)
            worst = max(worst, abs(offsets[place] - chord))
    return worst


def _offset(stations: Sequence[float], offsets: Sequence[float], station: float) -> float:
    place = bisect_right(stations, station, 1, len(stations) - 1)
    start, end = stations[place - 1], stations[place]
    share = (station - start) / (end - start)
    return offsets[place - 1] + share * (offsets[place] - offsets[place - 1])

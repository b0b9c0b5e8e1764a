"""The room as it is: corners and readings become one ring of points, wall by wall.

This is what all later steps stand on. Corners that were not measured are
solved from lengths first.
"""

from collections.abc import Sequence
from itertools import pairwise
from math import atan2, degrees, dist, hypot, radians, sin

from msgspec import Struct
from msgspec.structs import replace

from engine.errors import Finding, Refused
from engine.geometry.kernel import kernel
from engine.geometry.plane import polyline_length
from engine.geometry.shapes import Point, Ring, signed_area
from engine.model.job import FixedThing, Pair, Room, Wall
from engine.survey.check_fixed import fixed_faults, outside_warnings
from engine.survey.checks import check_room
from engine.survey.corner_order import corners_to_solve
from engine.survey.corners import Solution, solve_corners
from engine.survey.curves import Curve, greatest_offset, sample, wall_curve
from engine.survey.network import Adjustment
from engine.survey.thing_point import ThingLength
from engine.survey.things import place_things
from engine.survey.tolerances import ABOUT_SQUARE
from engine.units import number_text


class WallLine(Struct, frozen=True, kw_only=True):
    """One wall in its place.

    ``index`` counts counter-clockwise from the first corner; ``record`` is its
    place in ``room.walls``, None when the file does not list it. ``points``
    runs from corner to corner, both included. ``chord`` is the straight length
    between the corners, ``length`` that along the wall, ``bow`` the greatest
    offset with its sign (positive: into the room) and ``bow_station`` where it
    is. ``bulge_area`` (mm²) lies between the wall and the straight line,
    positive where the wall takes it from the room.
    """

    index: int
    record: int | None
    name: str
    from_: str
    to: str
    wall: Wall
    curve: Curve
    start: Point
    end: Point
    points: tuple[Point, ...]
    chord: float
    length: float
    bow: float
    bow_station: float
    bulge_area: float

    @property
    def path(self) -> str:
        """Where the wall stands in the job file."""
        return "room.walls" if self.record is None else f"room.walls[{self.record}]"

    @property
    def heading(self) -> float:
        """Direction of the straight line from corner to corner, degrees counter-clockwise, −180 to 180."""
        return degrees(atan2(self.end[1] - self.start[1], self.end[0] - self.start[0]))

    def at(self, station: float, offset: float | None = None) -> Point:
        """The room point at a station: on the wall, or at a given offset from the straight line."""
        return _placed(
            self.start, self.end, (station, self.curve.offset(station) if offset is None else offset)
        )


class CornerAngle(Struct, frozen=True, kw_only=True):
    """A corner and its inside ``angle`` in degrees between the straight lines to its neighbours.

    ``off_square`` is what it differs from the nearest of 90, 180 and 270
    degrees; ``off_square_length`` the same as mm at the end of the shorter of
    the two walls.
    """

    name: str
    at: Point
    angle: float
    off_square: float
    off_square_length: float

    @property
    def is_about_square(self) -> bool:
        """Meant to be square: within 20° of it, turning in or out."""
        return min(abs(self.angle - 90), abs(self.angle - 270)) <= ABOUT_SQUARE


class Outline(Struct, frozen=True, kw_only=True):
    """The room's ring (counter-clockwise, open), its walls and corners in ring order, and warnings.

    ``fixed`` are the fixed things where they stand. ``adjustment`` is there
    when the corners were solved from lengths.
    """

    ring: Ring
    walls: tuple[WallLine, ...]
    corners: tuple[CornerAngle, ...]
    fixed: tuple[FixedThing, ...]
    findings: tuple[Finding, ...]
    adjustment: Adjustment | None = None

    @property
    def area(self) -> float:
        """Area inside the walls in mm², fixed things not taken off."""
        return signed_area(self.ring)


def room_outline(room: Room, to_things: Sequence[ThingLength] = ()) -> Outline:
    """Compute the room's outline, and put the fixed things where the lengths ``to_things`` say.

    Raises Refused with all faults of sense, or with those of the corners'
    solution, or with the place where walls meet that should not.
    """
    solution = _solved(room)
    if solution is not None:
        room = replace(room, corners=solution.places)
    findings = _sound(room)
    walls = _wall_lines(room)
    ring = tuple(point for wall in walls for point in wall.points[:-1])
    _refuse_crossing(ring, walls)
    missing = tuple(_missing(wall) for wall in walls if wall.record is None)
    room, moved = _with_things(room, to_things, ring)
    outside = tuple(outside_warnings(room, ring))
    return Outline(
        ring=ring,
        walls=walls,
        corners=_angles(walls),
        fixed=room.fixed,
        findings=(*(solution.findings if solution else ()), *findings, *missing, *moved, *outside),
        adjustment=solution.adjustment if solution else None,
    )


def _solved(room: Room) -> Solution | None:
    """The corners from lengths, when not all of them were measured by x and y."""
    if room.corners is not None and not corners_to_solve(room):
        return None
    _sound(room)
    return solve_corners(room)


def _with_things(
    room: Room, to_things: Sequence[ThingLength], ring: Ring
) -> tuple[Room, tuple[Finding, ...]]:
    """The room with its things in place; raises Refused when an outline then crosses itself."""
    fixed, findings = place_things(room.fixed, to_things, room.corners or {}, ring)
    moved = replace(room, fixed=fixed)
    faults = [fault for fault in fixed_faults(moved) if fault.level == "error"]
    if faults:
        raise Refused(*faults)
    return moved, findings


def _sound(room: Room) -> tuple[Finding, ...]:
    """Warnings of sense; raises Refused with everything found when there is an error."""
    findings = check_room(room)
    if any(finding.level == "error" for finding in findings):
        raise Refused(*findings)
    return findings


def _wall_lines(room: Room) -> tuple[WallLine, ...]:
    assert room.corners is not None
    names = tuple(room.corners)
    records = {(wall.from_, wall.to): index for index, wall in enumerate(room.walls)}
    return tuple(
        _wall_line(room, index, ends, records.get(ends))
        for index, ends in enumerate(pairwise((*names, names[0])))
    )


def _wall_line(room: Room, index: int, ends: tuple[str, str], record: int | None) -> WallLine:
    assert room.corners is not None
    from_, to = ends
    start, end = room.corners[from_], room.corners[to]
    wall = Wall(from_=from_, to=to) if record is None else room.walls[record]
    curve = wall_curve(wall.curve, dist(start, end), wall.offsets, wall.breaks)
    line = sample(curve)
    points = (start, *(_placed(start, end, pair) for pair in line[1:-1]), end)
    bow_station, bow = greatest_offset(curve)
    return WallLine(
        index=index,
        record=record,
        name=f"{from_}–{to}",
        from_=from_,
        to=to,
        wall=wall,
        curve=curve,
        start=start,
        end=end,
        points=points,
        chord=dist(start, end),
        length=polyline_length(points),
        bow=bow,
        bow_station=bow_station,
        bulge_area=sum((b[0] - a[0]) * (a[1] + b[1]) / 2 for a, b in pairwise(line)),
    )


def _placed(start: Point, end: Point, pair: Pair) -> Point:
    """From a wall's own frame into the room's."""
    (ax, ay), (bx, by), (station, offset) = start, end, pair
    chord = hypot(bx - ax, by - ay)
    ux, uy = (bx - ax) / chord, (by - ay) / chord
    return (ax + ux * station - uy * offset, ay + uy * station + ux * offset)


def _refuse_crossing(ring: Ring, walls: tuple[WallLine, ...]) -> None:
    fault = kernel().fault_of((ring,))
    if fault is None:
        return
    near = sorted(walls, key=lambda wall: _distance(fault[1], wall))[:2]
    x, y = (number_text(value, 0) for value in fault[1])
    raise Refused(
        Finding(
            path=near[0].path,
            code="walls cross",
            sentence=f"Walls {near[0].name} and {near[1].name} meet near x {x}, y {y}, "
            "where they should not. Check the corners and the signs of the readings of both.",
        )
    )


def _distance(point: Point, wall: WallLine) -> float:
    return min(dist(point, other) for other in wall.points)


def _missing(wall: WallLine) -> Finding:
    gap = number_text(wall.wall.gap, 0)
    return Finding(
        path="room.walls",
        code="wall not listed",
        level="warning",
        sentence=f"Wall {wall.name} has no entry: it is taken as straight, with a gap of {gap} mm. "
        "Add it if it is not so.",
    )


def _angles(walls: tuple[WallLine, ...]) -> tuple[CornerAngle, ...]:
    return tuple(
        _corner_angle(before, after) for before, after in zip((walls[-1], *walls), walls, strict=False)
    )


def _corner_angle(before: WallLine, after: WallLine) -> CornerAngle:
    turn = after.heading - before.heading
    angle = (180 - turn) % 360
    off = min((angle - square for square in (90, 180, 270)), key=abs)
    return CornerAngle(
        name=after.from_,
        at=after.start,
        angle=angle,
        off_square=off,
        off_square_length=min(before.chord, after.chord) * sin(radians(off)),
    )

"""From readings on the laid floor to the distances that the fit takes; what cannot be used is told."""

from collections.abc import Iterator, Mapping, Sequence
from itertools import product
from math import dist, hypot
from typing import Literal

from msgspec import Struct

from engine.errors import Finding, Refused
from engine.geometry.board import BoardSize
from engine.geometry.frame import cos_sin
from engine.geometry.plane import Nearest, nearest_on_polyline
from engine.geometry.shapes import Point
from engine.model.job import Floor
from engine.model.laid import ROW_AXIS, SQUARE_TO_IT, Laid, LaidReading
from engine.patterns.pattern import LaidBoard
from engine.planning.floor_as_it_lies import board_of, middle_of
from engine.planning.floor_plan import FloorPlan
from engine.planning.line_names import read_to
from engine.planning.pieces import Piece
from engine.planning.setting_out import plan_setting_out, sight_in
from engine.planning.shared_errors import shared_with_wall
from engine.setting_out.clear_line import Sight
from engine.setting_out.laid_equations import LaidDistance
from engine.setting_out.strike_lines import StrikeLine, placed, point_on
from engine.survey.instruments import length_sd
from engine.survey.report import WallReport
from engine.survey.typed import millimetres
from engine.units import number_text

End = Literal["start", "far"]
Side = Literal["left", "right"]

# A reading this far from the plan is a slip: another corner, another wall, mm.
SLIP = 100.0
# Nearer to a struck line than this nobody can say on which side the plan has a corner, mm.
NEAR_LINE = 20.0
# The corner of a board is still there when the piece comes this near to it, mm.
CORNER = 0.5
# A struck line is told by eye so far beyond its marks, mm.
CHALKED = 50.0
# A wall known worse than this (± mm) tells next to nothing.
UNREAD_WALL = 10.0


class ReadOnFloor(Struct, frozen=True, kw_only=True):
    """One reading that is used: the distance as read and the same as planned, mm."""

    reading: LaidReading
    read: LaidDistance
    planned: float


def standing_on_floor(laid: Laid | None) -> tuple[LaidReading, ...]:
    """The readings that no other one corrects or withdraws, in the order in which they were taken."""
    readings = laid.readings if laid else ()
    corrected = {reading.corrects for reading in readings}
    return tuple(r for r in readings if r.id not in corrected and (r.corrects is None or r.typed.strip()))


def read_on_floor(
    plan: FloorPlan, boards: Mapping[str, LaidBoard]
) -> tuple[tuple[ReadOnFloor, ...], tuple[Finding, ...]]:
    """The readings that can be used, and what is to be said of them. ``boards``: the plan's, by id."""
    pieces = {piece.id: piece for piece in plan.pieces}
    pieces |= {name: measured.piece for name, measured in plan.measured.items()}
    used: list[ReadOnFloor] = []
    findings: list[Finding] = []
    for reading in standing_on_floor(plan.job.laid):
        try:
            used.append(_read(reading, pieces, boards, plan))
        except Refused as refused:
            findings += refused.findings
    return tuple(used), (*findings, *_unread_walls(used, plan))


def _read(
    reading: LaidReading, pieces: Mapping[str, Piece], boards: Mapping[str, LaidBoard], plan: FloorPlan
) -> ReadOnFloor:
    """Raises Refused when the reading cannot be used."""
    distance = _distance(reading)
    piece, board = pieces.get(reading.piece), boards.get(board_of(reading.piece))
    if piece is None or board is None:
        raise _refused(
            reading, "unknown piece", "names a piece that the floor does not have. Choose another."
        )
    at = corner_of(board.size, reading.end, reading.side)
    if not _is_left(at, piece):
        raise _refused(
            reading, "corner cut off", "is from a corner that is cut off. Read from one that is left."
        )
    corner = board.frame.to_room(at)
    walls = {wall.line.name: wall for wall in plan.survey.walls}
    if reading.to in walls:
        line, planned = _to_wall(reading, corner, walls[reading.to])
        shared = tuple(shared_with_wall(corner, walls[reading.to], plan.survey.adjustment))
    elif reading.to in (ROW_AXIS, SQUARE_TO_IT):
        line, planned = _to_struck(reading, corner, plan.job.floor)
        shared = ()
    else:
        raise _refused(reading, "unknown wall", "is to a wall that the room does not have. Choose another.")
    if abs(distance - planned) > SLIP:
        raise _refused(
            reading,
            "reading stands out",
            f"is {number_text(abs(distance - planned), 0)} mm away from the plan: another corner or wall may "
            "be meant. It is left out. Read it again.",
        )
    survey = plan.job.survey
    instruments = {one.name: one for one in survey.instruments} if survey else {}
    sd = reading.sd or length_sd(instruments.get(reading.instrument), distance)
    read = LaidDistance(
        id=reading.id,
        corner=corner,
        middle=middle_of(board),
        line=line,
        endless=reading.to not in walls,
        distance=distance,
        sd=sd,
        shared=shared,
    )
    return ReadOnFloor(reading=reading, read=read, planned=planned)


def corner_of(size: BoardSize, end: End, side: Side) -> Point:
    """The corner in the board's frame."""
    lean = size.lean if side == "left" else 0.0
    return (size.length if end == "far" else 0.0) + lean, size.width if side == "left" else 0.0


def _is_left(corner: Point, piece: Piece) -> bool:
    """Is that corner of the board still there?"""
    return any(dist(corner, point) <= CORNER for point in piece.sawn.outline[0])


class Readable(Struct, frozen=True, kw_only=True):
    """A corner that can be read: where it lies now, and to what, with the distance as planned in mm."""

    end: End
    side: Side
    at: Point
    targets: tuple[tuple[str, float], ...]


def readable_corners(plan: FloorPlan, piece: Piece, board: LaidBoard) -> Iterator[Readable]:
    """The corners that are left on a piece; ``board`` is its board as set out. The nearest target first."""
    ends: tuple[End, ...] = ("start", "far")
    sides: tuple[Side, ...] = ("left", "right")
    for end, side in product(ends, sides):
        at = corner_of(board.size, end, side)
        if _is_left(at, piece):
            targets = sorted(_targets(plan, board.frame.to_room(at)), key=lambda target: target[1])
            yield Readable(end=end, side=side, at=piece.board.frame.to_room(at), targets=tuple(targets))


def _targets(plan: FloorPlan, corner: Point) -> Iterator[tuple[str, float]]:
    """The walls that the corner is in front of, and the struck lines that it is clear of; nothing between."""
    sight = sight_in(plan.room)
    for wall in plan.survey.walls:
        foot = nearest_on_polyline(corner, wall.line.points)
        if _is_before(foot, wall) and sight.is_clear(corner, foot.point):
            yield wall.line.name, foot.distance
    lines = plan_setting_out(plan).lines
    for name in (ROW_AXIS, SQUARE_TO_IT):
        _, away = _struck(name, corner, plan.job.floor)
        struck = any(_is_struck(line, corner, sight) for line in lines if line.wanted.name == name)
        if away >= NEAR_LINE and struck:
            yield name, away


def _is_struck(line: StrikeLine, corner: Point, sight: Sight) -> bool:
    """Is there chalk where the shortest way from the corner meets the line, and nothing before it?"""
    along, _ = placed(line.wanted, corner)
    low, high = (placed(line.wanted, mark.at)[0] for mark in line.marks)
    foot = point_on(line.wanted, along)
    return min(low, high) - CHALKED <= along <= max(low, high) + CHALKED and sight.is_clear(corner, foot)


def _distance(reading: LaidReading) -> float:
    try:
        distance = millimetres(reading.typed, reading.unit)
    except Refused as fault:
        raise Refused(
            *(
                Finding(path=_path(reading), code=f.code, sentence=f.sentence, level="warning")
                for f in fault.findings
            )
        ) from fault
    if distance <= 0:
        raise _refused(reading, "impossible length", "is a distance, and must be above zero. Take it again.")
    if reading.sd is not None and not 0 < reading.sd <= 100:
        raise _refused(reading, "impossible accuracy", "has no sensible standard deviation. Leave it out.")
    return distance


def _to_wall(reading: LaidReading, corner: Point, wall: WallReport) -> tuple[tuple[Point, ...], float]:
    """The wall's line, and the distance as planned in mm."""
    foot = nearest_on_polyline(corner, wall.line.points)
    if not _is_before(foot, wall):
        raise _refused(reading, "not before that wall", "is not in front of that wall. Choose another wall.")
    return wall.line.points, foot.distance


def _is_before(foot: Nearest, wall: WallReport) -> bool:
    """A wall whose nearest point is its end is not the one that a square distance meets."""
    return min(dist(foot.point, wall.line.start), dist(foot.point, wall.line.end)) >= 1.0


def _to_struck(reading: LaidReading, corner: Point, floor: Floor) -> tuple[tuple[Point, ...], float]:
    """The same for a line through the anchor, which is where it was struck."""
    line, planned = _struck(reading.to, corner, floor)
    if planned < NEAR_LINE:
        words = "is too near the line to tell its side. Read from a corner farther off."
        raise _refused(reading, "too near the line", words)
    return line, planned


def _struck(name: str, corner: Point, floor: Floor) -> tuple[tuple[Point, ...], float]:
    """Two points of a struck line, and how far a corner is from it."""
    x, y = floor.anchor
    cosine, sine = cos_sin(floor.axis if name == ROW_AXIS else floor.axis + 90)
    away = abs((corner[1] - y) * cosine - (corner[0] - x) * sine)
    return ((x, y), (x + 1000 * cosine, y + 1000 * sine)), away


def _unread_walls(used: Sequence[ReadOnFloor], plan: FloorPlan) -> Iterator[Finding]:
    """A distance to a wall that nobody has read says little of the floor."""
    for wall in plan.survey.walls:
        doubts = [
            2 * hypot(one.read.sd, *(more for _, more in one.read.shared))
            for one in used
            if one.reading.to == wall.line.name
        ]
        if doubts and min(doubts) > UNREAD_WALL:
            yield Finding(
                path=wall.line.path,
                code="laid readings to an unread wall",
                level="warning",
                sentence=f"{wall.line.name} is known only to ±{number_text(min(doubts), 0)} mm where you "
                "read to it, so these distances say little. Read the wall, or read to a struck line.",
            )


def _path(reading: LaidReading) -> str:
    return f"laid.readings.{reading.id}"


def _refused(reading: LaidReading, code: str, words: str) -> Refused:
    return Refused(
        Finding(
            path=_path(reading),
            code=code,
            level="warning",
            sentence=f"The reading {reading.typed} {reading.unit} ({reading.piece}, {reading.end} "
            f"{reading.side}, to {read_to(reading.to)}) {words}",
        )
    )

"""The sheet for the floor, re-measured: from the distances it states, on the demo, on known rooms, on any.

Reference for what lies on the floor, what is in sight and which edges touch: shapely (GEOS).
"""

import json
from collections.abc import Iterator
from functools import cache
from itertools import pairwise
from math import cos, dist, hypot, radians, sin, sqrt
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import shapely
from hypothesis import HealthCheck, Phase, given, settings
from shapely import affinity

from engine.errors import Refused
from engine.patterns import find_pattern
from engine.planning.floor_plan import FloorPlan, plan_floor
from engine.planning.pieces import Piece
from engine.planning.plan_file import plan_record
from engine.planning.setting_out import SettingOut, plan_setting_out
from engine.setting_out.laying_steps import is_free
from engine.setting_out.ties import Mark
from engine.wire.job_file import open_job
from tests.engine.crooked_rooms import jobs

REPOSITORY = Path(__file__).parents[3]
FILES = [
    REPOSITORY / "site_src/app/demo_job.json",
    *sorted((REPOSITORY / "tests/reference/jobs").glob("*.json")),
]
every_job = pytest.mark.parametrize("file", FILES, ids=lambda file: file.stem)
# The promise: what is struck from the stated distances lies within half a millimetre.
STRUCK = 0.5
Point = tuple[float, float]


@cache
def planned(file: Path) -> tuple[FloorPlan, SettingOut]:
    plan = plan_floor(open_job(json.loads(file.read_text(encoding="utf-8"))).job)
    return plan, plan_setting_out(plan)


def corners(plan: FloorPlan) -> dict[str, Point]:
    return {corner.name: corner.at for corner in plan.room.outline.corners}


def as_read(distance: float) -> float:
    """As the screen shows it."""
    return round(distance, 1)


def two_tapes(first: Point, second: Point, a: float, b: float) -> list[Point]:
    """Both crossings of two circles: x = (a² − b² + B²) / 2B, y = ±√(a² − x²) (TRADE.md, two-tape fix)."""
    base = dist(first, second)
    x = (a * a - b * b + base * base) / (2 * base)
    y = sqrt(max(a * a - x * x, 0.0))
    ux, uy = (second[0] - first[0]) / base, (second[1] - first[1]) / base
    return [(first[0] + ux * x - uy * side, first[1] + uy * x + ux * side) for side in (y, -y)]


def check_lines_from_their_ties(plan: FloorPlan) -> None:
    """Each end of each line of the plan file from its two distances, as read to 0.1 mm; then its check."""
    known = corners(plan)
    for line in plan_record(plan).setting_out.lines:
        assert len(line.ties) in (4, 6)
        for end, ties in ((line.from_, line.ties[:2]), (line.to, line.ties[2:4])):
            (a, from_a), (b, from_b) = ties
            crossings = two_tapes(known[a], known[b], as_read(from_a), as_read(from_b))
            assert min(dist(end, crossing) for crossing in crossings) < STRUCK, line
        for end, (name, distance) in zip((line.from_, line.to), line.ties[4:], strict=False):
            assert dist(known[name], end) == pytest.approx(distance, abs=0.001)


def check_lines_on_the_floor(plan: FloorPlan, sheet: SettingOut) -> None:
    """They run over floor alone, and no two parts of one line are the same."""
    floor = shapely.union_all([shapely.Polygon(p[0], p[1:]) for p in plan.room.lay_area]).buffer(0.01)
    for line in sheet.lines:
        assert floor.covers(shapely.LineString([line.start.at, line.end.at])), line.name
    assert len({line.name for line in sheet.lines}) == len(sheet.lines)


def obstacles(plan: FloorPlan) -> shapely.Geometry:
    """What stands up, 4 mm thinner than it is: a tape bends so far."""
    room = shapely.Polygon(plan.room.outline.ring)
    solid = [shapely.Polygon(barrier.points) for barrier in plan.room.barriers if barrier.solid]
    outside = room.buffer(20_000).difference(room)
    return shapely.union_all([outside, *solid]).buffer(-4.0)


def is_in_sight(mark: Mark, corner: Point, standing: shapely.Geometry) -> bool:
    return not shapely.LineString([corner, mark.at]).intersects(standing)


def marks(sheet: SettingOut) -> Iterator[Mark]:
    return (mark for line in sheet.lines for mark in (line.start, line.end))


@every_job
def test_each_line_is_struck_from_its_own_distances_to_half_a_millimetre(file: Path) -> None:
    """And its marks are checked by a third corner, wherever one is in sight of both."""
    plan, sheet = planned(file)
    assert {"row axis", "square to it"} <= {line.wanted.name for line in sheet.lines}
    check_lines_from_their_ties(plan)
    check_lines_on_the_floor(plan, sheet)


@every_job
def test_tapes_run_freely_and_cross_at_a_good_angle(file: Path) -> None:
    """Shapely finds nothing between corner and mark; 30° to 150° in all known rooms."""
    plan, sheet = planned(file)
    known = corners(plan)
    # Over a threshold or through an opening a tape runs out of the room and in again.
    open_walls = [w for w in plan.room.outline.walls if w.wall.face in ("threshold", "opening")]
    standing = obstacles(plan).difference(
        shapely.union_all([shapely.LineString([w.start, w.end]).buffer(150) for w in open_walls])
    )
    for mark in marks(sheet):
        assert mark.in_sight
        assert 30.0 <= mark.angle <= 90.0
        for tie in (*mark.ties, *([mark.check] if mark.check else [])):
            assert is_in_sight(mark, known[tie.corner], standing), tie


# Not made smaller when it fails: that takes minutes. Always the same rooms.
@settings(
    max_examples=42,
    deadline=None,
    derandomize=True,
    phases=[Phase.generate],
    suppress_health_check=[HealthCheck.too_slow],
)
@given(document=jobs())
def test_lines_of_any_crooked_room_meet_their_ends(document: dict[str, Any]) -> None:
    """Whatever the room, the pattern, the axis and the anchor, inside the room or out of it."""
    try:
        plan = plan_floor(open_job(document).job)
    except Refused:
        return
    sheet = plan_setting_out(plan)
    check_lines_from_their_ties(plan)
    check_lines_on_the_floor(plan, sheet)
    check_square(sheet, plan)
    if len(plan.pieces) <= 250:  # the order of larger floors is held on the known jobs
        check_order(plan, sheet)


def check_square(sheet: SettingOut, plan: FloorPlan) -> None:
    """Three, four and five, by Pythagoras and by where the marks stand; both diagonals equal."""
    square = sheet.square
    if square is None:
        return
    assert hypot(square.along, square.across) == pytest.approx(square.diagonal, abs=1e-9)
    assert sorted((square.along, square.across, square.diagonal)) == [
        part * square.diagonal / 5 for part in (3, 4, 5)
    ]
    assert dist(square.at, square.on_first) == pytest.approx(square.along, abs=1e-6)
    assert dist(square.at, square.on_second) == pytest.approx(square.across, abs=1e-6)
    assert dist(square.on_first, square.on_second) == pytest.approx(square.diagonal, abs=1e-6)
    if square.fourth is not None:
        assert dist(square.fourth, square.at) == pytest.approx(square.diagonal, abs=1e-6)
        assert dist(square.fourth, square.on_first) == pytest.approx(square.across, abs=1e-6)
    floor = shapely.union_all([shapely.Polygon(p[0], p[1:]) for p in plan.room.lay_area]).buffer(0.01)
    used = [square.at, square.on_first, square.on_second, *([square.fourth] if square.fourth else [])]
    assert all(floor.covers(shapely.Point(point)) for point in used)


@every_job
def test_three_four_five_is_as_large_as_the_room_lets_it_be(file: Path) -> None:
    """In every known room it has sides of half a metre and more."""
    plan, sheet = planned(file)
    check_square(sheet, plan)
    assert sheet.square is not None
    assert min(sheet.square.along, sheet.square.across) >= 500


def touching(pieces: tuple[Piece, ...], *over: float) -> tuple[list[dict[int, str]], ...]:
    """Each piece → those it touches over more than so many mm → with which of its own sides."""
    names = ("right", "far", "left", "start")
    rims = [shapely.Polygon(piece.ideal[0], piece.ideal[1:]).boundary for piece in pieces]
    rings = [piece.board.ring for piece in pieces]
    sides = [shapely.LineString((ring[k], ring[(k + 1) % 4])) for ring in rings for k in range(4)]
    edges = shapely.intersection(np.repeat(rims, 4), shapely.buffer(sides, 0.002, cap_style="flat"))
    strips = shapely.buffer(edges, 0.01, cap_style="flat")
    pairs = shapely.STRtree(edges).query(strips, "intersects")
    pairs = pairs[:, pairs[0] // 4 != pairs[1] // 4]
    lengths = shapely.length(shapely.intersection(edges[pairs[1]], strips[pairs[0]]))
    found: tuple[list[dict[int, str]], ...] = tuple([{} for _ in pieces] for _ in over)
    for least, touches in zip(over, found, strict=True):
        for other, one in pairs[:, lengths > least].T:
            touches[one // 4][int(other // 4)] = names[one % 4]
    return found


def check_order(plan: FloorPlan, sheet: SettingOut) -> None:
    """Every piece once; each locks into those laid before with one long edge and one end at most.

    The field comes first and has all whole boards; a cut piece is in it only when it could not wait.
    """
    assert sorted(piece.id for piece in sheet.steps) == sorted(piece.id for piece in plan.pieces)
    assert sheet.steps[: len(sheet.first)][:1] == sheet.first[:1]
    # A joint is more than 1 mm long; which is which at 1 mm exactly is left to either side.
    touches, near = touching(sheet.steps, 1.1, 0.9)
    apart = {piece.id for piece in sheet.apart}
    for number, piece in enumerate(sheet.steps):
        before = {other: side for other, side in touches[number].items() if other < number}
        assert is_free(before.values()), piece.id
        if number > 0 and piece.id in apart:
            assert not before, piece.id
        elif number > 0:
            assert any(other < number for other in near[number]), piece.id
        is_whole = piece.sawn.kind == "whole"
        assert number < sheet.field or not is_whole, piece.id
        if number < sheet.field and not is_whole:
            laid = {
                side
                for other, side in near[number].items()
                if other < sheet.field or in_order(plan, sheet.steps[other]) < in_order(plan, piece)
            }
            assert not is_free(laid), piece.id


def in_order(plan: FloorPlan, piece: Piece) -> tuple[tuple[int, ...], int]:
    """The pattern's own order."""
    floor = plan.job.floor
    return find_pattern(floor.pattern).order(piece.board, floor), plan.pieces.index(piece)


@every_job
def test_each_piece_locks_into_those_laid_before(file: Path) -> None:
    """Beginning at the first pair; only where the floor is parted does a board start apart."""
    plan, sheet = planned(file)
    check_order(plan, sheet)
    assert all(piece.sawn.kind == "whole" for piece in sheet.first)
    if file.stem != "parted":
        assert sheet.apart == ()


@every_job
def test_the_first_boards_meet_where_the_lines_cross(file: Path) -> None:
    """Each of them has a corner there or, where more lie side by side, is joined to one that has."""
    _, sheet = planned(file)
    near = min(dist(corner, sheet.at) for piece in sheet.first for corner in piece.board.ring)
    assert near < 1e-6
    if len(sheet.first) == 2:
        assert all(min(dist(corner, sheet.at) for corner in p.board.ring) < 1e-6 for p in sheet.first)


def test_the_first_pair_lies_at_the_anchor_where_that_is_on_the_floor_and_in_its_row_where_not() -> None:
    """The corridor's anchor is free; the demo's lies under its island, so the pair moves along the axis."""
    _, free = planned(REPOSITORY / "tests/reference/jobs/corridor.json")
    assert free.at == pytest.approx((1000.0, 1700.0))
    _, moved = planned(REPOSITORY / "site_src/app/demo_job.json")
    step = (moved.at[1] - 2000.0) / (sqrt(2) * 90)
    assert moved.at[0] == pytest.approx(2600.0)
    assert step == pytest.approx(round(step), abs=1e-9)


@pytest.mark.parametrize("name", ["bay", "corridor", "loft", "parted"])
def test_parallels_of_a_herringbone_lie_half_a_row_off_and_boards_end_on_them(name: str) -> None:
    """Rows are √2·L apart (METHODS.md, lattices), so L/√2; corners of boards lie on both parallels."""
    plan, sheet = planned(REPOSITORY / f"tests/reference/jobs/{name}.json")
    length = plan.job.floor.board.length
    assert sheet.rows.parallel == pytest.approx(length / sqrt(2))
    axis = next(line for line in sheet.lines if line.wanted.name == "row axis")
    endless = shapely.LineString([axis.start.at, axis.end.at])
    endless = affinity.scale(endless, 50, 50)
    boards = [corner for piece in plan.pieces for corner in piece.board.ring]
    for line in sheet.lines:
        if "parallel" in line.wanted.name:
            for mark in (line.start, line.end):
                assert endless.distance(shapely.Point(mark.at)) == pytest.approx(length / sqrt(2))
            struck = shapely.LineString([line.start.at, line.end.at])
            on_it = [corner for corner in boards if struck.distance(shapely.Point(corner)) < 1e-6]
            assert len(on_it) >= 3


@every_job
def test_lines_along_the_rows_are_touched_by_boards_and_all_others_are_square_to_them(file: Path) -> None:
    """Diagonal rows do not run along their axis: there a line of its own says how they run."""
    plan, sheet = planned(file)
    boards = [corner for piece in plan.pieces for corner in piece.board.ring]
    along = next(line for line in sheet.lines if line.wanted.name == sheet.crossing[0]).wanted.direction
    is_diagonal = plan.job.floor.pattern == "diagonal"
    assert (sheet.crossing[0] == "along the rows") == is_diagonal
    for line in sheet.lines:
        ux, uy = line.wanted.direction
        if abs(ux * along[1] - uy * along[0]) < 1e-9:
            struck = shapely.LineString([line.start.at, line.end.at])
            assert sum(struck.distance(shapely.Point(corner)) < 1e-6 for corner in boards) >= 2, line.name
        elif line.wanted.name not in ("row axis", "square to it") or not is_diagonal:
            assert ux * along[0] + uy * along[1] == pytest.approx(0.0, abs=1e-9), line.name


@every_job
def test_row_axis_and_the_line_square_to_it_run_through_the_anchor(file: Path) -> None:
    """As the job file has them, so that a distance read to one of them later is read to what was struck."""
    plan, sheet = planned(file)
    angle = radians(plan.job.floor.axis)
    for name, (ux, uy) in (
        ("row axis", (cos(angle), sin(angle))),
        ("square to it", (-sin(angle), cos(angle))),
    ):
        for line in sheet.lines:
            if line.wanted.name == name:
                for x, y in (line.start.at, line.end.at):
                    dx, dy = x - plan.job.floor.anchor[0], y - plan.job.floor.anchor[1]
                    assert ux * dy - uy * dx == pytest.approx(0.0, abs=1e-6)


@every_job
def test_the_lines_that_are_said_to_cross_at_the_first_boards_do(file: Path) -> None:
    _, sheet = planned(file)
    for name in sheet.crossing:
        parts = [line for line in sheet.lines if line.wanted.name == name]
        assert (
            min(shapely.LineString([p.start.at, p.end.at]).distance(shapely.Point(sheet.at)) for p in parts)
            < 1e-6
        )


def test_parts_of_one_line_are_named_by_number_and_lie_behind_each_other() -> None:
    _, sheet = planned(REPOSITORY / "site_src/app/demo_job.json")
    parts = [line for line in sheet.lines if line.wanted.name == "row axis"]
    assert [line.name for line in parts] == ["row axis, part 1", "row axis, part 2"]
    # The island with its gap lies between them: 1490 to 2310 mm.
    for one, other in pairwise(parts):
        assert (one.end.at[1], other.start.at[1]) == pytest.approx((1490.0, 2310.0), abs=0.01)

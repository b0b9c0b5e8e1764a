"""What readings on the laid floor lead to: forecast, warnings, proposals, and the pieces that are cut."""

from itertools import pairwise

import numpy as np
import pytest
from msgspec import to_builtins
from msgspec.structs import replace
from shapely import LineString, Polygon
from shapely.affinity import affine_transform

from engine.planning.floor_plan import FloorPlan, plan_floor
from engine.planning.pieces import Piece
from engine.planning.proposals import pattern_steps
from engine.planning.staying_true import StayingTrue, staying_true
from engine.wire.job_file import open_job
from tests.engine.planning.planted_floor import READ, Laid, plan_with, read, state_of
from tests.engine.small_jobs import small_job

MOVED = Laid(ahead=5, left=-4, turn=0.25, creep=0.001)


@pytest.fixture(scope="module")
def moved() -> StayingTrue:
    plan = plan_with()
    cut = [piece.id for piece in plan.pieces if piece.sawn.kind != "whole"]
    fitted = {name: {"cut": True, "fitted": True} for name in cut[:6]}
    return state_of(MOVED, progress={**{name: {"cut": True} for name in cut}, **fitted})


def test_the_forecast_at_each_wall_is_what_was_planted(moved: StayingTrue) -> None:
    """How far the pattern will lie towards the wall, at the piece where that is most."""
    assert moved.fit is not None
    assert moved.foreseen is not None
    assert {end.wall for end in moved.foreseen.ends} == {"A–B", "B–C", "C–D", "D–A"}
    for end in moved.foreseen.ends:
        off = MOVED.off(complex(*end.at))
        towards = off.real * end.outwards[0] + off.imag * end.outwards[1]
        assert end.off == pytest.approx(towards, abs=0.2)
        assert abs(end.off - towards) <= end.bound < 3


def test_the_smallest_piece_of_a_wall_is_that_of_the_floor_cut_as_it_lies(moved: StayingTrue) -> None:
    """Smaller of least width and long point, with shapely, over the pieces cut along that wall."""
    assert moved.foreseen is not None
    lying = lying_floor(moved)
    fitted = {name for name, done in moved.plan.job.progress.items() if done.fitted}
    for end in moved.foreseen.ends:
        for pieces, said in ((moved.plan.pieces, end.planned), (lying.pieces, end.now)):
            left = [piece for piece in pieces if piece.id not in fitted and not piece.can_be_left_out]
            along = [piece for piece in left if end.wall in {cut.barrier.name for cut in piece.sawn.cuts}]
            assert min(map(measured_size, along)) == pytest.approx(said, abs=0.01)
        assert end.least <= end.now <= end.most


def measured_size(piece: Piece) -> float:
    """The smaller of longest long edge and least width, over the directions square to an edge of the hull."""
    ring = piece.sawn.outline[0]
    hull = np.array(Polygon(ring).convex_hull.exterior.coords)
    normals = [np.array([b[1] - a[1], a[0] - b[0]]) / np.linalg.norm(b - a) for a, b in pairwise(hull)]
    width = min(float(np.ptp(hull @ normal)) for normal in normals)
    edges = [
        sum(
            abs(b[0] - a[0])
            for a, b in pairwise((*ring, ring[0]))
            if abs(a[1] - y) < 1e-6 and abs(b[1] - y) < 1e-6
        )
        for y in (0.0, piece.board.size.width)
    ]
    return min(width, max(edges))


def lying_floor(state: StayingTrue, keep: bool = False) -> FloorPlan:
    """The floor cut as it lies; with ``keep`` what is cut and fits stays as it was cut."""
    assert state.foreseen is not None
    taken = state.foreseen.taken
    if not keep:
        fitted = tuple(name for name, done in state.plan.job.progress.items() if done.fitted)
        taken = replace(taken, keeps=fitted)
    job = state.plan.job
    assert job.laid is not None
    return plan_floor(replace(job, laid=replace(job.laid, taken=(*job.laid.taken, taken))))


def at_place(piece: Piece, place: Piece) -> tuple[Polygon, list[LineString]]:
    """Outline and cuts of a piece as it was cut, lying where another piece's board does."""
    turn, frame = np.radians(place.board.frame.angle), place.board.frame
    matrix = [np.cos(turn), -np.sin(turn), np.sin(turn), np.cos(turn), frame.x, frame.y]
    shapes = [Polygon(piece.sawn.outline[0]), *(LineString(cut.points) for cut in piece.sawn.cuts)]
    outline, *cuts = (affine_transform(shape, matrix) for shape in shapes)
    return outline, cuts


def gap_misses(piece: Piece, place: Piece, state: StayingTrue) -> float:
    """By how much the gaps of a piece at a place leave their bands at most, mm; by shapely."""
    outline, cuts = at_place(piece, place)
    walls = {b.name: (LineString(b.points), b) for b in state.plan.room.barriers}
    floor = Polygon(state.plan.room.outline.ring)
    worst = 0.0 if floor.contains(outline) else 99.0
    for line, barrier in walls.values():
        worst = max(worst, barrier.gap - barrier.tolerance - line.distance(outline))
    for cut in cuts:
        for share in np.linspace(0, 1, 60):
            spot = cut.interpolate(share, normalized=True)
            worst = max(worst, min(line.distance(spot) - b.gap - b.tolerance for line, b in walls.values()))
    return worst


def test_cut_pieces_are_held_against_the_new_list(moved: StayingTrue) -> None:
    """What still fits keeps its gap where it will lie, what is cut again would not; by shapely."""
    assert moved.foreseen is not None
    now = {piece.id: piece for piece in lying_floor(moved).pieces}
    was = {piece.id: piece for piece in moved.plan.pieces}
    fates = {one.id: one for one in moved.foreseen.held}
    cut = {name for name, done in moved.plan.job.progress.items() if done.cut and not done.fitted}
    assert fates.keys() == cut
    assert {"fits", "trim"} <= {one.fate for one in fates.values()}
    for name, one in fates.items():
        if one.fate == "not needed":
            assert name not in now
            continue
        miss = gap_misses(was[name], now[name], moved)
        assert miss <= 0.1 if one.fate == "fits" else miss > 0
        if one.fate == "trim":
            old = Polygon(was[name].sawn.outline[0]).buffer(0.1)
            assert old.contains(Polygon(now[name].sawn.outline[0]))
        if one.fate == "elsewhere":
            assert gap_misses(was[name], now[one.place], moved) <= 0.1
            assert now[one.place].board.hand == was[name].board.hand


def test_a_piece_whose_place_is_gone_for_it_is_offered_one_that_it_fits() -> None:
    """Shifted by a whole step of the pattern every piece fits the place one step back."""
    narrow = {"floor__board": {"length": 600, "width": 60}}
    plan = plan_with(**narrow)
    step = pattern_steps(plan.job.floor).along
    mitres = [p.id for p in plan.pieces if p.sawn.kind == "mitre" and len(p.sawn.cuts) == 1]
    state = state_of(Laid(ahead=step), **narrow, progress={name: {"cut": True} for name in mitres})
    assert state.foreseen is not None
    now = {piece.id: piece for piece in lying_floor(state).pieces}
    was = {piece.id: piece for piece in state.plan.pieces}
    moved_on = [one for one in state.foreseen.held if one.fate == "elsewhere"]
    assert moved_on
    assert len({one.place for one in moved_on}) == len(moved_on)
    for one in moved_on:
        assert gap_misses(was[one.id], now[one.place], state) <= 0.1
        assert state.foreseen.taken.spare[one.id] == one.place


def test_what_is_taken_keeps_what_fits_and_cuts_the_rest_anew(moved: StayingTrue) -> None:
    assert moved.foreseen is not None
    was = {piece.id: piece for piece in moved.plan.pieces}
    now = {piece.id: piece for piece in lying_floor(moved, keep=True).pieces}
    for one in moved.foreseen.held:
        if one.fate == "fits":
            assert now[one.id].sawn.outline == was[one.id].sawn.outline
        elif one.fate == "trim":
            assert now[one.id].sawn.outline != was[one.id].sawn.outline


def test_a_sliver_is_told_before_it_is_laid(moved: StayingTrue) -> None:
    """With a limit between the smallest piece as planned and as the floor lies a warning names it."""
    assert moved.foreseen is not None
    before = {piece.id: measured_size(piece) for piece in moved.plan.pieces}
    after = {p.id: measured_size(p) for p in lying_floor(moved).pieces if p.id in before and p.sawn.cuts}
    name = max(after, key=lambda name: min(before[name], 60) - after[name])
    assert before[name] - after[name] > 4
    limit = after[name] + 1
    state = state_of(MOVED, cutting__sliver=limit)
    assert state.foreseen is not None
    lying = [piece for piece in lying_floor(state).pieces if not piece.can_be_left_out]
    now = {piece.id: piece for piece in lying if piece.is_sliver}
    small = {piece.id for piece in state.plan.pieces if piece.is_sliver}
    named = {name for one in state.foreseen.ends for name in one.slivers}
    assert name in named
    assert named == {name for name in now if name not in small and now[name].sawn.cuts}
    told = " ".join(finding.sentence for finding in state.findings if finding.code == "sliver ahead")
    assert all(end.wall in told for end in state.foreseen.ends if end.slivers)
    assert "too small" in told
    assert f"{name} {after_size(now[name])} mm" in told or " more" in told


def after_size(piece: Piece) -> str:
    return f"{measured_size(piece):.1f}"


def test_a_floor_that_lies_as_planned_needs_nothing() -> None:
    state = state_of(Laid())
    assert state.foreseen is not None
    assert state.foreseen.changed == 0
    assert [one.kind for one in state.foreseen.proposals if one.best] == ["nothing"]
    assert not [finding for finding in state.findings if finding.level == "warning"]


def test_one_thing_is_proposed_and_it_would_do(moved: StayingTrue) -> None:
    assert moved.foreseen is not None
    assert moved.foreseen.changed > 0
    best = [one for one in moved.foreseen.proposals if one.best]
    assert len(best) == 1
    assert best[0].can
    assert best[0].kind != "nothing"
    assert len({one.kind for one in moved.foreseen.proposals}) == 5


@pytest.mark.parametrize(
    ("pattern", "along", "across"),
    [("herringbone", 90 * 2**0.5, 600 * 2**0.5), ("double herringbone", 90 * 2**0.5, 600 * 2**0.5)],
)
def test_the_steps_of_a_herringbone_are_those_of_its_lattice(
    pattern: str, along: float, across: float
) -> None:
    """√2·W along the row axis by √2·L across, for each board of a strip."""
    steps = pattern_steps(plan_with(floor__pattern=pattern).job.floor)
    assert (steps.along, steps.across) == pytest.approx((along, across))


def test_a_straight_floors_joints_are_shared_by_the_rows_still_to_come() -> None:
    """Six millimetres short over so many rows of 90 mm: counted by hand."""
    straight = {"floor__pattern": "straight", "floor__board": {"length": 600, "width": 90}}
    state = state_of(Laid(left=6), **straight, cutting__sliver=60)
    assert state.fit is not None
    assert state.foreseen is not None
    assert pattern_steps(state.plan.job.floor).across == pytest.approx(90)
    joints = next(one for one in state.foreseen.proposals if one.kind == "joints")
    end = max(state.foreseen.ends, key=lambda e: (len(e.slivers) + len(e.doubtful), abs(e.off), e.wall))
    rows = min(abs(end.at[0] - one.read.middle[0]) for one in state.readings) / 90
    assert f"{rows:.0f} joints" in joints.sentence or (rows < 1 and "No joints" in joints.sentence)


def test_a_second_taking_starts_from_the_plan_as_set_out_not_from_the_first() -> None:
    """The fit is always of the whole floor: the same readings give the same values after a taking."""
    first = state_of(MOVED)
    assert first.fit is not None
    assert first.foreseen is not None
    plan = plan_with()
    laid = {"readings": read(plan, MOVED), "taken": [to_builtins(first.foreseen.taken)]}
    second = staying_true(open_job(small_job(**READ, laid=laid)).job)
    assert second.fit is not None
    assert second.fit.drift.values == pytest.approx(first.fit.drift.values)
    assert second.foreseen is not None
    assert second.foreseen.changed == 0

"""What a piece measured at the wall says of the wall, against a room in which the wall really lies so."""

from typing import Any

import pytest

from engine.geometry.board import side_lengths
from engine.model.job import Job
from engine.planning.floor_plan import FloorPlan, plan_floor
from engine.planning.measured_at_wall import Side
from engine.planning.pieces import Piece
from engine.planning.wall_correction import WallCorrection, wall_correction
from engine.wire.job_file import open_job
from tests.engine.small_jobs import ask, small_job

SURVEYED = [[450, 5], [900, 8.5], [1350, 6]]


def job_with(offsets: list[list[float]], **more: Any) -> Job:
    return open_job(small_job(room__walls__0__offsets=offsets, **more)).job


def planned(offsets: list[list[float]], **more: Any) -> FloorPlan:
    return plan_floor(job_with(offsets, floor__count_from={"row": -20, "place": -20}, **more))


def needed(piece: Piece) -> dict[Side, float]:
    """What somebody would measure in that room: the lengths at the nominal gap."""
    lengths = side_lengths(piece.board.frame.ring_to_board(piece.ideal[0]), piece.board.size)
    return {"left": lengths["left"], "right": lengths["right"]}


def mitres(plan: FloorPlan) -> list[Piece]:
    return [
        piece
        for piece in plan.pieces
        if piece.sawn.kind == "mitre"
        and len(piece.sawn.cuts) == 1
        and piece.sawn.cuts[0].barrier.name == "A–B"
    ]


def corrected(plan: FloorPlan, piece: str, lengths: dict[Side, float]) -> WallCorrection | None:
    return wall_correction(plan, piece, lengths, lambda step, done: None)


def test_the_wall_is_found_where_it_really_lies() -> None:
    """Two rooms alike but for 4 mm of bow: lengths measured in one put its wall there to 0.15 mm."""
    surveyed, true = planned(SURVEYED), planned([[450, 7], [900, 12.5], [1350, 9]])
    wall = true.room.outline.walls[0]
    tried = 0
    for piece in mitres(true)[::4]:
        found = corrected(surveyed, piece.id, needed(piece))
        if found is None:
            continue
        for shot in found.shots:
            assert shot.offset == pytest.approx(wall.curve.offset(shot.station), abs=0.15)
            tried += 1
    assert tried >= 4


def test_only_what_the_wall_changes_is_told_and_what_is_fitted_is_left_alone() -> None:
    """The changes are those of the true room's pieces nearby; pieces along other walls are none of them."""
    surveyed = planned(SURVEYED, progress={})
    piece = mitres(surveyed)[len(mitres(surveyed)) // 2]
    lengths: dict[Side, float] = {"left": needed(piece)["left"] - 4}
    found = corrected(surveyed, piece.id, lengths)
    assert found is not None
    names = {change.id for change in found.changes}
    along = {p.id for p in surveyed.pieces if any(cut.barrier.name == "A–B" for cut in p.sawn.cuts)}
    assert names
    assert names <= along - {piece.id}
    first = found.changes[0].id
    done = {first: {"cut": True, "fitted": True}, found.changes[1].id: {"cut": True}}
    again = corrected(planned(SURVEYED, progress=done), piece.id, lengths)
    assert again is not None
    assert first not in {change.id for change in again.changes}
    assert [change.is_cut for change in again.changes if change.id == found.changes[1].id] == [True]


def test_a_length_as_it_should_be_leaves_the_wall_where_it_is() -> None:
    """Measured as at the nominal gap: no more than comes of the tenth that offsets are written to."""
    plan = planned(SURVEYED)
    for piece in mitres(plan)[2:4]:
        found = corrected(plan, piece.id, needed(piece))
        assert found is not None
        assert all(abs(shot.offset - shot.surveyed) < 0.15 for shot in found.shots)
        assert all(change.by < 0.6 for change in found.changes)


def test_a_reading_right_beside_the_new_one_is_stood_in_for() -> None:
    """Two readings a hand apart that disagree would make the curve swing."""
    plan = planned(SURVEYED)
    for piece in mitres(plan)[1::4]:
        found = corrected(plan, piece.id, {"left": needed(piece)["left"] + 1})
        if found is None:
            continue
        stations = [station for station, _ in found.offsets]
        assert all(b - a >= 100 for a, b in zip(stations, stations[1:], strict=False))


def test_a_corner_or_a_pieces_along_a_pipe_says_nothing_of_a_wall() -> None:
    """Only one straight cut along a wall does; what does not is told so."""
    plan = planned(SURVEYED)
    for piece in plan.pieces:
        if piece.sawn.kind in ("whole", "corner", "notch", "hole", "scribe"):
            assert corrected(plan, piece.id, {"left": 100.0}) is None
    reply = ask("wall correction", job=small_job(), piece="99-99L", left=100)
    assert reply["wall"] is None
    assert "do not speak of one wall" in reply["words"][0]


def test_the_reply_names_the_wall_its_readings_and_what_follows() -> None:
    """In the reader's decimals; the readings can be put into the job as they are."""
    job = small_job()
    piece = mitres(plan_floor(open_job(job).job))[3]
    reply = ask("wall correction", job=job, piece=piece.id, left=piece.sawn.left - 5, decimal=",")
    assert reply["words"][0].startswith("Wall A–B lies ")
    assert " farther into the room than surveyed at " in reply["words"][0]
    assert "," in reply["words"][0]
    (reading,) = reply["readings"]
    assert (reading["from"], reading["to"]) == ("A", "B")
    offsets = dict(map(tuple, reply["offsets"]))
    assert offsets[reading["station"]] == float(reading["typed"])
    job["room"]["walls"][reply["wall"]]["offsets"] = reply["offsets"]
    assert ask("plan", job=job)["reply"] == "plan"

"""Readings on the laid floor: which count, which are left out and why, what is not known yet."""

import pytest

from engine.planning.staying_true import staying_true
from engine.wire.job_file import open_job
from tests.engine.planning.planted_floor import READ, Laid, plan_with, read
from tests.engine.small_jobs import small_job


def test_what_cannot_be_used_is_told_with_its_reading_and_left_out() -> None:
    """Each such reading alone: the floor is not fitted from it."""
    plan = plan_with()
    whole = next(piece for piece in plan.pieces if piece.sawn.kind == "whole")
    mitre = next(p for p in plan.pieces if p.sawn.kind == "mitre" and p.sawn.kept_end == "start")
    sound = read(plan, Laid())[0]
    for change, code in [
        ({"typed": "1,234"}, "unclear number"),
        ({"typed": "-5"}, "impossible length"),
        ({"sd": -1}, "impossible accuracy"),
        ({"piece": "99-99L"}, "unknown piece"),
        ({"piece": mitre.id, "end": "far", "side": "left"}, "corner cut off"),
        ({"to": "Q–R"}, "unknown wall"),
        ({"typed": str(float(sound["typed"]) + 300)}, "reading stands out"),
    ]:
        document = small_job(**READ, laid={"readings": [{**sound, **change}]})
        state = staying_true(open_job(document).job)
        assert state.fit is None, change
        assert code in [finding.code for finding in state.findings], change
        assert all(finding.path == "laid.readings.d0" for finding in state.findings)
    assert whole.id


def test_a_reading_taken_back_or_corrected_no_longer_counts() -> None:
    sound = read(plan_with(), Laid())[0]
    wrong = {**sound, "id": "w", "typed": str(float(sound["typed"]) + 9)}
    back = {**wrong, "id": "x", "typed": "", "corrects": "w"}
    again = {**sound, "id": "y", "corrects": "w"}
    for readings in ([wrong, back, sound], [wrong, again]):
        state = staying_true(open_job(small_job(**READ, laid={"readings": readings})).job)
        assert [one.read.distance for one in state.readings] == [pytest.approx(float(sound["typed"]))]


def test_what_is_not_known_yet_is_said_and_what_to_read() -> None:
    readings = read(plan_with(), Laid())[:1]
    state = staying_true(open_job(small_job(**READ, laid={"readings": readings})).job)
    said = [finding for finding in state.findings if finding.code == "not known yet"]
    assert len(said) == 4
    assert all("read" in finding.sentence for finding in said)


def test_readings_by_which_no_floor_could_lie_are_not_taken() -> None:
    readings = read(plan_with(), Laid(turn=4.5))
    state = staying_true(open_job(small_job(**READ, laid={"readings": readings})).job)
    assert state.foreseen is None
    assert any(finding.code in ("floor cannot lie so", "reading stands out") for finding in state.findings)

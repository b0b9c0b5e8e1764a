"""The engine's door: whatever comes in, an answer goes out, and a caller's mistake is never our fault."""

import json
from typing import Any

import pytest
from hypothesis import HealthCheck, given, settings
from hypothesis import strategies as st

from engine import entry
from engine.entry import handle
from tests.engine.small_jobs import SMALL, ask, small_job

scalars = (
    st.none()
    | st.booleans()
    | st.integers(-(10**30), 10**30)
    | st.floats(allow_nan=False, allow_infinity=False)
    | st.sampled_from([0, -1, 1e-9, 5, 90, 1800, 1e6, "A", "herringbone", "arc", "straight", "round"])
    | st.text(max_size=8)
)
documents = st.recursive(
    scalars,
    lambda inner: st.lists(inner, max_size=4) | st.dictionaries(st.text(max_size=6), inner, max_size=4),
)


def places(value: Any, way: tuple[Any, ...] = ()) -> list[tuple[Any, ...]]:
    """The way to every entry of a document."""
    inner = value.items() if isinstance(value, dict) else enumerate(value) if isinstance(value, list) else ()
    return [found for key, item in inner for found in ((*way, key), *places(item, (*way, key)))]


PLACES = places(SMALL)


@st.composite
def spoilt_jobs(draw: st.DrawFn) -> dict[str, Any]:
    """The small job with one to three entries exchanged, taken out or moved by a number."""
    job = small_job()
    for _ in range(draw(st.integers(1, 3))):
        *way, last = draw(st.sampled_from(PLACES))
        target = job
        try:
            for step in way:
                target = target[step]
            old = target[last]
        except (KeyError, IndexError, TypeError):
            continue
        if isinstance(target, str):  # drawn before in place of a list, and read like one
            continue
        if draw(st.integers(0, 5)) == 0:
            del target[last]
        elif isinstance(old, int | float) and draw(st.booleans()):
            target[last] = draw(st.sampled_from([0, -old, old * 10, old / 1000, old + 1e5, 1e-7]))
        else:
            target[last] = draw(documents)
    return job


def check_reply(reply: dict[str, Any]) -> None:
    assert reply["reply"] != "fault", reply.get("trace")
    for finding in reply["findings"]:
        assert finding["code"]
        assert finding["sentence"].endswith("."), finding
    if reply["reply"] == "refused":
        assert any(finding["level"] == "error" for finding in reply["findings"])


@settings(max_examples=150, deadline=None)
@given(document=documents)
def test_any_document_is_answered_with_findings(document: Any) -> None:
    """What is no job is refused with a sentence that says how to mend it, never with a trace."""
    check_reply(json.loads(handle(json.dumps({"ask": "check", "job": document}))))
    job = {"format": "out-of-true job", "room": document, "floor": document, "cutting": document}
    check_reply(ask("check", job=job))


@settings(max_examples=150, deadline=None)
@given(job=spoilt_jobs())
def test_a_spoilt_job_is_answered_with_findings(job: dict[str, Any]) -> None:
    check_reply(ask("check", job=job))


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(job=spoilt_jobs(), what=st.sampled_from(["plan", "room", "sheets"]))
def test_a_spoilt_job_is_planned_or_refused(job: dict[str, Any], what: str) -> None:
    """Where the check finds an error, the plan is refused with it; else there is a plan."""
    checked, reply = ask("check", job=job), ask(what, job=job)
    check_reply(reply)
    if what != "room" and any(finding["level"] == "error" for finding in checked["findings"]):
        assert reply["reply"] == "refused"


@settings(max_examples=150, deadline=None)
@given(text=st.text(max_size=60) | st.sampled_from(["", "{", '{"ask":"plan","job":{"a":', "[1,2]", "nul"]))
def test_any_text_is_answered(text: str) -> None:
    check_reply(json.loads(handle(text)))


@pytest.mark.parametrize(
    ("text", "path", "code"),
    [
        ("", "", "not JSON"),
        ('{"ask":"plan","job":' + '{"a":' * 100_000 + "1" + "}" * 100_001, "", "not JSON"),
        ('{"ask":"check","job":{"name":"\ud800"}}', "", "not JSON"),
        ('{"ask":"dance"}', "ask", "wrong structure"),
        ('{"ask":"plan"}', "", "wrong structure"),
        ('{"ask":"check","job":[]}', "job", "wrong structure"),
        ('{"ask":"room","job":{},"exaggerate":1e300}', "exaggerate", "wrong structure"),
        ('{"ask":"measured","job":{},"piece":"1-1L","left":1e9}', "left", "wrong structure"),
    ],
)  # fmt: skip
def test_a_request_that_cannot_be_read_is_refused_with_its_place(text: str, path: str, code: str) -> None:
    """Regression: these came back as a fault of the engine's own."""
    reply = json.loads(handle(text))
    assert reply["reply"] == "refused"
    assert [(finding["path"], finding["code"]) for finding in reply["findings"]] == [(path, code)]


def test_a_fault_of_our_own_comes_back_as_data_with_its_trace(monkeypatch: pytest.MonkeyPatch) -> None:
    def broken(*_: object) -> None:
        raise ZeroDivisionError("our own doing")

    monkeypatch.setattr(entry, "answer", broken)
    reply = ask("check", job={})
    assert (reply["reply"], reply["name"], reply["message"]) == (
        "fault",
        "ZeroDivisionError",
        "our own doing",
    )
    assert "broken" in reply["trace"]


def test_progress_is_told_while_the_work_goes_on() -> None:
    """Each step has words and a share between 0 and 1 that never falls."""
    told: list[str] = []
    job = small_job(floor__anchor=[911.5, 641.25])
    assert json.loads(handle(json.dumps({"ask": "plan", "job": job}), told.append))["reply"] == "plan"
    shares = [json.loads(text)["done"] for text in told]
    assert shares == sorted(shares)
    assert (shares[0], max(shares) <= 1, len(shares) > 2) == (0, True, True)
    assert all(json.loads(text)["step"] for text in told)


def test_every_fault_of_sense_is_reported_at_once() -> None:
    """Room, floor and saw in one reply."""
    job = small_job(
        room__walls__0__gap=-5, floor__board={"length": 5, "width": 90}, floor__axis=1000,
        floor__pattern="plaid",
        cutting={"kerf": -1, "saw_step": 90, "sliver": 5000, "gap_tolerance": -2},
    )  # fmt: skip
    found = {finding["path"] for finding in ask("check", job=job)["findings"] if finding["level"] == "error"}
    assert found >= {
        "room.walls[0].gap", "floor.board.length", "floor.board", "floor.axis", "floor.pattern",
        "cutting.kerf", "cutting.saw_step", "cutting.sliver", "cutting.gap_tolerance",
    }  # fmt: skip
    assert ask("plan", job=job)["reply"] == "refused"

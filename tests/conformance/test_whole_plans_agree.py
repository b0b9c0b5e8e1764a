"""The phone's whole engine, as it is packed, gives the desk's plan for the same job.

Every job goes through the desk's engine here and through the packed one with
GEOS in WebAssembly under Node, all in one start of it.
"""

import csv
import json
from collections.abc import Iterator
from copy import deepcopy
from io import StringIO
from pathlib import Path
from typing import Any

import pytest

from builder.output import Files
from builder.places import DEMO_JOB
from engine.entry import handle
from tests.builder.packed_engine import ask_packed_engine
from tests.conformance.surveyed_jobs import surveyed_jobs
from tests.engine.small_jobs import small_job

# What README promises: mm, or degrees.
NEAR = 0.001
REFERENCE = Path(__file__).parents[1] / "reference" / "jobs"
FILES = [DEMO_JOB, *sorted(REFERENCE.glob("*.json"))]

Reply = dict[str, Any]


def measured_at_the_wall(job: dict[str, Any]) -> dict[str, Any]:
    """The job with every piece that is cut measured a little shorter on its left edge."""
    pieces = json.loads(handle(json.dumps({"ask": "plan", "job": job})))["plan"]["pieces"]
    shorter = {piece["id"]: {"left": piece["left"] - 1.37} for piece in pieces if piece["kind"] != "whole"}
    return {**job, "progress": shorter}


def with_long_cut(job: dict[str, Any]) -> dict[str, Any]:
    """The job with a long straight cut along its threshold, from a mark near each end of it."""
    wall = next(wall for wall in job["room"]["walls"] if wall.get("face") == "threshold")
    cut = {"from": wall["from"], "to": wall["to"], "guide": 95, "depth": 14}
    drawn = json.loads(handle(json.dumps({"ask": "plan", "job": {**job, "long_cuts": [cut]}})))["long_cuts"][
        0
    ]
    places = [[float(number) for number in drawn["corners"][end]["typed"]] for end in (0, -1)]
    marks = [{"at": at, "distance": distance} for at, distance in zip(places, (70, 73.5), strict=True)]
    return {**job, "long_cuts": [{**cut, "marks": marks}]}


def taken_as_it_lies(job: dict[str, Any]) -> dict[str, Any]:
    """The job with its floor taken as it lies, out of plan in every way, every third cut piece kept."""
    plan = json.loads(handle(json.dumps({"ask": "plan", "job": job})))
    cut = [piece["id"] for piece in plan["plan"]["pieces"] if piece["kind"] != "whole"]
    drift = {"ahead": 3.7, "left": -2.9, "turn": 0.21, "creep_along": 0.0009, "creep_across": -0.0004}
    floor = {**job["floor"], "count_from": plan["count_from"]}
    where = {"anchor": floor["anchor"], "axis": floor["axis"], "about": [1200.0, 900.0]}
    return {**job, "floor": floor, "laid": {"taken": [{**where, **drift, "keeps": cut[::3]}]}}


JOBS = {path.stem: json.loads(path.read_text(encoding="utf-8")) for path in FILES} | surveyed_jobs()
JOBS["corridor"] = with_long_cut(JOBS["corridor"])
JOBS |= {"measured at the wall": measured_at_the_wall(JOBS["parted"])}
JOBS |= {"taken as it lies": taken_as_it_lies(JOBS["parted"])}
# With a board that might be saved, so that the search for it has something to do.
JOBS |= {"a board in doubt": small_job(floor__anchor=[951, 589], cutting__trim=3)}


def questions(job: dict[str, Any]) -> tuple[str, ...]:
    """A comma as decimal mark, so that no text can be taken for a number."""
    return (
        json.dumps({"ask": "plan", "job": job, "decimal": ","}),
        json.dumps({"ask": "sheets", "job": job}),
        json.dumps({"ask": "improve", "job": job, "seconds": 0}),
    )


@pytest.fixture(scope="module")
def phone(built: Files, tmp_path_factory: pytest.TempPathFactory) -> dict[str, list[Reply]]:
    """The phone's replies for each job: plan, sheets, and the first programme that may save boards."""
    texts = [text for job in JOBS.values() for text in questions(job)]
    replies = iter(ask_packed_engine(built, tmp_path_factory.mktemp("phone"), texts))
    return {name: [next(replies), next(replies), next(replies)] for name in JOBS}


def differences(desk: Any, phone: Any, path: str = "") -> Iterator[str]:
    """Every place at which two replies are not alike: other keys or order, texts, or numbers beyond NEAR."""
    match desk, phone:
        case dict(), dict() if list(desk) == list(phone):
            for key in desk:
                yield from differences(desk[key], phone[key], f"{path}.{key}")
        case list(), list() if len(desk) == len(phone):
            for place, (ours, theirs) in enumerate(zip(desk, phone, strict=True)):
                yield from differences(ours, theirs, f"{path}[{place}]")
        case float() | int(), float() | int() if type(desk) is type(phone) and abs(desk - phone) <= NEAR:
            return
        case _ if desk != phone or type(desk) is not type(phone):
            yield f"{path}: {str(desk)[:60]} on the desk, {str(phone)[:60]} on the phone"


def opened(reply: Reply) -> Reply:
    """A reply of sheets with each file's text read: the plan file as JSON, the tables as numbers."""
    files = reply["files"]
    rows = list(csv.reader(StringIO(files["cuts.csv"])))
    return {
        **reply,
        "files": {
            **files,
            "plan.json": json.loads(files["plan.json"]),
            "cuts.csv": [[number_or_text(cell) for cell in row] for row in rows],
        },
    }


def number_or_text(cell: str) -> float | str:
    try:
        return float(cell)
    except ValueError:
        return cell


@pytest.mark.parametrize("name", JOBS)
def test_desk_and_phone_give_the_same_plan_and_files(phone: dict[str, list[Reply]], name: str) -> None:
    """Same keys, ids, kinds, hands, order and texts; every number within 0.001 mm or degree."""
    desk = [json.loads(handle(text)) for text in questions(JOBS[name])]
    assert [reply["reply"] for reply in desk] == ["plan", "sheets", "improve"]
    assert len(desk[0]["cards"]) > 20
    assert list(differences(desk[0], phone[name][0])) == []
    assert list(differences(opened(desk[1]), opened(phone[name][1]))) == []
    assert list(differences(desk[2], phone[name][2])) == []


def test_a_difference_anywhere_is_seen(phone: dict[str, list[Reply]]) -> None:
    """The comparison itself: a length off by more than 0.001 mm, a word, an order, a key."""
    plan, sheets = phone["demo_job"][0], opened(phone["demo_job"][1])
    longer, other, turned, short = (deepcopy(plan) for _ in range(4))
    longer["plan"]["pieces"][3]["left"] += 0.0011
    other["cards"][5]["steps"][0] += " "
    turned["floor"]["pieces"].reverse()
    del short["cards"][0]["flags"]
    for changed in (longer, other, turned, short):
        assert list(differences(plan, changed))
    row = deepcopy(sheets)
    row["files"]["cuts.csv"][4][5] += 0.1
    assert [found.split(":")[0] for found in differences(sheets, row)] == [".files.cuts.csv[4][5]"]
    assert list(differences(plan, plan)) == []

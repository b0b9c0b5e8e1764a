"""Lines of a floor that was taken as it lies, measured anew from their stated distances.

Where a line of the plan lies now is worked out here with complex numbers, without the engine: drawn out,
turned, shifted. What is still to be laid is told by the marks.
"""

from math import dist
from typing import Any

import numpy as np
import pytest
import shapely

from engine.planning.floor_plan import plan_floor
from engine.planning.setting_out import plan_setting_out
from engine.wire.job_file import open_job
from tests.engine.planning.test_floor_as_it_lies import ABOUT, SHIFT, taken
from tests.engine.planning.test_lines_remeasured import STRUCK, cross, struck
from tests.engine.small_jobs import ask, small_job

NEW = ("left parallel as it lies", "right parallel as it lies")
PATTERNS: dict[str, dict[str, Any]] = {
    "herringbone": {},
    "chevron": {"floor__pattern": "chevron"},
    "straight": {"floor__pattern": "straight"},
    "double herringbone": {
        "floor__pattern": "double herringbone",
        "floor__board": {"length": 300, "width": 60},
    },
}


def job_of(**changes: Any) -> dict[str, Any]:
    """The box room without its plinth, taken as it lies; the axis heads up through x = 910."""
    laid = {"taken": [taken(**SHIFT)]}
    return small_job(laid=laid, floor__count_from={"row": -9, "place": -19}, **{"room__fixed": [], **changes})


def carried(x: float, y: float) -> complex:
    """Where a point of the plan lies."""
    own = complex((x - ABOUT[0]) * (1 + SHIFT["creep_across"]), (y - ABOUT[1]) * (1 + SHIFT["creep_along"]))
    return (
        complex(*ABOUT)
        + own * np.exp(1j * np.radians(SHIFT["turn"]))
        + complex(-SHIFT["left"], SHIFT["ahead"])
    )


def new_lines(reply: dict[str, Any]) -> dict[str, tuple[dict[str, Any], dict[str, Any]]]:
    """Name of a parallel as it lies → its lines in the plan file and as they are shown."""
    pairs = zip(reply["plan"]["setting_out"]["lines"], reply["setting_out"]["lines"], strict=True)
    return {line["name"]: (line, shown) for line, shown in pairs if line["name"].startswith(NEW)}


@pytest.mark.parametrize("pattern", PATTERNS)
def test_a_parallel_struck_from_its_stated_distances_lies_where_the_laid_floor_has_it(pattern: str) -> None:
    """Its marks from their tapes as shown, to half a millimetre of where the plan's own parallel lies now."""
    job = job_of(**PATTERNS[pattern])
    reply = ask("plan", job=job)
    corners = {name: (x, y) for name, (x, y) in job["room"]["corners"].items()}
    lines = new_lines(reply)
    assert {name.partition(",")[0] for name in lines} == set(NEW)
    planned = {line["name"]: line for line in reply["plan"]["setting_out"]["lines"]}
    for name, (line, shown) in lines.items():
        ends = (line["from"], line["to"])
        start, end = (struck(mark, at, corners) for mark, at in zip(shown["marks"], ends, strict=True))
        assert dist(start, end) == pytest.approx(float(shown["length"]["text"]), abs=STRUCK)
        before = planned[name.replace(" as it lies", "")]
        for point in (before["from"], before["to"]):
            now = carried(*point)
            assert abs(cross(start, end, (now.real, now.imag))) / dist(start, end) < STRUCK
        for laser in shown["laser"]:
            corner, side = laser["label"].split(",")[0], 1 if "left" in laser["label"] else -1
            beside = cross(start, end, corners[corner]) / dist(start, end)
            assert side * beside == pytest.approx(float(laser["text"]), abs=2 * STRUCK)


@pytest.mark.parametrize("pattern", PATTERNS)
def test_boards_as_they_lie_touch_it_with_their_corners(pattern: str) -> None:
    """A board moves as a stiff whole: its corners are off the pattern that is drawn out by under 1 mm."""
    reply = ask("plan", job=job_of(**PATTERNS[pattern]))
    whole = [piece for piece in reply["plan"]["pieces"] if piece["kind"] == "whole"]
    points = shapely.points([point for piece in whole for point in piece["outline"][0]])
    for line, shown in new_lines(reply).values():
        chalk = shapely.LineString([line["from"], line["to"]])
        assert (shapely.distance(points, chalk) < 1).sum() >= 4
        assert "corners of boards still to be laid lie on it" in shown["words"]


def test_what_is_fitted_moves_the_parallels_on_or_takes_them_away() -> None:
    """Straight rows: with all of a side's boards up to one line fitted, the next one is struck; then none."""
    job = job_of(**PATTERNS["straight"], floor__board={"length": 600, "width": 45})
    axis = {name: line for name, (line, _) in new_lines(ask("plan", job=job)).items()}
    assert set(axis) == set(NEW)
    plan = plan_floor(open_job(job).job)
    step = plan_setting_out(plan).rows.parallel
    assert step == 405

    def beside(line: dict[str, Any]) -> float:
        return shapely.LineString([line["from"], line["to"]]).distance(shapely.Point(at.real, at.imag))

    at = carried(910, 640)
    assert beside(axis[NEW[0]]) == pytest.approx(step * (1 + SHIFT["creep_across"]), abs=0.01)
    left = {piece.id: 910 - piece.middle[0] for piece in plan.pieces if piece.sawn.kind == "whole"}
    some = {name: {"fitted": True} for name, off in left.items() if 0 < off < step}
    assert some
    on = {name: line for name, (line, _) in new_lines(ask("plan", job={**job, "progress": some})).items()}
    assert set(on) == set(NEW)
    assert on[NEW[1]] == axis[NEW[1]]
    assert beside(on[NEW[0]]) == pytest.approx(2 * step * (1 + SHIFT["creep_across"]), abs=0.01)
    all_left = {name: {"fitted": True} for name, off in left.items() if off > 0}
    assert set(new_lines(ask("plan", job={**job, "progress": all_left}))) == {NEW[1]}
    every = dict.fromkeys(left, {"fitted": True})
    assert new_lines(ask("plan", job={**job, "progress": every})) == {}


def test_a_floor_that_was_not_taken_has_none() -> None:
    assert new_lines(ask("plan", job={**job_of(), "laid": {"taken": []}})) == {}

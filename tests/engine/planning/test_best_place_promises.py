"""What is promised of the best place: openings, axis, faults in sentences, why nothing good can be had."""

from math import cos, dist, radians, sin, sqrt
from typing import Any

import msgspec
import pytest

from engine.errors import Refused
from engine.model.job import Job
from engine.planning.best_place import BestPlace, _axes, _best_place, best_place
from engine.planning.best_place_words import place_findings
from engine.planning.floor_edges import floor_edges
from engine.planning.floor_plan import plan_room
from engine.slices import to_the_end
from tests.engine.small_jobs import small_job


def read(**wishes: Any) -> Job:
    job = small_job(setting_out={"edges": [{"from": "A", "to": "B"}], "measure": "long_point"} | wishes)
    job["floor"]["board"] = {"length": 400, "width": 70}
    return msgspec.convert(job, Job)


def off_axis(best: BestPlace, middle: tuple[float, float], board_length: float) -> float:
    """How far a point lies from the nearest row axis: rows of a herringbone are L/√2 apart."""
    x, y = middle[0] - best.anchor[0], middle[1] - best.anchor[1]
    across = x * sin(radians(best.axis)) - y * cos(radians(best.axis))
    # Every other line between rows is the axis of a row whose boards meet; the anchor lies on one.
    apart = board_length * sqrt(2)
    return abs((across + apart / 2) % apart - apart / 2)


@pytest.mark.parametrize("within", [0.0, 4.0])
def test_a_row_axis_runs_through_the_opening(within: float) -> None:
    """Exactly through its middle, or as near as was asked for."""
    best = best_place(read(through=[{"from": [700, 0], "to": [1100, 6], "within": within}]))
    assert off_axis(best, (900, 3), 400) <= within + 1e-6


def test_more_freedom_is_never_worse() -> None:
    """An opening that may be missed by some millimetres leaves more; none at all leaves most."""
    opening = {"from": [700, 0], "to": [1100, 0]}
    values = [best_place(read(through=[opening | {"within": within}])).rated.value for within in (0.0, 30.0)]
    values.append(best_place(read()).rated.value)
    assert all(more >= less - 0.15 for less, more in zip(values, values[1:], strict=False))


def test_the_axis_turns_no_farther_than_it_may() -> None:
    """Within its degrees to either side, and never for something worse."""
    fixed, free = best_place(read()), best_place(read(axis_within=0.6))
    assert abs(free.axis - 90) <= 0.6 + 1e-9
    assert free.rated.value >= fixed.rated.value
    assert free.bound >= fixed.rated.value


def test_the_pattern_is_moved_the_shortest_way() -> None:
    """A whole cell changes nothing, so the anchor never moves farther than half of one."""
    job = read()
    assert dist(best_place(job).anchor, job.floor.anchor) <= (400 * sqrt(2) + 70 * sqrt(2)) / 2


def test_triangles_without_a_short_side_are_ranked_by_long_point() -> None:
    """Where every place leaves a triangle its short side says nothing; the answer says what decided."""
    best = best_place(read(measure="short_side"))
    assert best.ranked_by == "long_point"
    assert best.rated.value == pytest.approx(best_place(read()).rated.value, abs=1e-9)


@pytest.mark.parametrize(
    ("wishes", "code"),
    [
        ({"edges": []}, "no edge matters"),
        ({"edges": [{"from": "A", "to": "C"}]}, "no such edge"),
        ({"through": [{"from": [900, 200], "to": [900, 900]}]}, "opening along the rows"),
        (
            {"through": [{"from": [700, 0], "to": [900, 0]}, {"from": [790, 0], "to": [990, 0]}]},
            "openings too far apart",
        ),
    ],
)
def test_wishes_that_cannot_be_are_refused_in_a_sentence(wishes: dict[str, Any], code: str) -> None:
    """Each says what to mend."""
    with pytest.raises(Refused) as refused:
        best_place(read(**wishes))
    assert refused.value.findings[0].code == code
    assert refused.value.findings[0].sentence.endswith(".")


def test_the_same_wishes_find_the_same_place() -> None:
    """To the last digit, worked out twice."""
    one, other = (to_the_end(_best_place(read(), read().wishes, lambda step, done: None)) for _ in range(2))
    assert one == other


def test_a_wall_that_runs_out_of_the_rows_is_told_with_what_would_help() -> None:
    """40 mm over 1.8 m is most of W/√2: the note says so, and by how much to turn the rows."""
    job = small_job(
        room__corners={"A": [0, 0], "B": [1800, 40], "C": [1812, 1420], "D": [-6, 1400]},
        setting_out={"edges": [{"from": "A", "to": "B"}], "measure": "long_point"},
    )
    job["room"]["walls"][0]["offsets"] = []
    job["floor"]["board"] = {"length": 400, "width": 70}
    askew = msgspec.convert(job, Job)
    (note,) = place_findings(askew, plan_room(askew), best_place(askew))
    assert note.level == "note"
    assert note.path == "setting_out.edges[0]"
    assert "runs 39.7 mm out of the rows" in note.sentence
    assert "1.27° counter-clockwise" in note.sentence
    assert "glue" in note.sentence


def test_an_edge_that_does_well_is_not_talked_about() -> None:
    """A straight wall along the rows with a large smallest piece needs no words."""
    job = read()
    straight = small_job(setting_out={"edges": [{"from": "A", "to": "B"}], "measure": "long_point"})
    straight["room"]["walls"][0]["offsets"] = []
    straight["floor"]["board"] = {"length": 400, "width": 70}
    job = msgspec.convert(straight, Job)
    assert place_findings(job, plan_room(job), best_place(job)) == ()


def test_between_the_axes_tried_a_better_one_is_found() -> None:
    """Two walls that run apart, one bowed: no axis that follows a wall or goes farthest is as good."""
    document = small_job(
        room__corners={"A": [0, 0], "B": [1800, 8], "C": [1812, 1420], "D": [-6, 1400]},
        room__fixed=[],
        setting_out={"edges": [{"from": "A", "to": "B"}, {"from": "C", "to": "D"}], "measure": "long_point"},
    )
    document["room"]["walls"][0]["offsets"] = [[900, 3]]
    document["floor"]["board"] = {"length": 400, "width": 70}
    job = msgspec.convert(document, Job)
    wishes = msgspec.structs.replace(job.wishes, axis_within=1.0)
    axes = _axes(job.floor, wishes, floor_edges(plan_room(job), job.floor.board.length))
    tried = [
        best_place(msgspec.structs.replace(job, floor=msgspec.structs.replace(job.floor, axis=axis)))
        for axis in axes
    ]
    best = best_place(msgspec.structs.replace(job, setting_out=wishes))
    assert best.rated.value > max(each.rated.value for each in tried) + 0.2
    assert abs(best.axis - job.floor.axis) <= 1.0
    assert best.rated.value <= best.bound

"""What distances to a wall share: held against a room whose corner is moved for real."""

from math import dist

import numpy as np
import pytest
from shapely import LineString, Point

from engine.planning.floor_plan import plan_room
from engine.planning.shared_errors import shared_with_wall
from engine.planning.towards import wall_towards
from engine.survey.report import SurveyReport, survey_report
from engine.wire.job_file import open_job
from tests.engine.small_jobs import small_job

# Corners by lengths: their errors are known.
SIDES = [("A", "B", 1800), ("B", "C", 1400), ("C", "D", 1800), ("D", "A", 1400)]
SOLVED = {
    "room__corners": None,
    "room__walls": [
        {"from": a, "to": b, "gap": 10, "length": length, "offsets": [[s, 0] for s in (300, 700, 1100)]}
        for a, b, length in SIDES
    ],
    "room__ties": [{"from": "A", "to": "C", "length": 2280.4}, {"from": "B", "to": "D", "length": 2280.4}],
    "room__fixed": [],
}


@pytest.fixture(scope="module")
def survey() -> SurveyReport:
    job = open_job(small_job(**SOLVED)).job
    return survey_report(job.room, plan_room(job).outline)


@pytest.mark.parametrize("index", range(4))
def test_a_distance_changes_by_its_corners_as_it_does_when_they_are_moved(
    survey: SurveyReport, index: int
) -> None:
    """Both ends moved by a drawn error of their ellipses: shapely's distance follows to 0.01 mm."""
    assert survey.adjustment is not None
    wall, at = survey.walls[index], (700.0, 500.0)
    shares = dict(shared_with_wall(at, wall, survey.adjustment))
    ends, longer = [], 0.0
    draw = np.random.default_rng(index)
    for corner, place in ((wall.line.from_, wall.line.start), (wall.line.to, wall.line.end)):
        xx, xy, yy = survey.adjustment.covariance(corner)
        errors = draw.normal(size=2)
        # The Cholesky triangle with numpy; a corner that is held, or on the x axis, has no error there.
        lower = np.linalg.cholesky(np.array([[xx, xy], [xy, yy]]) + 1e-18 * np.eye(2))
        ends.append(np.array(place) + lower @ errors)
        longer += sum(
            shares.get(f"{corner} {axis}", 0.0) * error for axis, error in zip("xy", errors, strict=True)
        )
    before = LineString([wall.line.start, wall.line.end]).distance(Point(at))
    assert LineString(ends).distance(Point(at)) - before == pytest.approx(longer, abs=0.01)


def test_readings_between_the_same_two_stations_share_and_others_do_not(survey: SurveyReport) -> None:
    wall = survey.walls[0]
    names = [
        next(iter(dict(shared_with_wall((x, 400.0), wall, None))))
        for x in (400.0, 600.0, 800.0, 1000.0, 1500.0)
    ]
    assert names[0] == names[1] != names[2] == names[3] != names[4]
    assert all(name.startswith(wall.line.name) for name in names)
    assert dist(wall.line.start, wall.line.end) == pytest.approx(1800, abs=1)


def test_the_wall_in_a_direction_is_the_one_that_a_line_meets_first(survey: SurveyReport) -> None:
    walls = [wall.line for wall in survey.walls]
    ways = {(1.0, 0.0): "B–C", (0.0, 1.0): "C–D", (-1.0, 0.0): "D–A", (0.0, -1.0): "A–B"}
    assert {way: wall_towards(walls, (700.0, 500.0), way) for way in ways} == ways
    assert wall_towards(walls, (-50.0, 500.0), (-1.0, 0.0)) is None

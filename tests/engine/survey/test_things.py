"""Fixed things put in their place by two lengths from corners."""

from math import dist
from typing import Any

import pytest
import shapely
from hypothesis import given, settings
from hypothesis import strategies as st

from engine.geometry.shapes import Point
from engine.model.job import FixedThing, Room, Wall
from engine.model.readings import Survey, ThingReading
from engine.survey.check_readings import check_readings
from engine.survey.outline import Outline, room_outline
from engine.survey.things import thing_lengths
from tests.engine.small_jobs import ask, small_job

CORNERS: dict[str, Point] = {"A": (0, 0), "B": (5000, 0), "C": (5000, 4000), "D": (0, 4000)}
PIPE = FixedThing(name="pipe", centre=(300, 300), diameter=22, gap=8)
ISLAND = FixedThing(name="island", outline=((2000, 1500), (3000, 1500), (3000, 2100), (2000, 2100)))


def reading(from_: str, typed: object, point: int = 0, thing: str = "pipe", **more: Any) -> ThingReading:
    id_ = more.pop("id", f"{thing}{point}{from_}")
    return ThingReading(id=id_, typed=str(typed), thing=thing, point=point, from_=from_, **more)


def placed(*readings: ThingReading, thing: FixedThing = PIPE, corners: dict[str, Point] = CORNERS) -> Outline:
    walls = tuple(Wall(from_=a, to=b) for a, b in zip("ABCD", "BCDA", strict=True))
    room = Room(corners=corners, walls=walls, fixed=(thing,))
    return room_outline(room, thing_lengths(Survey(readings=readings)))


def codes(outline: Outline) -> list[str]:
    return [finding.code for finding in outline.findings]


def test_two_lengths_put_a_pipe_in_its_place() -> None:
    """3, 4 and 5 m make a right angle: the foot of its height lies 9/5 m from A, the height is 12/5 m."""
    outline = placed(reading("A", 3000), reading("B", 4000))
    assert outline.fixed[0].centre == pytest.approx((1800, 2400))
    assert codes(outline) == []


@settings(deadline=None, max_examples=60)
@given(st.floats(40, 4960), st.floats(40, 3960), st.sampled_from(["AB", "BA", "AC", "BD", "CB", "DA"]))
def test_place_agrees_with_circles_of_shapely(x: float, y: float, ends: str) -> None:
    """Circles of many sides round the two corners cross where the point is put, seen from nearby."""
    thing = FixedThing(name="pipe", centre=(x + 5, y - 5), diameter=22)
    first, second = (dist(CORNERS[end], (x, y)) for end in ends)
    outline = placed(reading(ends[0], f"{first:.6f}0"), reading(ends[1], f"{second:.6f}0"), thing=thing)
    found = outline.fixed[0].centre
    assert found is not None
    circles = [
        shapely.Point(CORNERS[end]).buffer(reach, quad_segs=4000).exterior
        for end, reach in zip(ends, (first, second), strict=True)
    ]
    # A circle of 16 000 sides is at most 0.0001 mm out; where the two cross flat, that is stretched.
    off = max(circle.distance(shapely.Point(found)) for circle in circles)
    assert off < 0.001
    if not any(code == "thing loosely held" for code in codes(outline)):
        assert shapely.intersection(*circles).distance(shapely.Point(found)) < 0.05
        assert found == pytest.approx((x, y), abs=0.05)


def test_of_two_places_the_one_inside_the_room_is_taken() -> None:
    """From A and D, on one wall, the mirror image lies beyond it, whichever is read first."""
    for ends in ("AD", "DA"):
        readings = [reading(end, f"{dist(CORNERS[end], (60, 1000)):.4f}0") for end in ends]
        thing = FixedThing(name="pipe", centre=(-60, 1000), diameter=22)
        assert placed(*readings, thing=thing).fixed[0].centre == pytest.approx((60, 1000), abs=0.01)


@pytest.mark.parametrize("place", [(4000.0, 1000.0), (1500.0, 2700.0)])
def test_of_two_places_inside_the_nearer_one_is_taken(place: Point) -> None:
    """Across the diagonal A–C both lie in the room; where the job has the thing decides."""
    near = FixedThing(name="pipe", centre=(place[0] - 200, place[1] + 100), diameter=22)
    readings = [reading(end, f"{dist(CORNERS[end], place):.4f}0") for end in "AC"]
    assert placed(*readings, thing=near).fixed[0].centre == pytest.approx(place, abs=0.01)


def test_third_length_tells_the_mirror_image_from_the_place() -> None:
    """The job has the thing near the wrong one of both; a length from B can only belong to one."""
    wrong = FixedThing(name="pipe", centre=(1500, 2700), diameter=22)
    readings = [reading(end, f"{dist(CORNERS[end], (4000, 1000)):.4f}0") for end in "ACB"]
    outline = placed(*readings, thing=wrong)
    assert outline.fixed[0].centre == pytest.approx((4000, 1000), abs=0.01)
    assert codes(outline) == []


def test_third_length_that_does_not_fit_is_named() -> None:
    """3, 4, 5 m again: from D the pipe is √(1.8² + 1.6²) = 2.408 m away. 2440 is 32 mm too long."""
    both = reading("A", 3000), reading("B", 4000)
    assert codes(placed(*both, reading("D", 2409))) == []
    outline = placed(*both, reading("D", 2440))
    (finding,) = outline.findings
    assert (finding.code, finding.level, finding.path) == (
        "length stands out",
        "warning",
        "survey.readings.pipe0D",
    )
    assert "from D (2440.0 mm) is 32 mm more than those from A and B" in finding.sentence
    assert outline.fixed[0].centre == pytest.approx((1800, 2400))


def test_length_read_twice_from_one_corner_is_held_against_itself() -> None:
    """A slip of a decimetre shows, although both start at A."""
    outline = placed(reading("A", 3000), reading("B", 4000), reading("A", 3100, id="again"))
    assert codes(outline) == ["length stands out"]


def test_lengths_that_do_not_meet_are_both_named() -> None:
    """1 m and 2 m cannot meet between corners 5 m apart; the thing stays."""
    outline = placed(reading("A", 1000), reading("B", 2000))
    (finding,) = outline.findings
    assert finding.code == "lengths do not meet"
    for words in ("from A (1000.0 mm)", "from B (2000.0 mm)", "5000 mm apart", "Take both again"):
        assert words in finding.sentence
    assert outline.fixed[0] == PIPE


def test_one_length_leaves_the_thing_where_it_is() -> None:
    """A note asks for the second."""
    outline = placed(reading("A", 1000))
    assert [(f.code, f.level) for f in outline.findings] == [("one length only", "note")]
    assert outline.fixed[0] == PIPE


def test_flat_crossing_is_said_and_a_better_corner_is_taken_instead() -> None:
    """A pipe on the line A–B is badly held by these two, well by A and D."""
    thing = FixedThing(name="pipe", centre=(2500, 60), diameter=22)
    flat = [reading(end, f"{dist(CORNERS[end], (2500, 12)):.4f}0") for end in "AB"]
    assert codes(placed(*flat, thing=thing)) == ["thing loosely held"]
    better = placed(*flat, reading("D", f"{dist(CORNERS['D'], (2500, 12)):.4f}0"), thing=thing)
    assert codes(better) == []
    assert better.fixed[0].centre == pytest.approx((2500, 12), abs=0.1)


def test_outline_goes_with_its_one_placed_point() -> None:
    """The island is shifted whole: (2000, 1500) was found at (1800, 2400)."""
    outline = placed(reading("A", 3000, thing="island"), reading("B", 4000, thing="island"), thing=ISLAND)
    moved = outline.fixed[0].outline
    assert moved is not None
    for found, was in zip(moved, ISLAND.outline or (), strict=True):
        assert found == pytest.approx((was[0] - 200, was[1] + 900))


def test_outline_turns_with_two_placed_points() -> None:
    """Turned by a quarter about its first point: the two that were not read follow."""
    true = {0: (2000.0, 1500.0), 1: (2000.0, 2500.0)}
    readings = [
        reading(end, f"{dist(CORNERS[end], at):.4f}0", point=point, thing="island")
        for point, at in true.items()
        for end in "AB"
    ]
    turned = placed(*readings, thing=ISLAND).fixed[0].outline
    assert turned is not None
    for found, expected in zip(turned, ((2000, 1500), (2000, 2500), (1400, 2500), (1400, 1500)), strict=True):
        assert found == pytest.approx(expected, abs=0.01)


def _taped_room(**lengths: str) -> dict[str, Any]:
    """A room of 3 by 4 m with a pipe, all of it by lengths; its pipe stands 1 m from both A's walls."""
    read = {"AB": "4000", "BC": "3000", "CD": "4000", "DA": "3000", "AC": "5000", "BD": "5000"} | lengths
    readings = [
        {"of": "length", "id": ends, "typed": typed, "from": ends[0], "to": ends[1]}
        for ends, typed in read.items()
    ]
    readings += [
        {"of": "thing", "id": f"pipe{end}", "typed": typed, "thing": "pipe", "from": end}
        for end, typed in (("A", "1414.2"), ("B", "3162.3"))
    ]
    walls = [{"from": a, "to": b} for a, b in zip("ABCD", "BCDA", strict=True)]
    pipe = {"name": "pipe", "centre": [900, 900], "diameter": 22, "gap": 8}
    job = small_job(room={"walls": walls, "fixed": [pipe]}, floor__anchor=[2000, 1500])
    return job | {"survey": {"readings": readings}}


def test_thing_follows_a_corrected_corner_through_the_whole_plan() -> None:
    """The room's drawing has the pipe where the lengths put it, and so has the plan's hole."""
    reply = ask("plan", job=_taped_room())
    assert reply["reply"] == "plan", reply
    (hole,) = reply["plan"]["lay_area"]["rings"][1:]
    assert shapely.Polygon(hole).centroid.coords[0] == pytest.approx((1000, 1000), abs=0.5)
    # B 20 mm farther: x = (a² − b² + c²) / 2c with a² = 2·10⁶, b² = 10⁷ and c = 4020.
    longer = ask("plan", job=_taped_room(AB="4020", BD="5016", AC="5000", CD="4000"))
    moved = shapely.Polygon(longer["plan"]["lay_area"]["rings"][1]).centroid.x
    width = dist(*(longer["plan"]["survey"]["corners"][name] for name in "AB"))
    assert moved == pytest.approx((2e6 - 1e7 + width**2) / (2 * width), abs=0.5)
    assert moved != pytest.approx(1000, abs=3)


FAULTY: dict[str, tuple[ThingReading, str, str]] = {
    "thing": (reading("A", 900, thing="stove"), "unknown thing", "Choose one of island, pipe"),
    "corner": (reading("Q", 900), "unknown corner", "Choose one of A, B, C, D"),
    "point": (reading("A", 900, point=4, thing="island"), "unknown point", "which has 4 points"),
    "centre": (reading("A", 900, point=1), "unknown point", "only its centre"),
    "length": (reading("A", 0), "impossible length", "above zero"),
}


@pytest.mark.parametrize("fault", FAULTY)
def test_faulty_reading_is_named(fault: str) -> None:
    """What is wrong with the reading is said, with what to choose instead, and nothing is computed."""
    wrong, code, words = FAULTY[fault]
    (finding,) = check_readings(
        Survey(readings=(wrong,)), Room(corners=CORNERS, walls=(), fixed=(ISLAND, PIPE))
    )
    assert (finding.code, finding.path) == (code, f"survey.readings.{wrong.id}")
    assert words in finding.sentence


def test_new_length_to_a_thing_is_asked_about_when_it_stands_out() -> None:
    """Read back in words; the third of three that disagree raises a question, a good one does not."""
    job = _taped_room()
    new = {"of": "thing", "id": "new", "thing": "pipe", "from": "D"}
    good = ask("reading", job=job, reading=new | {"typed": "2236.1"}, decimal=",")
    assert (good["understood"], good["question"]) == ("D to pipe: 2236,1 mm", None)
    bad = ask("reading", job=job, reading=new | {"typed": "2.30", "unit": "m"})
    assert bad["question"]["sentence"] == (
        "To pipe, the length from D (2300.0 mm) is 64 mm more than those from A and B make it. "
        "Keep it, or read again?"
    )


NEW = FixedThing(name="pipe", centre=(0, 0), diameter=22, by_lengths=True)


def test_a_thing_that_stands_by_lengths_is_left_out_until_it_has_them() -> None:
    """Promise: a thing not measured yet neither stands in a wrong place nor is forgotten."""
    none = placed(thing=NEW)
    assert none.fixed == ()
    assert codes(none) == ["thing without a place"]
    one = placed(reading("A", 3000), thing=NEW)
    assert one.fixed == ()
    assert codes(one) == ["one length only", "thing without a place"]
    both = placed(reading("A", 3000), reading("B", 4000), thing=NEW)
    assert both.fixed[0].centre == pytest.approx((1800, 2400))
    assert codes(both) == []


def test_an_island_by_lengths_to_two_of_its_corners_keeps_its_size_and_turns() -> None:
    """Two corners measured give the place and the turn; the others follow by the size that was typed.

    Checked by hand: corner 1 at (1800, 2400) as above, corner 2 exactly 1000 to the right of it.
    """
    size: tuple[Point, ...] = ((0, 0), (1000, 0), (1000, 600), (0, 600))
    island = FixedThing(name="island", outline=size, by_lengths=True)
    to_second = [dist(CORNERS[end], (2800, 2400)) for end in "AB"]
    outline = placed(
        reading("A", 3000, thing="island"),
        reading("B", 4000, thing="island"),
        reading("A", f"{to_second[0]:.6f}0", 1, thing="island"),
        reading("B", f"{to_second[1]:.6f}0", 1, thing="island"),
        thing=island,
    )
    expected = ((1800, 2400), (2800, 2400), (2800, 3000), (1800, 3000))
    assert outline.fixed[0].outline is not None
    for point, at in zip(outline.fixed[0].outline, expected, strict=True):
        assert point == pytest.approx(at, abs=0.001)

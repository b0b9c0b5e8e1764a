"""Steps, tools and settings of a floor: what lies at the fence, where the stop stands, what is too short."""

import json
import re
from pathlib import Path
from typing import Any

import pytest
import shapely

from engine.cutting.saw_angles import Saw
from engine.model.job import Cutting
from engine.planning.floor_plan import FloorPlan, plan_floor
from engine.planning.on_saw import lies_of
from engine.planning.plan_file import plan_record
from engine.planning.saw_order import (
    lies_at_fence,
    saw_settings,
    stop_for,
    turn_for,
    turned_cuts,
    way_turned,
)
from engine.planning.tool_steps import is_hand_near, tool_steps
from engine.planning.tools import mitre_saw
from engine.wire.job_file import open_job
from tests.engine.small_jobs import ask, small_job


def plan_of(**changes: Any) -> FloorPlan:
    return plan_floor(open_job(small_job(**changes)).job)


@pytest.fixture(scope="module")
def plan() -> FloorPlan:
    return plan_of()


def test_every_cut_of_the_mitre_saw_stands_under_its_setting_once(plan: FloorPlan) -> None:
    """With the degrees on its scale and the way it is turned."""
    saw = mitre_saw(plan.job.cutting)
    settings = saw_settings(plan.pieces, saw)
    seen = [(name, each.turned, each.angle) for each in settings for name in each.pieces]
    assert len(seen) == len(set(seen))
    wanted = {
        (piece.id, way_turned(turn_for(cut, saw)), round(abs(cut.angle), 4))
        for piece in plan.pieces
        for cut in turned_cuts(piece, saw)
    }
    assert set(seen) == wanted


def test_the_list_sweeps_the_saw_once_and_the_stop_from_long_to_short(plan: FloorPlan) -> None:
    sign = {"left": -1, "square": 0, "right": 1}
    settings = saw_settings(plan.pieces, mitre_saw(plan.job.cutting))
    turns = [sign[each.turned] * each.angle for each in settings]
    assert turns == sorted(turns)
    for turn in set(turns):
        for side in ("left", "right"):
            here = [
                each for each, own in zip(settings, turns, strict=True) if (own, each.side) == (turn, side)
            ]
            stops = [each.stop or 0.0 for each in here]
            assert stops == sorted(stops, reverse=True)


def test_stops_are_shared_and_read_off_a_tape(plan: FloorPlan) -> None:
    """Fewer stops than pieces that lie against one, most of them at half millimetres."""
    settings = [each for each in saw_settings(plan.pieces, mitre_saw(plan.job.cutting)) if each.stop]
    assert len(settings) < sum(len(each.pieces) for each in settings)
    assert sum((each.stop or 0) % 0.5 == 0 for each in settings) > len(settings) / 2


FLOORS: dict[str, dict[str, Any]] = {
    "herringbone": {},
    "herringbone, crooked": {"cutting__gap_tolerance": 0.5, "room__walls__2__offsets": [[900, -20]]},
    "chevron": {"floor__pattern": "chevron"},
    "chevron, 60°": {"floor__pattern": "chevron", "floor__angle": 30},
    "straight": {"floor__pattern": "straight", "floor__axis": 2.0},
    "passage": {
        "room__corners": {"A": [0, 0], "B": [1800, 0], "C": [1812, 310], "D": [-6, 300]},
        "room__walls": [{"from": "A", "to": "B", "offsets": [[900, 4]]}],
        "room__fixed": [],
        "floor__axis": 91.5,
        "floor__anchor": [910, 140],
    },
    "square to the walls": {"floor__pattern": "straight", "floor__axis": 0.0, "cutting__gap_tolerance": 8},
}


@pytest.mark.parametrize("face", ["up", "down"])
@pytest.mark.parametrize("floor", FLOORS)
def test_the_drawing_shows_what_is_set(floor: str, face: str) -> None:
    """Whichever end stays and whichever way the face looks, for every cut of every piece.

    On the drawing, fence at the top, the blade's line runs as the saw is turned, the piece lies on the side
    of it that is said, and from the line to the stop it is as far along the fence as is said. The stop meets
    a corner of the piece that reaches farthest, and no part of the board lies behind it.
    """
    plan = plan_of(**FLOORS[floor], cutting__face=face)
    saw, seen = mitre_saw(plan.job.cutting), set()
    for piece in plan.pieces:
        cuts = list(turned_cuts(piece, saw))
        for lie, cut in zip(lies_of(piece, plan.job.cutting) if cuts else (), cuts, strict=True):
            turn, at = turn_for(cut, saw), lies_at_fence(piece, cut, saw)
            low, high = sorted((lie.point(point) for point in cut.points), key=lambda point: point[1])
            # Turned to the right the blade runs from the back left to the front right.
            assert (low[0] - high[0]) * turn >= 0
            shape = shapely.Polygon(lie.ring(piece.sawn.outline[0]))
            way = (low[0] - high[0]) / (low[1] - high[1])
            side = shape.centroid.x - low[0] - way * (shape.centroid.y - low[1])
            assert (side < 0) == at.is_left
            assert shape.exterior.is_ccw == (
                shapely.Polygon(piece.sawn.outline[0]).exterior.is_ccw == (face == "up")
            )
            if lie.stop is None:
                continue
            assert lie.stop_at is not None
            assert lie.stop_at[1] == pytest.approx(piece.board.width)
            at_fence = low[0] + way * (piece.board.width - low[1])
            assert abs(at_fence - lie.stop_at[0]) == pytest.approx(lie.stop, abs=1e-6)
            assert shape.exterior.distance(shapely.Point(lie.stop_at)) < 0.01
            board = [x for x, _ in lie.ring(piece.board.size.ring)]
            if at.tip is not None:
                # An end that is sawn already: what was beyond it is gone.
                board = [x for x, _ in shape.exterior.coords]
            assert lie.stop_at[0] == pytest.approx(min(board) if at.is_left else max(board), abs=0.01)
            seen.add((cut.kind, piece.sawn.kept_end, turn > 0))
    assert len(seen) >= 2


CORRIDOR = Path(__file__).parents[2] / "reference" / "jobs" / "corridor.json"


@pytest.mark.parametrize(
    ("job", "least"),
    [(small_job(**FLOORS["passage"]), 3), (json.loads(CORRIDOR.read_text()), 2)],
    ids=["cuts alike", "cuts that lean to each other"],
)
def test_a_piece_that_keeps_neither_end_is_measured_from_its_first_cut(
    job: dict[str, Any], least: int
) -> None:
    """In a narrow passage both ends fall: the second cut in the saw's order lies against the first.

    Held by the outline alone: the stop is as long as the edge at the fence, from sawn end to sawn end.
    """
    plan, cards = plan_floor(open_job(job).job), ask("plan", job=job)["cards"]
    saw, words = mitre_saw(plan.job.cutting), {card["id"]: card for card in cards}
    places = {cut: number for number, each in enumerate(saw_settings(plan.pieces, saw)) for cut in each.cuts}
    seen = 0
    for piece in plan.pieces:
        cuts = list(turned_cuts(piece, saw))
        if piece.sawn.kept_end != "neither" or [cut.kind for cut in cuts] != ["mitre", "mitre"]:
            continue
        stops = [stop_for(piece, cut, saw) for cut in cuts]
        first, second = (step for step in tool_steps(piece, plan.job.cutting) if step.work == "turn")
        assert (first.cut, second.cut) == tuple(cuts)
        assert stops == [None, second.stop]
        assert places[piece.id, 0] < places[piece.id, 1]
        assert second.lies is not None
        y = 0.0 if second.lies.is_right else piece.board.width
        at_fence = [x for x, across in piece.sawn.outline[0] if across == pytest.approx(y, abs=1e-6)]
        assert second.stop == pytest.approx(max(at_fence) - min(at_fence), abs=1e-6)
        assert second.stop in (pytest.approx(piece.sawn.left), pytest.approx(piece.sawn.right))
        said = [step for step in words[piece.id]["steps"] if step.startswith("Lay the board")]
        assert "First cut, no stop" in said[0]
        assert "the end just sawn goes against it" in said[1]
        # On its picture the first cut is made: nothing of the blank lies behind the stop.
        shown = {each["stop_length"]: each for each in words[piece.id]["saws"]}
        drawn = next(each for length, each in shown.items() if length)
        ends = [float(text) for text in re.findall(r"[ML](-?[\d.]+)", drawn["board"])]
        gone = {"start", "far"} - {label["text"] for label in drawn["labels"]}
        assert second.lies.end in gone
        block = [float(text) for text in re.findall(r"[ML](-?[\d.]+)", drawn["stop"])]
        assert min(block) >= max(ends) - 0.01 or max(block) <= min(ends) + 0.01
        seen += 1
    assert seen >= least


def test_all_cuts_but_a_few_have_a_stop_and_the_card_says_why_the_others_have_none() -> None:
    """Two cuts that meet have one each; a piece that keeps no end, or loses the corner, has its marks."""
    for floor in ("herringbone", "chevron"):
        job = small_job(**FLOORS[floor])
        plan, cards = plan_floor(open_job(job).job), ask("plan", job=job)["cards"]
        saw, with_two, words = mitre_saw(plan.job.cutting), 0, {card["id"]: card["steps"] for card in cards}
        for piece in plan.pieces:
            stops = [stop_for(piece, cut, saw) for cut in turned_cuts(piece, saw)]
            said = [step for step in words.get(piece.id, ()) if step.startswith("Lay the board")]
            assert [stop is None for stop in stops] == ["Cut to the marks" in step for step in said]
            assert all("No stop: " in step for step in said if "Cut to the marks" in step)
            with_two += sum(stop is not None for stop in stops) == 2
        assert with_two > 0, floor


def test_a_board_that_lies_on_its_face_is_turned_for_the_other_way() -> None:
    """The same cut: mirrored."""
    up, down = Saw(), Saw(is_face_up=False)
    for angle in (-41.5, 0.0, 22.5):
        for keeps in (True, False):
            assert up.turned(angle, keeps) == -down.turned(angle, keeps)
            assert up.turned(up.turned(angle, keeps), keeps) == angle


def test_a_saw_that_does_not_swing_so_far_leaves_the_cut_to_a_line() -> None:
    """And no setting beyond its largest angles is ever listed."""
    plan = plan_of(cutting__largest_left=30, cutting__largest_right=44.5)
    cutting = plan.job.cutting
    settings = saw_settings(plan.pieces, mitre_saw(cutting))
    assert all(-30 <= (-1 if each.turned == "left" else 1) * each.angle <= 44.5 for each in settings)
    steps = [step for piece in plan.pieces for step in tool_steps(piece, cutting)]
    assert {step.tool for step in steps if step.work == "line"} == {"track saw"}
    assert all(piece.sawn.is_inside_band for piece in plan.pieces if piece.sawn.kind == "mitre")


@pytest.mark.parametrize(
    ("tools", "straight"), [(("jigsaw",), "jigsaw"), ((), "hand saw"), (("track saw", "jigsaw"), "track saw")]
)
def test_only_tools_that_there_are_get_a_step(tools: tuple[str, ...], straight: str) -> None:
    plan = plan_of(cutting__tools=list(tools))
    steps = [step for piece in plan.pieces for step in tool_steps(piece, plan.job.cutting)]
    assert {step.tool for step in steps} <= {*tools, "drill", "hand saw"}
    assert {step.tool for step in steps if step.work == "line"} == {straight}


def test_a_pipe_s_hole_is_drilled_at_its_centre_and_slotted_from_the_nearest_edge() -> None:
    """Against shapely: the hole lies round the pipe with its gap; the slot is the way from the rim to it."""
    pipe = {"name": "pipe", "centre": [700, 500], "diameter": 22, "gap": 8}
    plan = plan_of(room__fixed=[pipe])
    found = [(piece, step) for piece in plan.pieces for step in tool_steps(piece, plan.job.cutting)]
    drilled = [(piece, step) for piece, step in found if step.work == "drill" and step.centre]
    assert drilled
    for piece, step in drilled:
        assert step.centre is not None
        assert piece.board.frame.to_room(step.centre) == pytest.approx((700, 500), abs=1e-6)
        assert step.diameter == 38
    for piece, step in found:
        if step.slot:
            rim = shapely.Polygon(piece.outline[0]).exterior
            assert step.slot.length == pytest.approx(rim.distance(shapely.Point(700, 500)) - 19, abs=1e-6)


def test_what_is_shorter_than_the_hand_clearance_says_so_and_gives_the_safe_way() -> None:
    """On every such card and on no other; the offcut it names is longer by the clearance."""
    job = small_job(cutting__hand_clearance=200)
    reply, plan = ask("plan", job=job), plan_floor(open_job(job).job)
    near = {piece.id for piece in plan.pieces if is_hand_near(piece, plan.job.cutting)}
    assert near
    for card in reply["cards"]:
        said = [flag for flag in card["flags"] if flag.startswith("Too short to hold by hand")]
        assert len(said) == (card["id"] in near), card["id"]
        assert all("clamp" in flag and "200.0 mm" in flag for flag in said)
    assert not any(is_hand_near(piece, Cutting(hand_clearance=0)) for piece in plan.pieces)


def test_cards_come_in_the_saw_s_order_under_their_settings() -> None:
    """Each cut once, those of one piece at one setting together; under a head as many pieces as it names."""
    cards = ask("plan", job=small_job(**FLOORS["herringbone, crooked"]))["cards"]
    turns = {saw["number"]: (saw["setting"], card["id"]) for card in cards for saw in card["saws"]}
    assert sorted(turns) == list(range(1, len(turns) + 1))
    listed = [turns[number] for number in sorted(turns)]
    heads = list(dict.fromkeys(setting for setting, _ in listed))
    changes = sum(one[0] != other[0] for one, other in zip(listed, listed[1:], strict=False))
    assert changes == len(heads) - 1
    for head in heads:
        assert int(head.split()[-2]) == len({name for setting, name in listed if setting == head})
    assert any(len(card["saws"]) == 2 for card in cards)
    assert all(head.startswith(("Set ", "Not on the mitre saw: ")) for head in heads)


def test_the_plan_file_has_the_settings_that_its_steps_turn_the_saw_to(plan: FloorPlan) -> None:
    """And none where no mitre saw is at hand."""
    for record in (plan_record(plan), plan_record(plan_of(cutting__tools=("track saw", "jigsaw")))):
        listed = {(name, each.angle, each.stop) for each in record.saw_settings for name in each.pieces}
        turned = {
            (piece.id, step.angle, step.stop)
            for piece in record.pieces
            for step in piece.steps
            if step.work == "turn"
        }
        assert listed == turned
    assert not record.saw_settings

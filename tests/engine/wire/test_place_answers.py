"""What the engine answers about the pattern's place: by hand, at its best, and as a map."""

import json
from pathlib import Path
from typing import Any

import numpy as np
import pytest
import shapely

from engine.entry import handle
from engine.planning.floor_plan import plan_floor
from engine.planning.pieces import Piece
from engine.wire.job_file import open_job

DEMO = Path(__file__).parents[3] / "site_src" / "app" / "demo_job.json"


def demo(**wishes: object) -> dict[str, Any]:
    job: dict[str, Any] = json.loads(DEMO.read_text(encoding="utf-8"))
    return job | {"setting_out": {"edges": [{"from": "C", "to": "D"}], **wishes}}


def ask(name: str, job: dict[str, Any], **more: object) -> dict[str, Any]:
    reply: dict[str, Any] = json.loads(handle(json.dumps({"ask": name, "job": job, **more})))
    return reply


def test_the_pattern_is_moved_to_a_point_of_the_map() -> None:
    """The place that comes back lies at the point asked for, and the boards with it."""
    reply = ask("moved", demo(), at=[120.0, 45.0])
    assert reply["at"] == pytest.approx([120.0, 45.0], abs=0.01)
    moved = demo() | {"floor": demo()["floor"] | {"anchor": reply["anchor"]}}
    again = ask("moved", moved)
    assert (again["boards"], again["by"]) == (reply["boards"], reply["by"])
    assert ask("place", moved)["worth"] == ask("place", demo(), at=[120.0, 45.0])["worth"]


def test_a_row_axis_off_the_middle_of_its_opening_is_told() -> None:
    """A row axis runs through the anchor: moved along the opening from its middle, it is off by as much."""
    opening = {"from": [1000, 1000], "to": [2000, 1000]}

    def missed(x: float, within: float) -> list[str]:
        job = demo(through=[opening | {"within": within}])
        found: list[str] = ask("place", job | {"floor": job["floor"] | {"anchor": [x, 1000]}})["missed"]
        return found

    assert missed(1500, 0) == []
    assert missed(1510, 12) == []
    (told,) = missed(1510, 0)
    assert "10.0 mm off the middle of the opening from 1000.0, 1000.0 to 2000.0, 1000.0" in told
    (told,) = missed(1490, 5)
    assert "10.0 mm off" in told
    assert "no more than 5.0 mm" in told


def test_no_opening_along_the_rows_is_offered_and_one_that_is_wished_is_told_before_any_search() -> None:
    """Those offered are the ones that the search takes; rows turned by a quarter turn swap them."""
    for axis in (90, 0):
        job = demo() | {"floor": demo()["floor"] | {"axis": axis}}
        reply = ask("plan", job)
        sheet, walls = reply["setting_out"], {each["name"]: each for each in reply["room"]["walls"]}
        offered = {each["name"]: each for each in sheet["openings"]}
        assert offered
        assert len(offered) < len(walls)
        for name, wall in walls.items():
            start, end = wall["ends"]
            along = abs(end[axis == 90] - start[axis == 90]) > 10 * abs(end[axis != 90] - start[axis != 90])
            assert (name in offered) != along
            assert (name in sheet["shut"]) == along
            wished = job | {"setting_out": {**job["setting_out"], "through": [{"from": start, "to": end}]}}
            told = ask("place", wished)["missed"]
            assert any("The rows run along" in words for words in told) == along
            if name in offered:
                assert offered[name]["ends"] == wall["ends"]
                assert offered[name]["words"].startswith(name)
            else:
                assert name in told[0]
        # The search itself, of one of either sort.
        for name in (next(iter(offered)), next(name for name in walls if name not in offered)):
            start, end = walls[name]["ends"]
            through = [{"from": start, "to": end}]
            found = ask("best place", job | {"setting_out": {**job["setting_out"], "through": through}})
            assert (found["reply"] == "best place") == (name in offered)


@pytest.mark.parametrize("anchor", [[2600, 2000], [2480.5, 1985], [2790, 2040.25]])
def test_slivers_along_all_edges_are_counted_with_the_place(anchor: list[float]) -> None:
    """As many as the plan's ideal pieces have, measured by numpy: least width of the hull, long point."""
    job = demo() | {"floor": demo()["floor"] | {"anchor": anchor}}
    reply = ask("slivers", job)
    pieces = plan_floor(open_job(job).job).pieces
    small = [size for size in map(ideal_size, pieces) if size < 20]
    assert reply["slivers"]["text"] == str(len(small))
    assert reply["slivers"]["formula"] in reply["formulas"]


def ideal_size(piece: Piece) -> float:
    """The smaller of least width and longest stretch of a long edge, mm."""
    ring = np.array(piece.board.frame.ring_to_board(piece.ideal[0]))
    hull = np.array(shapely.Polygon(ring).convex_hull.exterior.coords)
    edges = np.diff(hull, axis=0)
    normals = np.column_stack([edges[:, 1], -edges[:, 0]]) / np.linalg.norm(edges, axis=1)[:, None]
    width = min(np.ptp(hull @ normal) for normal in normals)
    ends = np.roll(ring, -1, axis=0)
    sides = []
    for side in (0.0, piece.board.size.width):
        lies = (abs(ring[:, 1] - side) < 1e-4) & (abs(ends[:, 1] - side) < 1e-4)
        sides.append(abs(ends[lies, 0] - ring[lies, 0]).sum())
    return float(min(width, max(sides)))


def test_the_best_place_is_worth_what_it_says() -> None:
    """Put there, the pattern is rated as promised, and no more than the bound."""
    best = ask("best place", demo())
    there = demo() | {"floor": demo()["floor"] | {"anchor": best["anchor"], "axis": best["axis"]}}
    place = ask("place", there)
    assert place["worth"]["text"] == best["worth"]["text"]
    assert float(best["worth"]["text"]) <= float(best["bound"]["text"])
    assert float(best["worth"]["text"]) > float(ask("place", demo())["worth"]["text"])


def test_the_best_place_of_the_best_place_is_where_it_is() -> None:
    """Asked again, what is found is no worse."""
    best = ask("best place", demo())
    there = demo() | {"floor": demo()["floor"] | {"anchor": best["anchor"], "axis": best["axis"]}}
    again = ask("best place", there)
    assert float(again["worth"]["text"]) >= float(best["worth"]["text"])


def test_what_is_counted_at_a_place_is_what_the_plan_there_counts() -> None:
    """Slivers, boards and pieces to cut, by the same words and numbers."""
    best = ask("best place", demo())
    there = demo() | {"floor": demo()["floor"] | {"anchor": best["anchor"], "axis": best["axis"]}}
    counts, summary = ask("place counts", there)["counts"], ask("plan", there)["summary"]
    assert {"slivers", "boards left", "boards right", "pieces to cut"} <= {each["key"] for each in counts}
    assert [each for each in summary if each["key"] in {one["key"] for one in counts}] == counts


def test_the_map_has_its_levels_in_words_too() -> None:
    """Every level but the lowest is named by its value and bounded by a line: it is read without colour."""
    levels = ask("place map", demo())["levels"]
    assert [bool(level["label"]["text"]) for level in levels] == [False, True, True, True, True]
    assert all(level["line"] for level in levels[1:])


@pytest.mark.parametrize("name", ["best place", "place map"])
def test_without_an_edge_that_matters_it_says_what_to_do(name: str) -> None:
    """The refusal asks for a wall."""
    reply = ask(name, demo(edges=[]))
    assert reply["reply"] == "refused"
    assert "Choose at least one wall" in reply["findings"][0]["sentence"]


def test_sheets_set_out_first_when_asked() -> None:
    """The plan's pieces, its smallest along each wall, its bound and the job that leaves it agree."""
    files = ask("sheets", demo() | {"note of mine": 1}, best=True)["files"]
    plan, job = json.loads(files["plan.json"]), json.loads(files["job.json"])
    assert job["floor"]["anchor"] == plan["setting_out"]["anchor"]
    assert job["note of mine"] == 1
    smallest = plan["setting_out"]["smallest"]["C–D"]["area"]
    assert 2000 < smallest <= plan["setting_out"]["bound"]
    stays = json.loads(ask("sheets", job)["files"]["plan.json"])
    assert stays["pieces"] == plan["pieces"]


def test_sheets_leave_a_locked_pattern_where_it_is_and_say_so() -> None:
    job = demo()
    job["setting_out"] |= {"locked": True}
    reply = ask("sheets", job, best=True)
    plan = json.loads(reply["files"]["plan.json"])
    assert plan["setting_out"]["anchor"] == job["floor"]["anchor"]
    assert "job.json" not in reply["files"]
    assert any("locked" in finding["sentence"] for finding in reply["findings"])


def test_an_axis_that_may_not_turn_keeps_its_last_digit() -> None:
    """The anchor moves; an axis of more digits than a screen shows is not rounded."""
    job = demo()
    job["floor"] |= {"axis": 90.123456789}
    job["setting_out"] |= {"axis_within": 0}
    plan = json.loads(ask("sheets", job, best=True)["files"]["plan.json"])
    assert plan["setting_out"]["axis"] == 90.123456789


def test_an_opening_off_the_room_is_refused_with_what_to_mend() -> None:
    job = demo()
    job["setting_out"] |= {"through": [{"from": [90000, 0], "to": [90000, 900], "within": 5}]}
    reply = ask("best place", job)
    assert reply["reply"] == "refused"
    assert reply["findings"][0]["path"] == "setting_out.through[0]"
    assert "outside the room" in reply["findings"][0]["sentence"]

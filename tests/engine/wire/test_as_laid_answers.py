"""Staying true through the engine's door: the figures, what to take, and what comes of taking it."""

import json
from typing import Any

import pytest

from engine.standards.formulas import FORMULAS
from tests.engine.small_jobs import ask, small_job

COUNT = {"floor__count_from": {"row": -3, "place": -9}}
READ = {
    "room__walls": [
        {"from": a, "to": b, "gap": 10, "offsets": [[s, 0] for s in range(150, length, 150)]}
        for a, b, length in (("A", "B", 1800), ("B", "C", 1400), ("C", "D", 1800), ("D", "A", 1400))
    ],
    "room__fixed": [],
    **COUNT,
}
BOUND = "\N{NO-BREAK SPACE}±\N{NO-BREAK SPACE}"


@pytest.fixture(scope="module")
def planned() -> dict[str, Any]:
    return ask("plan", job=small_job(**READ))


def readings(planned: dict[str, Any], off: float) -> list[dict[str, Any]]:
    """Whole boards read as planned, but all to A–B that much too far from it."""
    whole = [piece["id"] for piece in planned["plan"]["pieces"] if piece["kind"] == "whole"]
    taken: list[dict[str, Any]] = []
    for name in whole[::4]:
        for corner in ask("laid board", job=small_job(**READ), piece=name)["corners"]:
            for target in corner["targets"][:4]:
                to, away = target["to"], target["planned"]
                typed = f"{float(away) + (off if to == 'A–B' else -off if to == 'C–D' else 0):.1f}"
                if to == "square to it":
                    continue
                taken.append(
                    {
                        "id": f"d{len(taken)}",
                        "typed": typed,
                        "piece": name,
                        "end": corner["end"],
                        "side": corner["side"],
                        "to": to,
                    }
                )
    return taken


@pytest.fixture(scope="module")
def job(planned: dict[str, Any]) -> dict[str, Any]:
    cut = {piece["id"]: {"cut": True} for piece in planned["plan"]["pieces"] if piece["kind"] != "whole"}
    return small_job(**READ, laid={"readings": readings(planned, 6.0)}, progress=cut)


@pytest.fixture(scope="module")
def reply(job: dict[str, Any]) -> dict[str, Any]:
    found = ask("as laid", job=job)
    assert found["reply"] == "as laid", found
    return found


def test_the_reply_says_how_far_off_the_floor_is_and_where_it_ends(reply: dict[str, Any]) -> None:
    """Six millimetres ahead of plan, as planted; the wall ahead is named first."""
    ahead, aside = reply["now"]
    assert ahead["label"] == "Off towards C–D"
    assert ahead["text"] in ("5.9", "6.0", "6.1")
    assert "±" in aside["unit"]
    # C–D lies at the top of the plan: an arrow that points right is turned a quarter back.
    assert reply["arrow"] == -90
    assert reply["verdict"] == ""
    assert {end["wall"] for end in reply["ends"]} == {"A–B", "B–C", "C–D", "D–A"}
    ways = {end["wall"]: end["way"] for end in reply["ends"]}
    assert (ways["C–D"], ways["A–B"]) == ("nearer", "farther")


def test_every_figure_tells_where_it_comes_from(reply: dict[str, Any]) -> None:
    shown = [*reply["now"], reply["turn"], reply["joints"]]
    shown += [row[key] for row in reply["creep"] for key in ("gain", "front", "last")]
    shown += [end[key] for end in reply["ends"] for key in ("off", "planned", "now")]
    shown += [row["residual"] for row in reply["readings"]]
    assert {one["formula"] for one in shown} == reply["formulas"].keys()
    assert all(FORMULAS[one["formula"]].source for one in shown)


def test_one_proposal_is_marked_and_comes_first(reply: dict[str, Any]) -> None:
    assert [one["best"] for one in reply["proposals"]] == [True] + [False] * (len(reply["proposals"]) - 1)


def test_taking_the_floor_as_it_lies_cuts_the_rest_so_and_nothing_is_left_to_take(
    job: dict[str, Any], reply: dict[str, Any], planned: dict[str, Any]
) -> None:
    """What is kept in the job leads to the floor cut as it lies; taking it back leads to the old plan."""
    take = reply["take"]
    held = {name.split(" as ")[0]: row["fate"] for row in reply["held"] for name in row["pieces"]}
    assert sum(int(row["count"]) for row in reply["held"]) == len(held)
    assert set(take["keeps"]) == {name for name, fate in held.items() if fate == "fits"}
    assert take["spare"].keys() == held.keys() - set(take["keeps"])
    progress = {name: marks for name, marks in job["progress"].items() if name not in take["spare"]}
    then = {**job, "laid": {**job["laid"], "taken": [take]}, "progress": progress}
    plan = ask("plan", job=then)
    assert plan["plan"]["as_it_lies"]["ahead"] == pytest.approx(take["ahead"], abs=1e-4)
    assert plan["plan"]["pieces"] != planned["plan"]["pieces"]
    again = ask("as laid", job=then)
    assert again["take"] is None
    assert again["taken"].startswith("The pieces are cut from the floor as it lies")
    # What became of the pieces is still told as it was before they were taken.
    told = [row for row in reply["held"] if row["fate"] != "fits"]
    assert again["spare"] == told != []
    # And on the card where each can be used, so that no board is sawn for it.
    said = {card["id"]: " ".join(card["flags"]) for card in plan["cards"]}
    again_from = {name for name, words in said.items() if "is long enough: cut that piece again" in words}
    assert again_from == {name for name, fate in held.items() if fate == "trim"} != set()
    for name, place in take["spare"].items():
        assert place in ("", name) or f"{name}, cut before the floor was taken" in said[place]
    assert all(row["fate"] == "fits" for row in again["held"])
    back = {**then, "laid": {**then["laid"], "taken": []}}
    assert ask("plan", job=back)["plan"]["pieces"] == planned["plan"]["pieces"]


def test_no_new_board_is_taken_for_a_place_whose_piece_is_cut_once_more(
    job: dict[str, Any], reply: dict[str, Any], planned: dict[str, Any]
) -> None:
    """The boards are those as if it was marked cut by hand; one that is spoiled then takes a board."""
    take = reply["take"]
    board_of = {card["id"]: card["board"] for card in planned["cards"]}
    again = {name for name, place in take["spare"].items() if place == name}

    def plan(progress: dict[str, Any]) -> dict[str, Any]:
        marks = {
            name: {"cut": name not in take["spare"], "board": board_of[name]} for name in job["progress"]
        }
        return ask(
            "plan", job={**job, "laid": {**job["laid"], "taken": [take]}, "progress": marks | progress}
        )

    now = plan({})
    cards = {card["id"]: card for card in now["cards"]}
    for name in again:
        assert cards[name]["board"] == board_of[name]
        assert cards[name]["board_text"] == f"From the piece cut before, board {board_of[name]}"
        assert any(step.startswith("Take the piece cut before") for step in cards[name]["steps"])
        assert "No new board is taken for it." in " ".join(cards[name]["flags"])
    by_hand = plan({name: {"cut": True, "board": board_of[name]} for name in again})
    unknown = plan({name: {"cut": False} for name in again})
    assert now["plan"]["boards"] == by_hand["plan"]["boards"]
    # Where nobody knows from which board it came, one is given to it anew.
    texts = [card["board_text"] for card in unknown["cards"] if card["id"] in again]
    assert any(text.startswith("From a new board") for text in texts)
    boards = len(now["plan"]["boards"])
    assert boards <= len(unknown["plan"]["boards"])
    one = next(iter(again))
    spoiled = plan({one: {"cut": False, "spoiled": 1}})
    assert len(spoiled["plan"]["boards"]) > boards
    words = next(card for card in spoiled["cards"] if card["id"] == one)
    assert "cut that piece again" not in " ".join(words["flags"])
    assert words["board_text"] != cards[one]["board_text"]


def test_what_is_sawn_where_the_floor_lies_is_in_the_sheets(
    job: dict[str, Any], reply: dict[str, Any]
) -> None:
    then = {**job, "laid": {**job["laid"], "taken": [reply["take"]]}}
    sheet = json.loads(ask("sheets", job=then)["files"]["plan.json"])
    assert sheet["as_it_lies"]["keeps"] == reply["take"]["keeps"]
    assert sheet["as_it_lies"]["open_joints"] == pytest.approx(0, abs=4000)


def test_creep_is_told_by_row_at_the_front_and_at_the_last(reply: dict[str, Any]) -> None:
    """Six millimetres on at the front row and nothing gained: so it is at the last, within its band."""
    along, across = reply["creep"]
    assert (along["name"], across["name"]) == ("Along the rows", "Across the rows")
    gain, front, last = (along[key] for key in ("gain", "front", "last"))
    assert abs(float(gain["text"].replace("−", "-"))) < 0.05
    for one in (front, last):
        unit, bound = one["unit"].split(BOUND)
        assert unit == "mm"
        assert abs(abs(float(one["text"].replace("−", "-"))) - 6) <= float(bound)
    assert "boards on" in last["label"]


def test_a_floor_as_planned_is_told_to_lie_true(planned: dict[str, Any]) -> None:
    found = ask("as laid", job=small_job(**READ, laid={"readings": readings(planned, 0.0)}))
    assert found["verdict"] == "It lies true, as far as these readings can tell."
    assert [one["title"] for one in found["proposals"] if one["best"]] == ["Lay on"]


def test_numbers_bear_the_readers_mark(job: dict[str, Any]) -> None:
    found = ask("as laid", job=job, decimal=",")
    assert "," in found["now"][1]["text"]
    assert not any("." in one["text"] for one in found["now"])


def test_without_a_reading_there_is_nothing_to_say() -> None:
    found = ask("as laid", job=small_job(**COUNT))
    assert (found["now"], found["ends"], found["readings"], found["take"]) == ([], [], [], None)


def test_a_board_tells_which_corners_can_be_read_and_to_what(planned: dict[str, Any]) -> None:
    """A whole board has four, a mitred one those that are left; each distance is as planned."""
    whole = next(piece for piece in planned["plan"]["pieces"] if piece["kind"] == "whole")
    found = ask("laid board", job=small_job(**READ), piece=whole["id"])
    assert len(found["corners"]) == 4
    for corner in found["corners"]:
        assert {"A–B", "B–C", "C–D", "D–A"} <= {target["to"] for target in corner["targets"]}
        x, y = corner["at"][0], -corner["at"][1]
        away = {target["to"]: target["planned"] for target in corner["targets"]}
        assert float(away["A–B"]) == pytest.approx(y, abs=0.06)
        if "row axis" in away:
            assert float(away["row axis"]) == pytest.approx(abs(x - 910), abs=0.06)
    mitre = next(piece for piece in planned["plan"]["pieces"] if piece["kind"] == "mitre")
    assert len(ask("laid board", job=small_job(**READ), piece=mitre["id"])["corners"]) < 4


def test_what_is_read_to_is_named_in_words_that_stand_alone(planned: dict[str, Any]) -> None:
    """“Square to it” is the line's name in files; alone on a list nobody knows what “it” is."""
    whole = next(piece for piece in planned["plan"]["pieces"] if piece["kind"] == "whole")
    corners = ask("laid board", job=small_job(**READ), piece=whole["id"])["corners"]
    names = {target["to"]: target["name"] for corner in corners for target in corner["targets"]}
    assert names["square to it"] == "line square to the row axis"
    assert all(name == to for to, name in names.items() if to != "square to it")
    taken = [
        {
            "id": f"d{number}",
            "typed": target["planned"] if number else str(float(target["planned"]) + 40),
            "piece": whole["id"],
            "end": corner["end"],
            "side": corner["side"],
            "to": target["to"],
        }
        for number, (corner, target) in enumerate(
            (corner, target)
            for corner in corners
            for target in sorted(corner["targets"], key=lambda target: target["to"] != "square to it")
        )
    ]
    found = ask("as laid", job=small_job(**READ, laid={"readings": taken}))
    assert found["read_to"]["square to it"] == "line square to the row axis"
    said = json.dumps(found, ensure_ascii=False)
    assert "to line square to the row axis" in said
    assert "to square to it" not in said


def test_a_board_that_is_not_there_is_refused_with_what_to_type() -> None:
    found = ask("laid board", job=small_job(**COUNT), piece="nowhere")
    assert found["reply"] == "refused"
    assert "nowhere" in found["findings"][0]["sentence"]


def test_a_taken_floor_with_a_strange_shape_is_refused_with_its_place() -> None:
    found = ask("check", job=small_job(laid={"taken": [{"ahead": "far"}]}))
    assert found["reply"] == "refused"
    assert "laid.taken[0]" in found["findings"][0]["sentence"]

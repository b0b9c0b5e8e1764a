"""The sheet for the floor as the page gets it: figures with formulas, pictures that do not lie."""

import json
import re
from itertools import combinations
from math import dist
from pathlib import Path
from typing import Any

import pytest
import shapely
from shapely import affinity

from engine.patterns import find_pattern, pattern_names
from engine.patterns.edge_roles import edge_roles
from tests.engine.planning.test_floor_as_it_lies import taken
from tests.engine.small_jobs import ask, small_job

REPOSITORY = Path(__file__).parents[3]
DEMO = json.loads((REPOSITORY / "site_src/app/demo_job.json").read_text(encoding="utf-8"))


@pytest.fixture(scope="module")
def demo() -> dict[str, Any]:
    return ask("plan", job=DEMO)


def points(path: str) -> list[tuple[float, float]]:
    return [(float(x), float(y)) for x, y in re.findall(r"(-?[\d.]+) (-?[\d.]+)", path)]


def figures(part: Any) -> list[dict[str, Any]]:
    """Every figure anywhere in a reply's part."""
    if isinstance(part, dict):
        own = [part] if "formula" in part else []
        return own + [shown for value in part.values() for shown in figures(value)]
    return [shown for value in part for shown in figures(value)] if isinstance(part, list) else []


def test_every_figure_of_the_sheet_can_be_asked_where_it_comes_from(demo: dict[str, Any]) -> None:
    shown = figures(demo["setting_out"])
    assert len(shown) > 60
    for each in shown:
        assert demo["formulas"][each["formula"]]["source"], each
        assert each["inputs"], each


def test_what_is_shown_is_what_the_plan_file_says(demo: dict[str, Any]) -> None:
    """Lines, their marks and the distances to them, rounded to a tenth of a millimetre."""
    stated = demo["plan"]["setting_out"]
    assert (stated["anchor"], stated["axis"]) == (DEMO["floor"]["anchor"], DEMO["floor"]["axis"])
    assert stated["slivers"] == sum(piece["sliver"] for piece in demo["plan"]["pieces"])
    for line, drawn in zip(stated["lines"], demo["setting_out"]["lines"], strict=True):
        assert line["name"].replace("square to it", "square to the row axis") == drawn["name"]
        texts = [tie["text"] for mark in drawn["marks"] for tie in mark["ties"]]
        assert texts == [f"{distance:.1f}" for _, distance in line["ties"][:4]]
        names = [tie["label"] for mark in drawn["marks"] for tie in mark["ties"]]
        assert names == [f"From {corner}" for corner, _ in line["ties"][:4]]
        assert drawn["length"]["text"] == f"{dist(line['from'], line['to']):.1f}"


def test_a_comma_is_the_mark_everywhere_for_who_reads_with_one() -> None:
    sheet = ask("plan", job=small_job(), decimal=",")["setting_out"]
    for each in figures(sheet):
        assert not re.search(r"\d\.\d", " ".join([each["text"], *(text for _, text in each["inputs"])]))
    assert not any(re.search(r"\d\.\d", line["words"]) for line in sheet["lines"])


def test_a_laser_along_the_row_axis_finds_the_corners_square_across(demo: dict[str, Any]) -> None:
    """The demo's axis stands at x = 2600, its corner A at 0 and B at 5200."""
    lines = {line["name"]: line for line in demo["setting_out"]["lines"]}
    first, second = lines["row axis, part 1"], lines["start line"]
    assert [(each["label"], each["text"]) for each in first["laser"]] == [
        ("A, left of it", "2600.0"),
        ("B, right of it", "2600.0"),
    ]
    assert [each["label"] for each in second["laser"]] == [
        *(f"{name}, left of it" for name in "AB"),
        *(f"{name}, right of it" for name in "CDEF"),
    ]
    # Three places of √2 · 90 mm up from the anchor at y = 2000, less the corner's own y of 0 and 4100.
    assert [second["laser"][at]["text"] for at in (0, 2)] == ["2381.8", "1718.2"]


@pytest.mark.parametrize("name", ["basket", "diagonal", "loft", "parted"])
def test_no_number_of_a_mark_covers_another(name: str) -> None:
    """Two digits are about a sixteenth of the room wide on a phone."""
    job = json.loads((REPOSITORY / f"tests/reference/jobs/{name}.json").read_text(encoding="utf-8"))
    reply = ask("plan", job=job)
    across, up = zip(*(corner["at"] for corner in reply["room"]["corners"]), strict=True)
    size = max(max(across) - min(across), max(up) - min(up))
    marks = [mark for line in reply["setting_out"]["lines"] for mark in line["marks"]]
    spots = [mark["label"]["at"] for mark in marks]
    assert min(dist(one, other) for one, other in combinations(spots, 2)) > 0.068 * size


def test_a_mark_that_no_third_corner_proves_says_which_place_to_take(demo: dict[str, Any]) -> None:
    """Below the island only A and B are in sight: their tapes meet inside the room and outside of it."""
    marks = [mark for line in demo["setting_out"]["lines"] for mark in line["marks"]]
    unproved = [mark for mark in marks if mark["check"] is None]
    assert "2" in {mark["number"] for mark in unproved}
    assert {"No third corner" in mark["words"] for mark in unproved} == {True}
    assert not any("No third corner" in mark["words"] for mark in marks if mark["check"])


def test_the_plan_draws_the_lines_that_are_struck(demo: dict[str, Any]) -> None:
    """Row axis and the line square to it in the plan are those of the sheet, part for part."""
    drawn = {line["label"]["text"]: line["path"] for line in demo["floor"]["lines"]}
    for name in ("row axis", "square to the row axis"):
        parts = [line["path"] for line in demo["setting_out"]["lines"] if line["name"].startswith(name)]
        assert drawn[name] == "".join(parts)


@pytest.mark.parametrize("anchor", [[2000, 1500], [-3000, 1500], [2000, 9000]])
@pytest.mark.parametrize("name", pattern_names())
def test_lines_stand_in_the_order_of_striking_and_each_says_what_it_is_held_against(
    name: str, anchor: list[float]
) -> None:
    """Promise: read from top to bottom, no line is square to, or beside, one that only comes later."""
    job = small_job(floor__pattern=name, floor__board={"length": 360, "width": 90}, floor__anchor=anchor)
    reply = ask("plan", job=job)
    lines = reply["setting_out"]["lines"]
    stood: list[str] = []
    for line in lines:
        whole = line["name"].split(",")[0]
        told = re.search("(?:left|right) of the (?:line )?([a-z ]+?):", line["words"])
        assert not told or told[1] in stood, line
        assert ("Strike it first" in line["words"]) == (not stood or whole == stood[0])
        if whole == "square to the row axis":
            assert "row axis" in stood or "The row axis itself misses the floor." in line["words"]
        stood.append(whole)
    assert stood[0] in ("row axis", "along the rows")
    # Nor does the plan name one “it”.
    assert not any(" it" in each["label"]["text"] for each in reply["floor"]["lines"])
    # The square check comes once both its lines are struck.
    at = [index for index, line in enumerate(lines) if "Is it square?" in line["words"]]
    first, second = (
        re.search(f"P to {end}, on the (?:line )?([a-z ]+)", str(reply["setting_out"]["square"]["figures"]))
        for end in "QR"
    )
    assert first
    assert second
    assert {first[1], second[1]} <= set(stood[: at[0] + 1])


def test_the_order_numbers_every_piece_once_and_the_field_is_the_whole_boards(demo: dict[str, Any]) -> None:
    laying, pieces = demo["setting_out"]["laying"], demo["plan"]["pieces"]
    assert sorted(map(int, laying["numbers"].values())) == list(range(1, len(pieces) + 1))
    assert set(laying["numbers"]) == {piece["id"] for piece in pieces}
    whole = [piece for piece in pieces if piece["kind"] == "whole"]
    rings = [shapely.Polygon(points(ring)) for ring in laying["field"].split("Z") if ring]
    area = shapely.Polygon()
    for ring in rings:
        area = area.symmetric_difference(ring)
    assert area.area == pytest.approx(len(whole) * 600 * 90, rel=1e-4)
    counts = [int(each["text"]) for each in laying["figures"]]
    assert counts[0] == len(whole)
    assert sum(counts) == len(pieces)
    assert counts[2] == len(laying["waiting"])


def test_a_left_board_is_the_mirror_image_of_a_right_one_in_the_hand(demo: dict[str, Any]) -> None:
    """And its tongues are on its left edge and its start end: they go into what lies (pattern's joints)."""
    hands = {board["hand"]: board for board in demo["setting_out"]["in_hand"]["boards"]}
    left, right = points(hands["L"]["goes_in"]), points(hands["R"]["goes_in"])
    middle = (
        max(x for x, _ in points(hands["R"]["path"])) + min(x for x, _ in points(hands["L"]["path"]))
    ) / 2
    mirrored = sorted((round(2 * middle - x, 2), y) for x, y in left)
    assert mirrored == sorted((round(x, 2), y) for x, y in right)
    # Upright, y downwards: the start end is below, the left edge has the least x.
    board = points(hands["L"]["path"])
    assert min(x for x, _ in left) < min(x for x, _ in board)
    assert max(y for _, y in left) > max(y for _, y in board)
    assert max(x for x, _ in left) <= max(x for x, _ in board)


def test_the_first_boards_of_the_picture_lie_where_they_lie_in_the_plan(demo: dict[str, Any]) -> None:
    """The tongue of the second goes into the first, and none sticks into open floor ahead."""
    numbers = demo["setting_out"]["laying"]["numbers"]
    plan = {numbers[piece["id"]]: piece for piece in demo["plan"]["pieces"]}
    boards = demo["setting_out"]["first"]["boards"]
    assert [board["label"]["text"] for board in boards] == [str(n + 1) for n in range(len(boards))]
    for board in boards[:2]:
        piece = plan[board["label"]["text"]]
        outline = [(x, -y) for x, y in piece["outline"][0]]
        assert board["hand"] == piece["hand"]
        assert shapely.Polygon(points(board["path"])).equals_exact(
            shapely.Polygon(outline), 0.02, normalize=True
        )
    first, second = (shapely.Polygon(points(board["path"])) for board in boards[:2])
    tongues = [shapely.Polygon(points(strip)) for strip in boards[1]["goes_in"].split("Z") if strip]
    assert sum(tongue.intersection(first).area > 0.9 * tongue.area for tongue in tongues) == 1
    assert not any(
        shapely.Polygon(points(s)).intersects(second.buffer(-1)) for s in boards[0]["goes_in"].split("Z") if s
    )


@pytest.mark.parametrize("name", pattern_names())
def test_every_pattern_says_in_pictures_and_sentences_how_it_is_laid(name: str) -> None:
    """For each there is an order in words, a picture of each hand, and a first board."""
    job = small_job(floor__pattern=name, floor__board={"length": 360, "width": 90})
    sheet = ask("plan", job=job)["setting_out"]
    pattern = find_pattern(name)
    assert pattern.laid in sheet["laying"]["words"]
    hands = {hand for hand, _ in edge_roles(pattern)}
    assert {board["hand"] for board in sheet["in_hand"]["boards"]} == hands
    assert all(sentence.endswith((".", ":")) for sentence in sheet["in_hand"]["words"])
    for board in sheet["in_hand"]["boards"]:
        goes = sum(
            role == "goes in" and hand == board["hand"] for (hand, _), role in edge_roles(pattern).items()
        )
        assert board["goes_in"].count("Z") == goes
    assert sheet["first"]["boards"][0]["label"]["text"] == "1"
    told = (sheet["first"]["words"][0], sheet["square"]["words"][0])
    assert all(
        re.search("where the (row|start|line) .* and the (row|start|line) .* cross", said) for said in told
    )


def test_the_user_is_told_not_to_nail_into_the_film_nor_to_look_into_the_laser(demo: dict[str, Any]) -> None:
    said = " ".join(demo["setting_out"]["cautions"])
    assert "No nail, screw" in said
    assert "laser" in said
    assert "licensed electrician" in said


def test_a_card_shows_the_piece_where_it_goes_with_the_tongues_that_the_saw_leaves(
    demo: dict[str, Any],
) -> None:
    """Each tongue lies outside the piece, on an edge of its whole board, and none where the saw went."""
    plan = {piece["id"]: piece for piece in demo["plan"]["pieces"]}
    with_tongue = 0
    for card in demo["cards"]:
        piece = plan[card["id"]]
        outline = shapely.Polygon([(x, -y) for x, y in piece["outline"][0]])
        x, y, angle = (piece["board"][key] for key in ("x", "y", "angle"))
        board = affinity.rotate(shapely.box(0, 0, 600, 90), angle, origin=(0, 0))
        rim = affinity.scale(affinity.translate(board, x, y), 1, -1, origin=(0, 0)).exterior
        for strip in filter(None, card["lies"]["goes_in"].split("Z")):
            tongue = shapely.Polygon(points(strip))
            assert tongue.intersection(outline).area < 0.1 * tongue.area
            on_edge = shapely.LineString(points(strip)[::3])
            assert rim.distance(on_edge.centroid) < 0.02
            assert outline.exterior.distance(on_edge.centroid) < 0.02
            with_tongue += 1
        assert card["lies"]["label"]["text"] == card["id"]
    assert with_tongue > 200


@pytest.mark.parametrize("name", ["demo", "taken as it lies"])
def test_numbers_as_large_as_they_may_be_do_not_touch_and_a_tenth_larger_would(name: str) -> None:
    """Boxes about the numbers, by shapely: digits 0.6 of the letters' size wide, 0.75 high, 0.15 free."""
    job = DEMO if name == "demo" else small_job(laid={"taken": [taken(ahead=4.0)]})
    sheet = ask("plan", job=job)["setting_out"]
    labels = [mark["label"] for line in sheet["lines"] if not line["is_struck"] for mark in line["marks"]]
    assert len(labels) >= 4

    def touch(letters: float) -> bool:
        boxes = []
        for label in labels:
            (x, y), wide = label["at"], letters * (0.6 * len(label["text"]) + 0.15) / 2
            boxes.append(shapely.box(x - wide, y - 0.45 * letters, x + wide, y + 0.45 * letters))
        return any(one.intersection(other).area > 1e-3 for one, other in combinations(boxes, 2))

    assert not touch(sheet["letters"] - 0.1)
    assert touch(1.1 * sheet["letters"])

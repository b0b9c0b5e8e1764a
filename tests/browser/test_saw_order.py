"""The cut list driven with a thumb in the order of the saw: boards face up, face down, marked on the back.

What the cards must say is worked out here anew from plan.json, by laying each piece on a saw: the board is
turned over where its face looks down, then turned round until the long point of the cut lies at the fence.
"""

import json
import re
from dataclasses import dataclass
from math import cos, radians, sin
from pathlib import Path
from typing import Any

import pytest
from playwright.sync_api import Locator, Page, expect

from tests.browser.screens import ENGINE_MS, bring_in
from tests.engine.small_jobs import small_job

Point = tuple[float, float]
# Setting, stop and piece.
Line = tuple[str, str, str]
LENGTH, WIDTH = 600.0, 90.0
# Drawings are written to a hundredth of a millimetre, lengths to a tenth.
DRAWN, READ = 0.02, 0.051
# Less than this across the board is square, mm.
SQUARE = 0.001
SWAPPED = {"left": "right", "right": "left"}


@dataclass(frozen=True, kw_only=True)
class OnSaw:
    """One cut on the saw, seen from above, the fence at the top: outline, and what the saw is set to."""

    outline: list[Point]
    is_left_at_fence: bool
    turned: str
    side: str
    stop: float


def in_board(piece: dict[str, Any]) -> list[Point]:
    """The outline in the board's own frame, face up: start end at x = 0, right long edge at y = 0."""
    board = piece["board"]
    c, s = cos(radians(board["angle"])), sin(radians(board["angle"]))
    moved = [(x - board["x"], y - board["y"]) for x, y in piece["outline"][0]]
    return [(x * c + y * s, y * c - x * s) for x, y in moved]


def on_saw(piece: dict[str, Any], cut: dict[str, Any], *, is_face_down: bool) -> OnSaw:
    """The piece laid on the saw for one of its cuts."""
    points = [*in_board(piece), *((x, y) for x, y in cut["points"])]
    if is_face_down:
        points = [(x, WIDTH - y) for x, y in points]
    at_fence, at_front, is_left = blade_line(points)
    # The long point lies at the fence; a square piece to the right of the blade.
    is_long = at_fence > at_front if is_left else at_fence < at_front
    is_round = is_left if abs(at_fence - at_front) < SQUARE else not is_long
    if is_round:
        points = [(LENGTH - x, WIDTH - y) for x, y in points]
    at_fence, at_front, is_left = blade_line(points)
    # Turned to the left the handle goes left, and the blade's far end to the right.
    turned = "square" if abs(at_fence - at_front) < SQUARE else "left" if at_fence > at_front else "right"
    stop = at_fence if is_left else LENGTH - at_fence
    return OnSaw(
        outline=points[:-2],
        is_left_at_fence=is_face_down == is_round,
        turned=turned,
        side="left" if is_left else "right",
        stop=stop,
    )


def blade_line(points: list[Point]) -> tuple[float, float, bool]:
    """Where the line of the cut (the last two points) meets both long edges; lies the piece to its left?"""
    *outline, (ax, ay), (bx, by) = points
    at_fence, at_front = (ax + (y - ay) * (bx - ax) / (by - ay) for y in (WIDTH, 0))
    sides = [(x - ax) - (y - ay) * (bx - ax) / (by - ay) for x, y in outline]
    return at_fence, at_front, sum(sides) < 0


def drawn(path: Locator) -> list[Point]:
    """The points of a drawn outline, y upwards again; holes follow it."""
    ring = str(path.get_attribute("d")).split("Z")[0]
    numbers = [float(text) for text in re.findall(r"-?[\d.]+", ring)]
    return [(x, -y) for x, y in zip(numbers[::2], numbers[1::2], strict=True)]


def is_alike(one: list[Point], other: list[Point]) -> bool:
    """Are these the same points, wherever the ring begins and whichever way it runs?"""
    return len(one) == len(other) and all(
        min(max(abs(x - u), abs(y - v)) for u, v in other) < DRAWN for x, y in one
    )


def crooked() -> dict[str, Any]:
    """The box room with walls that bow so much that the saw has to be set several times."""
    job = small_job(cutting__gap_tolerance=0.5, room__walls__1={"from": "B", "to": "C", "gap": 8})
    job["room"]["corners"]["C"] = [1812, 1420]
    job["room"]["walls"][0]["offsets"] = [[300, 8], [900, 18], [1500, 9]]
    job["room"]["walls"][2]["offsets"] = [[900, -20]]
    return job


def choose(page: Page, *labels: str) -> None:
    """With the thumb, from the Cut step to the tools and back, until the new plan is there."""
    page.get_by_role("link", name="Cut", exact=True).tap()
    page.get_by_role("link", name="Tools and settings of the saw").tap()
    for label in labels:
        if page.get_by_label(label, exact=True).is_checked():
            continue
        page.get_by_label(label, exact=True).tap()
        expect(page.get_by_role("status")).to_contain_text(label.split()[-1], timeout=ENGINE_MS)
    page.get_by_role("link", name="Cut", exact=True).tap()
    page.locator(".piece-line").first.wait_for()
    expect(page.locator("#kept-plan")).to_have_count(0, timeout=ENGINE_MS)


def plan_file(page: Page, job: str) -> dict[str, Any]:
    """plan.json as it leaves the phone."""
    page.goto(f"/{job}/more")
    button = page.get_by_role("button", name="plan.json")
    expect(button).to_be_enabled(timeout=ENGINE_MS)
    with page.expect_download() as waiting:
        button.tap()
    plan: dict[str, Any] = json.loads(Path(waiting.value.path()).read_text(encoding="utf-8"))
    return plan


def in_saw_order(page: Page, job: str) -> list[Line]:
    """Setting, stop and piece, line by line; each count that a head gives is held against its list."""
    page.goto(f"/{job}/cut")
    page.get_by_label("In the order").select_option("sawing")
    page.locator("h2", has_text="Set ").first.wait_for()
    found: list[Line] = []
    setting = stop = ""
    for line in page.locator("main h2, main h3, main .piece-line .name").all_inner_texts():
        if re.match(r"Set |Not on the mitre saw", line):
            setting, stop = line, ""
        elif re.match(r"Stop |By their marks", line):
            stop = line
        elif " · " in line:
            found.append((setting, stop, line.split(" · ")[0]))
    for head in {setting for setting, _, _ in found}:
        assert count(head) == len({name for setting, _, name in found if setting == head}), head
    for at in {(setting, stop) for setting, stop, _ in found if stop}:
        assert count(at[1]) == sum((setting, stop) == at for setting, stop, _ in found), at
    return found


def count(head: str) -> int:
    """The number of pieces that a head names."""
    found = re.search(r": (\d+) pieces?$", head)
    assert found, head
    return int(found[1])


def held_against(
    page: Page, piece: dict[str, Any], line: tuple[str, str, str], faces: tuple[str, str]
) -> str:
    """Hold the open card against the piece laid on the saw anew; gives the way the saw is turned."""
    setting, stop, _ = line
    said = re.fullmatch(r"Set (?:square|([\d.]+)° to the (left|right)): \d+ pieces?", setting)
    assert said, setting
    turn = float(said[1] or 0)
    cuts = [cut for cut in piece["cuts"] if cut["kind"] in ("crosscut", "mitre", "corner")]
    ways = [
        on_saw(piece, cut, is_face_down=faces[0] == "Face down")
        for cut in cuts
        if abs(abs(cut["angle"]) - turn) < READ
    ]
    fits = [way for way in ways if way.turned == (said[2] or "square") and is_stop(way, stop)]
    assert fits, (setting, stop, ways)
    if piece["kept_end"] != "neither":
        # Else it is drawn on the offcut that it is cut from.
        assert any(is_drawn(page, piece, way, faces[1]) for way in fits)
    return fits[0].turned


def is_stop(way: OnSaw, words: str) -> bool:
    """Is that what is said of the stop?"""
    if words.startswith("By their marks"):
        return True
    said = re.match(r"Stop ([\d.]+) mm (left|right) of the blade", words)
    assert said, words
    return abs(float(said[1]) - way.stop) < READ and said[2] == way.side


def is_drawn(page: Page, piece: dict[str, Any], way: OnSaw, marked_on: str) -> bool:
    """Is the piece drawn as it lies, with its lengths at their edges and the stop at its end?"""
    picture = page.locator(".drawing.saw").first
    if not is_alike(drawn(picture.locator(".keep")), way.outline):
        return False
    names = {"left": "left", "right": "right"} if marked_on == "On the face" else SWAPPED
    for side, name in names.items():
        if not piece[side]:
            continue
        label = picture.locator("text", has_text=re.compile(rf"^{name} "))
        length = float(str(label.text_content()).split()[1])
        is_at_top = -float(str(label.get_attribute("y"))) > WIDTH / 2
        assert length == pytest.approx(piece[side], abs=READ)
        assert is_at_top == (way.is_left_at_fence == (side == "left"))
    block = picture.locator(".stop")
    if block.count():
        end = 0.0 if way.side == "left" else LENGTH
        assert any(abs(x - end) < DRAWN for x, _ in drawn(block))
    return True


@pytest.mark.parametrize(
    ("face", "marked_on"),
    [
        pytest.param("Face up", "On the face", marks=pytest.mark.long),
        pytest.param("Face down", "On the face", marks=pytest.mark.long),
        ("Face down", "On the back"),
    ],
)
def test_the_list_is_walked_in_the_order_of_the_saw(page: Page, face: str, marked_on: str) -> None:
    """Promise: picture, lengths, turn and stop are those of the board as it lies there, piece by piece.

    Marked on the back, the edge that is left there is the right one of the face: its length is that one's.
    """
    job = bring_in(page, crooked())
    choose(page, face, marked_on)
    pieces = {piece["id"]: piece for piece in plan_file(page, job)["pieces"]}
    lines = in_saw_order(page, job)
    page.locator(".piece-line").first.tap()
    turned = set()
    seen = " on the back" if marked_on == "On the back" else ""
    for number, line in enumerate(lines):
        piece = pieces[line[2]]
        expect(page.get_by_role("heading", level=1)).to_have_text(f"Piece {piece['id']}")
        shown = [
            page.locator(f".figure:is(.left, .right):not(.begin) {part}") for part in (".label", ".value")
        ]
        expect(shown[0]).to_have_text([re.compile(rf"^{side}{seen}(, mm)?$") for side in ("Left", "Right")])
        lengths = [float(text.split()[0]) for text in shown[1].all_inner_texts()]
        sides = ("right", "left") if seen else ("left", "right")
        assert lengths == pytest.approx([piece[side] for side in sides], abs=READ)
        if line[0].startswith("Set "):
            turned.add(held_against(page, piece, line, (face, marked_on)))
        if number + 1 < len(lines):
            page.get_by_role("link", name="Next, piece").tap()
    assert {"left", "right"} <= turned


def test_turned_over_the_same_pieces_are_cut_with_the_saw_turned_the_other_way(page: Page) -> None:
    """Promise: face down, what was cut to the left is cut to the right, in as many settings."""
    job = bring_in(page, crooked())
    up = in_saw_order(page, job)
    choose(page, "Face down")
    down = in_saw_order(page, job)
    assert {(SWAPPED.get(way, way), name) for way, name in map(way_of, up)} == set(map(way_of, down))
    assert len({setting.split(":")[0] for setting, *_ in up}) == len(
        {setting.split(":")[0] for setting, *_ in down}
    )
    assert {"left", "right"} <= {way for way, _ in map(way_of, down)}


def way_of(line: Line) -> tuple[str, str]:
    """Which way the saw is turned for a piece."""
    setting, _, name = line
    return setting.split(":")[0].split()[-1], name

"""Templates at full size, read back with pypdf: what is printed is what is to be marked, to 0.1 mm."""

import base64
import json
import re
from pathlib import Path
from typing import Any

import pytest

from engine.sheets.pdf_text import width_of
from tests.engine.sheets.read_pdf import Line, ReadPage, read_pdf, text_spots
from tests.engine.small_jobs import ask

JOBS = Path(__file__).parents[2] / "reference" / "jobs"
SHEETS = {"scribes.pdf": ("scribe",), "corners.pdf": ("notch", "hole", "corner", "mitre", "crosscut")}


class Printed:
    """One job's plan file, and its templates read back."""

    def __init__(self, job: dict[str, Any], paper: str) -> None:
        plan = ask("plan", job=job)["plan"]
        reply = ask("sheets", job=job, paper=paper)["binary_files"]
        self.pieces = {piece["id"]: piece for piece in plan["pieces"]}
        contents = {name: base64.b64decode(reply[name]) for name in SHEETS if name in reply}
        self.files = {name: read_pdf(content) for name, content in contents.items()}
        self.spots = {name: text_spots(content) for name, content in contents.items()}
        self.length = job["floor"]["board"]["length"]


@pytest.fixture(scope="module", params=[("bay", "A4"), ("bay", "Letter"), ("chevron", "A4")], ids=str)
def printed(request: pytest.FixtureRequest) -> Printed:
    name, paper = request.param
    return Printed(json.loads((JOBS / f"{name}.json").read_text(encoding="utf-8")), paper)


def all_pages(printed: Printed) -> list[ReadPage]:
    return [page for pages in printed.files.values() for page in pages]


def test_every_page_bears_a_bar_of_100_mm_both_ways(printed: Printed) -> None:
    """To a tenth of a millimetre, with the words that say what it is for."""
    pages = all_pages(printed)
    assert pages
    for page in pages:
        spans = [(line[-1][0] - line[0][0], line[-1][1] - line[0][1]) for line in page.lines]
        assert [1 for x, y in spans if abs(x - 100) < 0.1 and y == 0]
        assert [1 for x, y in spans if abs(y - 100) < 0.1 and x == 0]
        assert "Print at actual size, measure the bar" in page.text


def test_every_curve_is_printed_as_it_is_to_be_marked(printed: Printed) -> None:
    """Each point of a scribe, notch or hole of the plan file, within 0.1 mm, on one page at least."""
    for name, pages in printed.files.items():
        drawn = [line for page in pages for line in page.lines]
        wanted = [
            cut["points"]
            for piece in printed.pieces.values()
            for cut in piece["cuts"]
            if cut["kind"] in SHEETS[name][:2]
        ]
        assert wanted or name != "scribes.pdf"
        for points in wanted:
            assert [line for line in drawn if fits(points, line)]


def fits(points: list[list[float]], line: Line) -> bool:
    """Is this the same line, only moved?"""
    if len(points) != len(line):
        return False
    dx, dy = line[0][0] - points[0][0], line[0][1] - points[0][1]
    return all(
        abs(x + dx - u) < 0.1 and abs(y + dy - v) < 0.1 for (x, y), (u, v) in zip(points, line, strict=True)
    )


def test_a_template_is_named_and_shows_the_board_it_lies_on(printed: Printed) -> None:
    """Its piece's name, and beside the line the board's outline, moved by as much."""
    for name, pages in printed.files.items():
        for piece in printed.pieces.values():
            for cut in piece["cuts"]:
                if cut["kind"] not in SHEETS[name][:2]:
                    continue
                page, line = next(
                    (page, line) for page in pages for line in page.lines if fits(cut["points"], line)
                )
                assert f"{piece['id']}, " in page.text
                dx, dy = line[0][0] - cut["points"][0][0], line[0][1] - cut["points"][0][1]
                boards = [shape for shape in page.shapes if len(shape) == 4]
                assert [
                    1
                    for board in boards
                    if close(board[0], (dx, dy)) and close(board[1], (dx + printed.length, dy))
                ]


def close(spot: tuple[float, float], other: tuple[float, float]) -> bool:
    return abs(spot[0] - other[0]) < 0.1 and abs(spot[1] - other[1]) < 0.1


def test_the_numbers_are_distances_from_the_end_named(printed: Printed) -> None:
    """Under each template: a number stands below its place, counted on the board drawn there."""
    seen = 0
    for name, pages in printed.files.items():
        for page, spots in zip(pages, printed.spots[name], strict=True):
            for caption, x, y in spots:
                if found := re.search("mm from the (start|far) end", caption):
                    frame = next(s for s in page.shapes if close(s[-1], (x, y - 1.5)) and inside(page, s))
                    seen += hold_numbers(page, frame, spots, found[1])
    assert seen > 10


def hold_numbers(page: ReadPage, frame: Line, spots: list[tuple[str, float, float]], end: str) -> int:
    """Check the numbers below one frame against the board that is drawn in it; how many there are."""
    (left, low), (right, _), *_ = frame
    edges = [[x for x, y in s if abs(y - low) < 0.01] for s in page.shapes if len(s) == 4 and s is not frame]
    boards = [(min(xs), max(xs)) for xs in edges if len(xs) == 2]
    below = [(text, x) for text, x, y in spots if abs(y - low + 3) < 0.01 and text.isdigit()]
    numbers = [(float(text), x + width_of(text, 6) / 2) for text, x in below]
    under = [(number, x) for number, x in numbers if left - 0.1 <= x <= right + 0.1]
    for number, x in under:
        places = [x - start if end == "start" else far - x for start, far in boards]
        assert min(abs(place - number) for place in places) < 0.1
    return len(under)


def test_straight_cuts_that_meet_get_a_template(printed: Printed) -> None:
    """The corner where they meet cannot be set on a saw; one that needs nothing gets none."""
    text = " ".join(page.text for page in printed.files["corners.pdf"])
    for piece in printed.pieces.values():
        ends = [tuple(cut["points"][end]) for cut in piece["cuts"] for end in (0, -1)]
        kinds = [cut["kind"] for cut in piece["cuts"]]
        if set(kinds) <= {"crosscut", "mitre", "corner"}:
            assert (f"{piece['id']}, " in text) == (len(ends) != len(set(ends)))


def test_every_frame_lies_where_a_printer_prints(printed: Printed) -> None:
    """A template is cut into parts that fit the page, and no part lies over another."""
    for page in all_pages(printed):
        frames = [shape for shape in page.shapes if len(shape) == 4 and inside(page, shape)]
        assert frames
        for i, frame in enumerate(frames):
            for other in frames[:i]:
                apart = (
                    frame[1][0] < other[0][0] or other[1][0] < frame[0][0],
                    frame[2][1] < other[0][1] or other[2][1] < frame[0][1],
                )
                assert any(apart) or len({frame, other}) == 1


def inside(page: ReadPage, shape: Line) -> bool:
    """A frame stands level; a board that leans or runs over the page is not one."""
    level = shape[0][1] == shape[1][1] and shape[1][0] == shape[2][0] and shape[2][1] == shape[3][1]
    return level and all(9 < x < page.width - 9 and 9 < y < page.height - 9 for x, y in shape)


def test_a_template_for_the_back_is_the_mirror_of_the_one_for_the_face() -> None:
    """Where boards are marked on their backs the left long edge lies below, and the words say back."""
    job = json.loads((JOBS / "chevron.json").read_text(encoding="utf-8"))
    cutting = job.get("cutting", {})
    jobs = ({**job, "cutting": {**cutting, "marked_on": side}} for side in ("face", "back"))
    face, back = (Printed(each, "A4") for each in jobs)
    assert "on the board's face" in " ".join(all_pages(face)[0].text.split())
    assert "on the board's back" in " ".join(all_pages(back)[0].text.split())
    drawn = [line for page in all_pages(back) for line in page.lines]
    all_cuts = [cut for piece in back.pieces.values() for cut in piece["cuts"]]
    cuts = [cut["points"] for cut in all_cuts if cut["kind"] in ("notch", "hole")]
    assert cuts
    for points in cuts:
        assert [line for line in drawn if fits([[x, -y] for x, y in points], line)]
    test_the_numbers_are_distances_from_the_end_named(back)

"""The printed setting-out sheet, read back with pypdf: sizes, scale, every distance, no text on another.

Reference for what overlaps: shapely (GEOS); for how wide letters are: Adobe's metrics as pypdf carries them.
"""

import base64
import json
from functools import cache
from math import cos, dist, radians, sin
from pathlib import Path
from typing import Any

import pytest
import shapely
from pypdf._codecs.core_font_metrics import CORE_FONT_METRICS

from engine.patterns import find_pattern, pattern_names
from engine.patterns.edge_roles import edge_roles
from tests.engine.planning.test_floor_as_it_lies import taken
from tests.engine.sheets.read_pdf import PlacedText, ReadPage, placed_texts, read_pdf
from tests.engine.small_jobs import ask, small_job

# ISO 216; ANSI/ASME Y14.1 (8½ × 11 inches): mm.
SIZES = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
DEMO = json.loads((Path(__file__).parents[3] / "site_src/app/demo_job.json").read_text(encoding="utf-8"))
WIDTHS = CORE_FONT_METRICS["Helvetica"].character_widths
Point = tuple[float, float]


def ell(**floor: Any) -> dict[str, Any]:
    """An invented L-shaped room with an island and a pipe."""
    corners = {
        "A": [0, 0],
        "B": [4200, 20],
        "C": [4230, 1900],
        "D": [2400, 1880],
        "E": [2390, 3200],
        "F": [-15, 3180],
    }
    return {
        "format": "out-of-true job",
        "version": 1,
        "name": "L-shaped room",
        "room": {
            "corners": corners,
            "walls": [
                {"from": "A", "to": "B", "offsets": [[1400, 9], [2800, 6]]},
                {"from": "B", "to": "C", "face": "threshold", "gap": 3, "tolerance": 1},
                *({"from": a, "to": b} for a, b in ("CD", "DE", "EF")),
                {"from": "F", "to": "A", "offsets": [[1600, 7]]},
            ],
            "fixed": [
                {"name": "island", "outline": [[1000, 1100], [1700, 1110], [1690, 1700], [990, 1690]]},
                {"name": "pipe", "centre": [150, 150], "diameter": 22, "gap": 8},
            ],
        },
        "floor": {"anchor": [1300, 2200], **floor},
    }


JOBS = {
    "demo": DEMO,
    "ell": ell(pattern="herringbone", board={"length": 500, "width": 80}, axis=90),
    "straight": ell(pattern="straight", board={"length": 1200, "width": 180}, axis=0, stagger={"by": 400}),
    "turned": ell(pattern="chevron", board={"length": 420, "width": 90}, axis=67.3, angle=50),
}
# Two each time, the larger ones with --long.
every_job = pytest.mark.parametrize(
    "name", ["ell", "straight", *(pytest.param(name, marks=pytest.mark.long) for name in ("demo", "turned"))]
)


def printed(job: dict[str, Any], **asked: Any) -> bytes:
    reply = ask("sheets", job=job, only=["setting-out.pdf"], **asked)
    assert list(reply["binary_files"]) == ["setting-out.pdf"]
    return base64.b64decode(reply["binary_files"]["setting-out.pdf"])


@cache
def sheet_of(name: str) -> tuple[bytes, tuple[ReadPage, ...], dict[str, Any]]:
    content = printed(JOBS[name])
    return content, tuple(read_pdf(content)), ask("plan", job=JOBS[name])


@pytest.mark.parametrize("paper", SIZES)
@every_job
def test_every_page_has_the_size_of_the_paper_and_nothing_lies_at_its_edge(name: str, paper: str) -> None:
    """To a tenth of a millimetre, upright or lying; 4 mm from the edge, save what is clipped."""
    content = printed(JOBS[name], paper=paper)
    for page, texts in zip(read_pdf(content), placed_texts(content), strict=True):
        assert sorted((page.width, page.height)) == pytest.approx(SIZES[paper], abs=0.1)
        inside = shapely.box(4, 4, page.width - 4, page.height - 4)
        for text in texts:
            at = shapely.Point(text.x, text.y)
            assert inside.covers(box_of(text)) or not inside.buffer(-6).contains(at), text


@every_job
def test_every_distance_of_the_plan_file_is_printed_beside_its_mark(name: str) -> None:
    """Two tapes and the check of every mark of every line, the line's length, the wall's name: row by row."""
    content, _, reply = sheet_of(name)
    rows = table_rows(content)
    marks = {row[0]: row for row in rows if row[0].isdigit() and len(row) > 3}
    lines = reply["plan"]["setting_out"]["lines"]
    assert lines
    for number, line in enumerate(lines):
        first, second = marks[str(2 * number + 1)], marks[str(2 * number + 2)]
        checks = [*line["ties"][4:], None, None]
        for mark, ties, check in (
            (first, line["ties"][:2], checks[0]),
            (second, line["ties"][2:4], checks[1]),
        ):
            assert mark[1:3] == [f"{corner}  {distance:.1f}" for corner, distance in ties]
            if check is not None:
                assert mark[3] == f"{check[0]}  {check[1]:.1f}"
        said = " ".join(text for row in rows for text in row)
        assert (
            f"From mark {2 * number + 1} to mark {2 * number + 2}: {dist(line['from'], line['to']):.1f} mm."
            in said
        )


def table_rows(content: bytes) -> list[list[str]]:
    """All rows of the pages with the table of distances."""
    pages = [page for page in placed_texts(content) if any(text.text == "tape from" for text in page)]
    return [row for page in pages for row in rows_of(page)]


def rows_of(page: list[PlacedText]) -> list[list[str]]:
    """The texts that stand on one level, from the left."""
    found: dict[float, list[PlacedText]] = {}
    for text in page:
        found.setdefault(round(text.y, 2), []).append(text)
    return [[text.text for text in sorted(row, key=lambda text: text.x)] for row in found.values()]


@every_job
def test_the_floor_is_drawn_to_the_scale_that_is_stated(name: str) -> None:
    """Each struck line re-measured on the page, and the bar of a metre: within 0.1 mm."""
    _, pages, reply = sheet_of(name)
    scale = float(pages[0].text.partition("scale 1:")[2].split()[0])
    drawn = [dist(line[0], line[1]) for line in pages[0].lines if len(line) == 2]
    lines = reply["plan"]["setting_out"]["lines"]
    for line in lines:
        wanted = dist(line["from"], line["to"]) / scale
        assert min(abs(length - wanted) for length in drawn) < 0.1, line["name"]
    bar = [line for line in pages[0].lines if line[0][1] < 15 and line[0][1] == line[1][1]]
    assert [dist(*line) for line in bar] == [pytest.approx(1000 / scale, abs=0.1)]
    # Where they lie to one another as well: one shift puts all of them on their drawn places.
    first = next(line for line in pages[0].lines if is_near(line, lines[0], scale))
    dx, dy = first[0][0] - lines[0]["from"][0] / scale, first[0][1] - lines[0]["from"][1] / scale
    for line in lines:
        ends = [(x / scale + dx, y / scale + dy) for x, y in (line["from"], line["to"])]
        assert any(
            len(found) == 2 and max(dist(*pair) for pair in zip(found, ends, strict=True)) < 0.1
            for found in pages[0].lines
        )


def test_a_floor_taken_as_it_lies_has_the_lines_to_strike_before_those_that_are_struck() -> None:
    """The order of the screen: new lines, then under “Struck before” the others, none to be struck first."""
    laid = {"taken": [taken(ahead=4.0, turn=0.3)]}
    job = small_job(laid=laid, floor__count_from={"row": -9, "place": -19})
    lines = ask("plan", job=job)["setting_out"]["lines"]
    content = printed(job)
    said = [text for row in table_rows(content) for text in row]
    headings = [said.index(line["name"]) for line in lines]
    is_new = [not line["is_struck"] for line in lines]
    assert any(is_new)
    assert not all(is_new)
    struck = said.index("Struck before")
    for line, at, new in zip(lines, headings, is_new, strict=True):
        assert (at < struck) == new, line["name"]
    for group in (True, False):
        places = [at for at, new in zip(headings, is_new, strict=True) if new == group]
        assert places == sorted(places)
    assert not any("Strike it first" in text for text in said)
    assert "Struck before" not in [text for row in table_rows(printed(small_job())) for text in row]


def is_near(drawn: Any, line: dict[str, Any], scale: float) -> bool:
    """Is it as long as the line, and does it run the same way?"""
    (ax, ay), (bx, by) = drawn[0], drawn[-1]
    (cx, cy), (ex, ey) = line["from"], line["to"]
    return len(drawn) == 2 and dist((bx - ax, by - ay), ((ex - cx) / scale, (ey - cy) / scale)) < 0.1


@every_job
def test_lines_and_marks_are_named_on_the_floor(name: str) -> None:
    """Each line and each mark once, each corner's letter, as the table has them."""
    content, _, reply = sheet_of(name)
    said = [text.text for text in placed_texts(content)[0]]
    lines = reply["setting_out"]["lines"]
    for line in lines:
        assert said.count(line["name"]) == 1
    for number in range(2 * len(lines)):
        assert said.count(str(number + 1)) == 1
    assert [said.count(corner) for corner in "ABCDEF"] == [1] * 6


@every_job
def test_no_text_lies_on_another(name: str) -> None:
    """On no page, whatever way they run: boxes about them, as high as capitals, by shapely."""
    for page in placed_texts(sheet_of(name)[0]):
        boxes = [box_of(text) for text in page]
        tree = shapely.STRtree(boxes)
        pairs = {(a, b) for a, b in tree.query(boxes, "intersects").T if a < b}
        over = [(page[a].text, page[b].text) for a, b in pairs if boxes[a].intersection(boxes[b]).area > 0.02]
        assert over == []


def box_of(text: PlacedText) -> shapely.Polygon:
    """Capitals of Helvetica are 0.718 of the font's size high (Adobe's metrics)."""
    width = sum(WIDTHS[character] for character in text.text) / 1000 * text.size
    up, (cosine, sine) = 0.718 * text.size, (cos(radians(text.turn)), sin(radians(text.turn)))
    corners = ((0.0, 0.0), (width, 0.0), (width, up), (0.0, up))
    return shapely.Polygon(
        [(text.x + a * cosine - b * sine, text.y + a * sine + b * cosine) for a, b in corners]
    )


def test_no_rule_of_the_table_runs_through_what_hangs_below_a_line_of_text() -> None:
    """Letters of Helvetica hang 0.207 of their size below the line (Adobe's metrics), capitals none."""
    content = printed(small_job())
    pages = [
        (page, texts)
        for page, texts in zip(read_pdf(content), placed_texts(content), strict=True)
        if any(text.text == "tape from" for text in texts)
    ]
    assert any(text.text.startswith("No third corner") for _, texts in pages for text in texts)
    for page, texts in pages:
        rules = [line[0][1] for line in page.lines if len(line) == 2 and line[0][1] == line[1][1]]
        assert rules
        for text in texts:
            assert not any(text.y - 0.207 * text.size < rule < text.y + 0.1 for rule in rules), text


@every_job
def test_every_piece_shows_its_number_or_is_named_where_there_is_no_room(name: str) -> None:
    """The numbers of laying as the screen has them; what is too small for its own is told in a sentence."""
    content, pages, reply = sheet_of(name)
    numbers = reply["setting_out"]["laying"]["numbers"]
    laying = [number for number, page in enumerate(pages) if "the courses" in page.text]
    texts = {text.text for number in laying for text in placed_texts(content)[number]}
    told = " ".join(pages[laying[0]].text.split())
    for piece, number in numbers.items():
        assert number in texts or f"{piece} is {number}" in told
    assert told.count(" is ") < len(numbers) / 20


@every_job
def test_every_sentence_of_the_screen_is_printed_whole(name: str) -> None:
    """Of the lines, the square, the first boards, the hands, the order and the cautions; none cut off."""
    _, pages, reply = sheet_of(name)
    read = " ".join(" ".join(page.text.split()) for page in pages)
    sheet = reply["setting_out"]
    sentences = [
        *(line["words"] for line in sheet["lines"]),
        *(sheet["square"]["words"] if sheet["square"] else ()),
        *sheet["first"]["words"],
        *sheet["in_hand"]["words"],
        *sheet["laying"]["words"],
        *sheet["cautions"],
    ]
    for sentence in sentences:
        assert sentence in read
    for page in pages:
        assert "the bar below is one metre" in page.text or "scale" not in page.text
    assert "belongs to a licensed electrician" in pages[0].text


@pytest.mark.parametrize("paper", SIZES)
def test_words_in_the_head_are_never_cut_off(paper: str) -> None:
    """The last of them stands on every page of either paper."""
    ends = ("licensed electrician.", "measure again.", "to the far end.", "in their turn.", "are begun.")
    for name in ("ell", "straight"):
        for page in read_pdf(printed(JOBS[name], paper=paper)):
            head = " ".join(page.text.split())
            assert any(end in head for end in ends)


@pytest.mark.parametrize("pattern", pattern_names())
def test_the_pictures_bear_the_tongues_on_the_edges_that_go_in(pattern: str) -> None:
    """Black strips: as many on each hand's board as the pattern's joints say, all outside its outline."""
    job = small_job(floor__pattern=pattern, floor__board={"length": 360, "width": 90})
    page = next(page for page in read_pdf(printed(job)) if "Which way round" in page.text)
    roles = edge_roles(find_pattern(pattern))
    hands = sorted({hand for hand, _ in roles})
    goes = {hand: sum(of == hand and role == "goes in" for (of, _), role in roles.items()) for hand in hands}
    # The boards in the hand are drawn last, each with its tongues after it.
    shapes = list(map(shapely.Polygon, page.shapes))[-sum(1 + goes[hand] for hand in hands) :]
    for hand in hands:
        board, *tongues = (shapes.pop(0) for _ in range(1 + goes[hand]))
        assert board.area > 5 * max(tongue.area for tongue in tongues)
        for tongue in tongues:
            assert tongue.intersection(board).area < 0.01 * tongue.area
            assert tongue.distance(board) < 0.01


def test_numbers_bear_the_reader_s_mark() -> None:
    rows = [row for row in table_rows(printed(small_job(), decimal=",")) if row[0].isdigit()]
    assert len(rows) > 5
    assert all("," in row[1] and "." not in row[1] for row in rows)


def test_a_long_name_of_a_corner_is_cut_off_and_its_distance_never() -> None:
    """Names are the user's; the numbers are what the sheet is for."""
    text = json.dumps(JOBS["straight"])
    for corner in "ABCDEF":
        text = text.replace(f'"{corner}"', f'"{corner} by the old chimney breast"')
    content = printed(json.loads(text))
    marks = {row[0]: row for row in table_rows(content) if row[0].isdigit()}
    lines = ask("plan", job=json.loads(text))["plan"]["setting_out"]["lines"]
    for number, line in enumerate(lines):
        for mark, ties in ((2 * number + 1, line["ties"][:2]), (2 * number + 2, line["ties"][2:4])):
            said = [text.rpartition("  ")[2] for text in marks[str(mark)][1:3]]
            assert said == [f"{distance:.1f}" for _, distance in ties]
    for page, texts in zip(read_pdf(content), placed_texts(content), strict=True):
        inside = shapely.box(4, 4, page.width - 4, page.height - 4)
        assert all(inside.covers(box_of(text)) for text in texts if "chimney" in text.text)


def test_the_same_job_gives_the_same_bytes() -> None:
    assert printed(small_job()) == printed(small_job())

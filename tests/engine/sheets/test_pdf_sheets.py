"""The printed cut list and plan, read back with pypdf."""

import base64
from typing import Any

import pytest
from pypdf._codecs.core_font_metrics import CORE_FONT_METRICS
from shapely.geometry import Polygon

from engine.sheets.pdf_text import WIDTHS, printable, shortened, width_of, wrapped
from tests.engine.sheets.read_pdf import ReadPage, read_pdf, text_spots
from tests.engine.small_jobs import ask, small_job

# ISO 216; ANSI/ASME Y14.1 (8½ × 11 inches): mm.
SIZES = {"A4": (210.0, 297.0), "Letter": (215.9, 279.4)}
PDFS = ("cuts.pdf", "saw.pdf", "plan.pdf", "labels.pdf", "corners.pdf")


def sheets(job: dict[str, Any], **asked: Any) -> dict[str, bytes]:
    reply = ask("sheets", job=job, **asked)
    return {name: base64.b64decode(content) for name, content in reply["binary_files"].items()}


@pytest.fixture(scope="module")
def pdfs() -> dict[str, bytes]:
    return sheets(small_job())


@pytest.fixture(scope="module")
def plan() -> dict[str, Any]:
    reply: dict[str, Any] = ask("plan", job=small_job())
    return reply


def texts(pages: list[ReadPage]) -> str:
    return "\n".join(page.text for page in pages)


@pytest.mark.parametrize("paper", SIZES)
@pytest.mark.parametrize("name", PDFS)
def test_every_page_has_the_size_of_the_paper(paper: str, name: str) -> None:
    """To a tenth of a millimetre, upright or lying; a reader that goes by the book finds no fault."""
    for page in read_pdf(sheets(small_job(), paper=paper)[name]):
        assert sorted((page.width, page.height)) == pytest.approx(SIZES[paper], abs=0.1)


@pytest.mark.parametrize("name", PDFS)
def test_nothing_is_drawn_beyond_what_a_printer_prints(pdfs: dict[str, bytes], name: str) -> None:
    """4 mm from the edge; what is clipped, the plan's parts and a template's board, may run on."""
    first = read_pdf(pdfs[name])[0]
    drawn = first.lines if name == "corners.pdf" else (*first.lines, *first.shapes)
    for line in drawn:
        for x, y in line:
            assert 4 < x < first.width - 4
            assert 4 < y < first.height - 4


def test_the_same_job_gives_the_same_bytes(pdfs: dict[str, bytes]) -> None:
    """No date, no chance: two people who compare their files see a difference only where there is one."""
    assert sheets(small_job()) == pdfs
    assert sheets(small_job(name="Other"))["cuts.pdf"] != pdfs["cuts.pdf"]


def test_the_cut_list_names_every_piece_to_cut_with_its_lengths(
    pdfs: dict[str, bytes], plan: dict[str, Any]
) -> None:
    """Each id once as a row of its own, after it both lengths as its card has them; notes may name it too."""
    words = texts(read_pdf(pdfs["cuts.pdf"])).split()
    assert len(plan["cards"]) > 20
    for card in plan["cards"]:
        figures = {figure["key"]: figure["text"] for figure in card["figures"]}
        starts = [n for n, word in enumerate(words) if word == card["id"]]
        board = next(piece["from_board"] for piece in plan["plan"]["pieces"] if piece["id"] == card["id"])
        (row,) = [words[n : n + 8] for n in starts if words[n + 1] == board]
        assert figures["left"] in row
        assert figures["right"] in row


def test_the_list_in_saw_order_follows_the_saw(pdfs: dict[str, bytes], plan: dict[str, Any]) -> None:
    """Every piece once for each setting, in the order of the saw, under it, with its stop beside it."""
    turns = {saw["number"]: (card, saw) for card in plan["cards"] for saw in card["saws"]}
    in_order = [turns[number] for number in sorted(turns)]
    ids = {card["id"] for card in plan["cards"]}
    spots = [(number, *spot) for number, page in enumerate(text_spots(pdfs["saw.pdf"])) for spot in page]
    assert [text for _, text, _, _ in spots if text in ids] == [card["id"] for card, _ in in_order]
    places = [(number, y) for number, text, _, y in spots if text in ids]
    for (card, saw), place in zip(in_order, places, strict=True):
        assert saw["setting"] in {text for _, text, _, _ in spots}
        beside = {text for number, text, _, y in spots if (number, y) == place}
        figures = {figure["key"]: figure["text"] for figure in card["figures"]}
        assert {figures["left"], figures["right"], saw["stop_length"] or card["id"]} <= beside


def test_on_the_list_in_saw_order_the_longer_edge_lies_at_the_fence(
    pdfs: dict[str, bytes], plan: dict[str, Any]
) -> None:
    """The fence is at the top of each picture: there a mitred piece has its long point."""
    shapes = [shape for page in read_pdf(pdfs["saw.pdf"]) for shape in page.shapes]
    kept = [shape for before, shape in zip(shapes[:-1], shapes[1:], strict=True) if is_board(before, shape)]
    mitres = [shape for shape in kept if len(shape) == 4 and edge(shape, max) != edge(shape, min)]
    assert len(mitres) > 20
    assert all(edge(shape, max) > edge(shape, min) for shape in mitres)


def is_board(before: Any, shape: Any) -> bool:
    """Is the one a whole board's picture and the other what stays of it?"""
    width = Polygon(before).bounds[2] - Polygon(before).bounds[0]
    return width > 30 and bool(Polygon(before).buffer(0.01).contains(Polygon(shape)))


def edge(shape: Any, of: Any) -> float:
    """Length of a shape's upper (max) or lower (min) edge, in tenths of a millimetre."""
    y = of(point[1] for point in shape)
    xs = [point[0] for point in shape if abs(point[1] - y) < 0.01]
    return round(10 * (max(xs) - min(xs)))


def test_the_cut_list_begins_with_the_cautions(pdfs: dict[str, bytes]) -> None:
    """Saw, dust, and who decides."""
    for page in (*read_pdf(pdfs["cuts.pdf"]), *read_pdf(pdfs["saw.pdf"])):
        for words in ("clamp small pieces", "Dust", "Local codes"):
            assert words in page.text


def test_what_no_single_turn_of_the_saw_says_is_told_in_sentences(
    pdfs: dict[str, bytes], plan: dict[str, Any]
) -> None:
    """The steps of a drilled or notched piece, and whatever is to be watched."""
    read = " ".join(texts(read_pdf(pdfs["cuts.pdf"])).split())
    told = [card for card in plan["cards"] if card["kind"] in ("notch", "hole", "scribe")]
    assert told
    for card in told:
        for step in card["steps"][1:-1]:
            assert step in read
    flags = {flag for card in plan["cards"] for flag in card["flags"]}
    assert flags
    for flag in flags:
        assert flag.replace("\N{MINUS SIGN}", "–") in read


def test_the_cut_list_s_pictures_show_the_pieces(pdfs: dict[str, bytes], plan: dict[str, Any]) -> None:
    """Row by row a box to tick, the whole board, and what stays of it, as the plan file has it."""
    shapes = [Polygon(shape) for page in read_pdf(pdfs["cuts.pdf"]) for shape in page.shapes]
    pieces = {piece["id"]: piece for piece in plan["plan"]["pieces"]}
    for card in plan["cards"]:
        outer, *holes = pieces[card["id"]]["outline"]
        box, board, kept, *shapes = shapes
        scale = (board.bounds[2] - board.bounds[0]) / 600
        assert box.area == pytest.approx(3.4**2, abs=0.1)
        assert board.area == pytest.approx(600 * 90 * scale**2, rel=1e-3)
        assert kept.area == pytest.approx(Polygon(outer).area * scale**2, abs=0.05)
        for hole in holes:
            assert shapes.pop(0).area == pytest.approx(Polygon(hole).area * scale**2, abs=0.05)
    assert shapes == []


def test_the_plan_shows_every_piece_to_scale(pdfs: dict[str, bytes], plan: dict[str, Any]) -> None:
    """On the first page, at the scale that it states, within a tenth of a millimetre on paper."""
    first = read_pdf(pdfs["plan.pdf"])[0]
    scale = float(first.text.partition("scale 1:")[2].split()[0])
    assert scale == 10
    drawn = [Polygon(shape) for shape in first.shapes]
    pieces = [Polygon(piece["outline"][0]) for piece in plan["plan"]["pieces"]]
    x0 = min(shape.bounds[0] for shape in drawn) - min(piece.bounds[0] for piece in pieces) / scale
    y0 = min(shape.bounds[1] for shape in drawn) - min(piece.bounds[1] for piece in pieces) / scale
    for piece in pieces:
        wanted = Polygon([(x0 + x / scale, y0 + y / scale) for x, y in piece.exterior.coords])
        assert min(wanted.hausdorff_distance(shape) for shape in drawn) < 0.1
    for card in plan["cards"]:
        assert card["id"] in first.text


def test_a_plan_too_large_for_names_is_shown_in_parts() -> None:
    """Together they name every piece to cut, at a scale at which a name can be read; the whole has none."""
    job = small_job(floor__board={"length": 600, "width": 90})
    job["room"] = {
        "corners": {"A": [0, 0], "B": [6800, 0], "C": [6810, 3900], "D": [0, 3900]},
        "walls": [{"from": a, "to": b} for a, b in ("AB", "BC", "CD", "DA")],
    }
    pages = read_pdf(sheets(job)["plan.pdf"])
    cards = ask("plan", job=job)["cards"]
    assert "All of it" in pages[0].text
    assert [f"Part {n} of {len(pages) - 1}" in page.text for n, page in enumerate(pages[1:], 1)] == [True] * (
        len(pages) - 1
    )
    parts = texts(pages[1:])
    assert [card["id"] for card in cards if card["id"] not in parts] == []
    assert not [card["id"] for card in cards if card["id"] in pages[0].text.split()]
    assert all("1:20" in page.text for page in pages[1:])


def test_the_bar_under_the_plan_is_a_metre(pdfs: dict[str, bytes]) -> None:
    (page, *_) = read_pdf(pdfs["plan.pdf"])
    assert [line for line in page.lines if line[0][1] < 15 and abs(line[1][0] - line[0][0] - 100) < 0.1]


def test_numbers_on_paper_bear_the_reader_s_mark() -> None:
    """A comma where the phone is set to it."""
    read = texts(read_pdf(sheets(small_job(), decimal=",")["cuts.pdf"]))
    card = ask("plan", job=small_job(), decimal=",")["cards"][0]
    assert "," in card["figures"][0]["text"]
    assert card["figures"][0]["text"] in read


def test_what_the_fonts_cannot_show_is_a_question_mark_and_the_title_keeps_it() -> None:
    """No character may break a file or be swallowed; brackets and backslashes are only text."""
    name = "Chambre d’été (1) \\ 屋"
    content = sheets(small_job(name=name))["cuts.pdf"]
    assert "Chambre d’été (1) \\ ?" in read_pdf(content)[0].text
    assert name.encode("utf-16-be").hex().encode() in content


def test_widths_are_those_of_the_published_metrics() -> None:
    """Adobe's metrics of Helvetica, as pypdf carries them."""
    published = CORE_FONT_METRICS["Helvetica"].character_widths
    for character, width in WIDTHS.items():
        assert published[character] == width
    assert width_of("Row 7", 10) == pytest.approx((722 + 556 + 722 + 278 + 556) / 100 * 25.4 / 72)


def test_text_is_broken_between_words_and_shortened_with_dots() -> None:
    text = "Keep the blade on the waste side of the line"
    lines = list(wrapped(text, 9, 30))
    assert " ".join(lines) == text
    assert len(lines) > 1
    assert all(width_of(line, 9) <= 30 for line in lines)
    short = shortened(text, 9, 30)
    assert short.endswith("…")
    assert width_of(short, 9) <= 30
    assert shortened("in", 9, 30) == "in"
    assert printable("\N{MINUS SIGN}3\t°") == "–3 °"

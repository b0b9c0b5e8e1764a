"""Labels, read back with pypdf: each piece on a label of its own, inside it."""

import base64
from typing import Any

import pytest

from engine.sheets.label_grid import GRIDS, grid_fault, named_grid
from engine.sheets.paper import PAPERS, PaperName
from tests.engine.sheets.read_pdf import read_pdf, text_spots
from tests.engine.small_jobs import ask, small_job

OWN = {"columns": 3, "rows": 8, "left": 5, "top": 6, "width": 60, "height": 30, "across": 65, "down": 35}
ALL = [(paper, name) for paper, grids in GRIDS.items() for name in grids]


def labels(**asked: Any) -> bytes:
    reply = ask("sheets", job=small_job(), **asked)
    return base64.b64decode(reply["binary_files"]["labels.pdf"])


@pytest.fixture(scope="module")
def ids() -> list[str]:
    """Every piece to cut, in the order of the cards."""
    return [card["id"] for card in ask("plan", job=small_job())["cards"]]


@pytest.mark.parametrize(("paper", "name"), ALL)
def test_every_piece_has_its_label_and_stays_inside_it(paper: PaperName, name: str, ids: list[str]) -> None:
    """From the top left, row by row; what begins in a label is that piece's own, and so is what is drawn."""
    grid = named_grid(name, paper)
    content = labels(paper=paper, labels=name)
    each, height = int(grid.columns * grid.rows), PAPERS[paper].height
    named: list[str] = []
    for page, drawn in zip(text_spots(content), read_pdf(content), strict=True):
        for text, x, y in page:
            column, across = divmod(x - grid.left, grid.across)
            row, down = divmod(height - grid.top - y, grid.down)
            assert 2 < across < grid.width - 2
            assert 2 < down < grid.height - 2
            if text in ids:
                named.append(text)
                assert ids.index(text) % each == row * grid.columns + column
        for shape in (*drawn.shapes, *drawn.lines):
            places = {
                ((x - grid.left) // grid.across, (height - grid.top - y) // grid.down) for x, y in shape
            }
            assert len(places) == 1
    assert named == ids


def test_a_label_tells_board_place_lengths_and_ends(ids: list[str]) -> None:
    """What stands on its card, and an arrow whose tip is at the far end's words."""
    content = labels()
    card = next(card for card in ask("plan", job=small_job())["cards"] if card["id"] == ids[3])
    figures = {figure["key"]: figure["text"] for figure in card["figures"]}
    text = read_pdf(content)[0].text
    assert f"left {figures['left']}   right {figures['right']}   {figures['angle 1']}" in text
    assert "left board" in text
    assert "right board" in text
    assert f"at {card['wall']}" in text
    assert text.count("far end") == text.count(" board") == 24
    first = read_pdf(content)[0]
    tips = [shape for shape in first.shapes if len(shape) == 3 and shape[0][0] == shape[1][0]]
    assert len(tips) == 24
    assert all(shape[2][0] > shape[0][0] for shape in tips)


def test_a_piece_that_is_fitted_needs_no_label(ids: list[str]) -> None:
    job = small_job(progress={ids[0]: {"cut": True, "fitted": True}, ids[1]: {"cut": True}})
    content = base64.b64decode(ask("sheets", job=job)["binary_files"]["labels.pdf"])
    words = " ".join(page.text for page in read_pdf(content)).split()
    assert ids[0] not in words
    assert ids[1] in words


def test_a_sheet_of_one_s_own_measures_is_printed_by_them(ids: list[str]) -> None:
    content = labels(own_labels=OWN)
    first = text_spots(content)[0]
    name, x, y = next(spot for spot in first if spot[0] == ids[4])
    assert (name, x) == (ids[4], pytest.approx(5 + 65 + 3.5, abs=0.1))
    assert 297 - 6 - 35 - 30 < y < 297 - 6 - 35


@pytest.mark.parametrize(
    ("change", "words"),
    [
        ({"columns": 0}, "whole numbers"),
        ({"rows": 2.5}, "whole numbers"),
        ({"rows": 1e300}, "whole numbers"),
        ({"width": 20}, "at least"),
        ({"across": 50}, "overlap"),
        ({"left": 30}, "do not fit"),
        ({"top": -4}, "do not fit"),
    ],
)
def test_measures_that_cannot_be_are_told_and_the_other_sheets_still_come(
    change: dict[str, float], words: str
) -> None:
    reply = ask("sheets", job=small_job(), own_labels=OWN | change)
    assert "labels.pdf" not in reply["binary_files"]
    assert "cuts.pdf" in reply["binary_files"]
    told = [finding["sentence"] for finding in reply["findings"] if finding["path"] == "labels"]
    assert len(told) == 1
    assert words in told[0]


def test_every_grid_offered_fits_its_paper_and_is_offered_with_it() -> None:
    for paper, name in ALL:
        assert grid_fault(named_grid(name, paper), paper) is None
        assert name in ask("sheets", job=small_job(), paper=paper)["label_grids"]


@pytest.mark.parametrize("first", [1, 2, 5, 24])
def test_labels_begin_with_the_first_free_one_of_a_sheet_that_is_begun(first: int, ids: list[str]) -> None:
    """The labels before it stay empty; no piece is lost, and later sheets are filled from their top left."""
    pages = text_spots(labels(own_labels=OWN, first_label=first))
    places = {
        text: 24 * number + 3 * int((297 - 6 - y) // 35) + int((x - 5) // 65) + 1
        for number, page in enumerate(pages)
        for text, x, y in page
        if text in ids
    }
    assert places == {piece: first + index for index, piece in enumerate(ids)}


@pytest.mark.parametrize("first", [0, -3, 25, 2.5, 1e300])
def test_a_first_label_that_is_not_on_the_sheet_is_told_with_what_can_be(first: float) -> None:
    """Own measures and usual sheets alike: the labels wait, no other file does."""
    for asked in ({"own_labels": OWN}, {"labels": "3 × 8 labels, 70 × 37 mm"}):
        reply = ask("sheets", job=small_job(), first_label=first, only=["labels.pdf", "plan.pdf"], **asked)
        assert list(reply["binary_files"]) == ["plan.pdf"]
        (told,) = [finding["sentence"] for finding in reply["findings"] if finding["path"] == "labels"]
        assert "from 1 to 24" in told

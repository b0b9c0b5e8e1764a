"""The files that leave the app: read back with another's reader, they say what the plan says."""

import base64
import csv
from io import StringIO
from typing import Any
from xml.etree import ElementTree

import msgspec
import pytest
from shapely import union_all
from shapely.geometry import Polygon

from engine.model.plan import Plan
from engine.planning.floor_plan import FloorPlan, plan_floor
from engine.planning.plan_file import plan_record
from engine.sheets.cuts_csv import COLUMNS, cuts_csv
from engine.sheets.plan_json import plan_json
from engine.sheets.plan_svg import plan_svg
from engine.wire.job_file import open_job
from tests.engine.small_jobs import ask, small_job

SVG = "{http://www.w3.org/2000/svg}"


def plan_of(**changes: Any) -> FloorPlan:
    return plan_floor(open_job(small_job(**changes)).job)


@pytest.fixture(scope="module")
def plan() -> FloorPlan:
    return plan_of()


def rows_of(text: str) -> list[dict[str, str]]:
    return list(csv.DictReader(StringIO(text, newline=""), strict=True))


def test_the_cut_list_has_one_row_for_each_piece_that_is_not_whole(plan: FloorPlan) -> None:
    """In the plan's order, under the columns promised, every line ended as RFC 4180 wants it."""
    record = plan_record(plan)
    text = cuts_csv(record)
    rows = rows_of(text)
    cut = [piece for piece in record.pieces if piece.kind != "whole"]
    assert [row["id"] for row in rows] == [piece.id for piece in cut]
    assert tuple(rows[0]) == COLUMNS
    assert text.endswith("\r\n")
    assert text.count("\r\n") == text.count("\n") == len(cut) + 1
    for row, piece in zip(rows, cut, strict=True):
        assert None not in row
        assert (row["hand"], row["kind"]) == (piece.hand, piece.kind)
        assert float(row["left_mm"]) == pytest.approx(piece.left, abs=0.0501)
        assert float(row["right_mm"]) == pytest.approx(piece.right, abs=0.0501)
        assert float(row["saw_angle_deg"]) == pytest.approx(piece.saw_angle, abs=0.00501)
        assert float(row["gap_least_mm"]) == pytest.approx(piece.gap_least, abs=0.0501)
        assert row["sliver"] == ("yes" if piece.sliver else "no")
        assert int(row["cuts"]) == len(piece.cuts)


def test_the_long_point_is_the_side_that_stays_longer(plan: FloorPlan) -> None:
    """Even within what a tape can tell."""
    rows = rows_of(cuts_csv(plan_record(plan)))
    assert {row["long_point"] for row in rows} >= {"left", "right"}
    for row in rows:
        difference = float(row["left_mm"]) - float(row["right_mm"])
        if abs(difference) > 0.11:
            assert row["long_point"] == ("left" if difference > 0 else "right")


@pytest.mark.parametrize("start", ["=", "+", "-", "@", "\t", "\r"])
def test_a_name_cannot_become_a_formula(start: str, plan: FloorPlan) -> None:
    """A cell that a spreadsheet would compute begins with an apostrophe, and stays one cell."""
    name = f'{start}HYPERLINK("x","a,b");\n"'
    record = plan_record(plan)
    piece = next(piece for piece in record.pieces if piece.cuts)
    cut = msgspec.structs.replace(piece.cuts[0], along=name)
    named = msgspec.structs.replace(piece, id=f"{start}1", cuts=(cut,), from_board=f"{start}1")
    (row,) = rows_of(cuts_csv(msgspec.structs.replace(record, pieces=(named,))))
    assert (row["id"], row["from_board"], row["along"]) == (f"'{start}1", f"'{start}1", f"'{name}")


def test_a_negative_number_stays_a_number(plan: FloorPlan) -> None:
    """Only text is made harmless: angles below zero can still be added up."""
    angles = [float(row["saw_angle_deg"]) for row in rows_of(cuts_csv(plan_record(plan)))]
    assert min(angles) < 0 < max(angles)


def test_the_plan_file_reads_back_as_the_same_record(plan: FloorPlan) -> None:
    """Decoded into the records of the plan file, strictly."""
    record = plan_record(plan)
    text = plan_json(record)
    assert msgspec.json.decode(text, type=Plan) == record
    assert text.startswith('{\n "format": "out-of-true plan",\n "version": 1,')
    assert text.endswith("}\n")


def test_the_plan_file_s_rings_are_the_lay_area(plan: FloorPlan) -> None:
    """Outer rings counter-clockwise, holes clockwise: summed with their signs they give the area in m²."""
    record = plan_record(plan)
    area = sum(
        Polygon(ring).area * (1 if Polygon(ring).exterior.is_ccw else -1) for ring in record.lay_area.rings
    )
    assert record.lay_area.area_m2 == pytest.approx(area / 1e6, abs=1e-6)
    assert area == pytest.approx(
        union_all([Polygon(p.ideal[0], p.ideal[1:]) for p in record.pieces], grid_size=1e-4).area, abs=2
    )


def svg_of(plan: FloorPlan) -> ElementTree.Element:
    return ElementTree.fromstring(plan_svg(plan))


def test_the_drawing_states_its_size_in_millimetres(plan: FloorPlan) -> None:
    """One unit of the view box is one millimetre, and all of the room lies inside it."""
    root = svg_of(plan)
    left, top, width, height = (float(value) for value in root.attrib["viewBox"].split())
    assert (root.attrib["width"], root.attrib["height"]) == (f"{width:g}mm", f"{height:g}mm")
    for x, y in plan.room.outline.ring:
        assert left < x < left + width
        assert top < -y < top + height
    assert width == pytest.approx(1818 + 500, abs=1)


def test_the_drawing_shows_every_piece_and_names_those_to_cut(plan: FloorPlan) -> None:
    """A path for each piece, for each fixed thing, for each wall, one for the lay area."""
    root = svg_of(plan)
    classes = [path.attrib.get("class", "") for path in root.iter(f"{SVG}path")]
    assert sum(name.startswith(("L ", "R ")) for name in classes) == len(plan.pieces)
    assert (classes.count("fixed"), classes.count("room"), classes.count("lay")) == (2, 4, 1)
    texts = [text.text for text in root.iter(f"{SVG}text")]
    named = [piece.id for piece in plan.pieces if piece.sawn.kind != "whole"]
    assert texts[: len(named)] == named
    assert texts[len(named) :] == ["A–B", "B–C", "C–D", "D–A"]


def test_names_stand_in_the_drawing_as_text_only() -> None:
    """Whatever a person calls the job or a corner, the file stays well-formed and shows just that."""
    name = "</title><script>alert(\"1\")</script> & 'ž' 屋根 ]]>"
    corner = '<A&"1">'
    job = small_job(name=name)
    room = job["room"]
    room["corners"] = {corner if key == "A" else key: at for key, at in room["corners"].items()}
    room["walls"] = [
        {**wall, **{end: corner for end in ("from", "to") if wall[end] == "A"}} for wall in room["walls"]
    ]
    root = svg_of(plan_floor(open_job(job).job))
    title = root.find(f"{SVG}title")
    assert title is not None
    assert title.text == name
    assert root.find(f".//{SVG}script") is None
    assert f"{corner}–B" in [text.text for text in root.iter(f"{SVG}text")]


def test_characters_that_no_drawing_may_hold_are_gone_before_it_is_made() -> None:
    """Regression: U+FFFE may not stand in XML."""
    files = ask("sheets", job=small_job(name="a\ufffeb\uffff\x08c"))["files"]
    title = ElementTree.fromstring(files["plan.svg"]).find(f"{SVG}title")
    assert title is not None
    assert title.text == "abc"


def test_the_files_are_those_of_one_plan() -> None:
    """What the sheets hold is what the plan reply holds."""
    job = small_job()
    files, reply = ask("sheets", job=job)["files"], ask("plan", job=job)
    assert set(files) == {"plan.json", "cuts.csv", "plan.svg", "pieces.svg", "plan.dxf", "pieces.dxf"}
    assert msgspec.json.decode(files["plan.json"]) == reply["plan"]
    assert {row["id"] for row in rows_of(files["cuts.csv"])} == {card["id"] for card in reply["cards"]}


def test_each_file_by_itself_is_the_one_that_comes_with_all_and_says_its_size() -> None:
    """A phone asks for one after the other, the desk for all; thousands of bytes, as file managers count."""
    together = ask("sheets", job=small_job())
    all_of_them = together["files"] | together["binary_files"]
    assert len(all_of_them) >= 12
    for name, content in all_of_them.items():
        alone = ask("sheets", job=small_job(), only=[name])
        assert alone["files"] | alone["binary_files"] == {name: content}
        count = len(content.encode()) if name in together["files"] else len(base64.b64decode(content))
        assert float(alone["sizes"][name].removesuffix(" kB")) == pytest.approx(count / 1000, abs=0.5)


def test_a_file_that_no_piece_needs_is_missing_and_one_that_is_none_is_refused() -> None:
    assert ask("sheets", job=small_job(), only=["scribes.pdf"])["binary_files"] == {}
    refused = ask("sheets", job=small_job(), only=["bill.pdf"])
    assert refused["reply"] == "refused"
    assert "only" in refused["findings"][0]["sentence"] + refused["findings"][0]["path"]

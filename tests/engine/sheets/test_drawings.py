"""The drawings for other programs: DXF read back with ezdxf, SVG as XML."""

import re
from io import StringIO
from typing import Any
from xml.etree import ElementTree

import ezdxf
import pytest
from ezdxf.document import Drawing
from ezdxf.lldxf.encoding import decode_dxf_unicode
from ezdxf.math import area
from shapely.geometry import Polygon

from tests.engine.small_jobs import ask, small_job

SVG = "{http://www.w3.org/2000/svg}"


@pytest.fixture(scope="module")
def files() -> dict[str, str]:
    reply: dict[str, dict[str, str]] = ask("sheets", job=small_job())
    return reply["files"]


@pytest.fixture(scope="module")
def pieces() -> list[dict[str, Any]]:
    found: list[dict[str, Any]] = ask("plan", job=small_job())["plan"]["pieces"]
    return found


def drawing(text: str) -> Drawing:
    """The drawing as ezdxf reads it, strictly: its audit must find nothing, nor have mended anything."""
    read = ezdxf.read(StringIO(text, newline=None))
    audit = read.audit()
    assert (audit.errors, audit.fixes) == ([], [])
    return read


def rings(read: Drawing, layer: str) -> list[list[tuple[float, float]]]:
    """Every ring on a layer."""
    lines = read.modelspace().query(f'POLYLINE[layer=="{layer}"]')
    return [[(v.x, v.y) for v in line.points()] for line in lines if line.is_closed]


def names(read: Drawing, layer: str) -> list[str]:
    return [str(text.dxf.text) for text in read.modelspace().query(f'TEXT[layer=="{layer}"]')]


@pytest.mark.parametrize("name", ["plan.dxf", "pieces.dxf"])
def test_a_drawing_is_sound_release_12(files: dict[str, str], name: str) -> None:
    """The version that every program reads; each layer used is declared."""
    read = drawing(files[name])
    assert read.dxfversion == "AC1009"
    used = {entity.dxf.layer for entity in read.modelspace()}
    assert used == {layer.dxf.name for layer in read.layers} - {"0", "Defpoints"}
    assert files[name].isascii()


def test_the_plan_s_drawing_holds_every_piece_as_sawn(
    files: dict[str, str], pieces: list[dict[str, Any]]
) -> None:
    """Ring for ring, where the plan file has it, on the layer of its board's hand."""
    read = drawing(files["plan.dxf"])
    for hand, layer in (("L", "BOARDS_LEFT"), ("R", "BOARDS_RIGHT")):
        drawn = rings(read, layer)
        wanted = [ring for piece in pieces if piece["hand"] == hand for ring in piece["outline"]]
        assert len(drawn) == len(wanted) > 10
        for ring, other in zip(drawn, wanted, strict=True):
            assert area(ring) == pytest.approx(Polygon(other).area, abs=0.1)
            assert Polygon(ring).hausdorff_distance(Polygon(other)) < 0.001
    assert names(read, "PIECE_NAMES") == [piece["id"] for piece in pieces if piece["kind"] != "whole"]


def test_the_plan_s_drawing_holds_the_room(files: dict[str, str]) -> None:
    """Walls as open lines that meet, fixed things and the lay area as rings."""
    read = drawing(files["plan.dxf"])
    walls = [
        [(v.x, v.y) for v in line.points()] for line in read.modelspace().query('POLYLINE[layer=="ROOM"]')
    ]
    assert [wall[-1] for wall in walls] == [wall[0] for wall in (*walls[1:], walls[0])]
    assert walls[0][0] == (0, 0)
    assert names(read, "WALL_NAMES") == ["A-B", "B-C", "C-D", "D-A"]
    assert len(rings(read, "FIXED")) == 2
    plan = ask("plan", job=small_job())["plan"]
    assert sum(map(area, rings(read, "LAY_AREA"))) > plan["lay_area"]["area_m2"] * 1e6


def test_the_plan_s_drawing_holds_the_lines_to_strike(files: dict[str, str]) -> None:
    """From mark to mark as the plan file has them, each named at its end."""
    read = drawing(files["plan.dxf"])
    drawn = [
        [(v.x, v.y) for v in line.points()]
        for line in read.modelspace().query('POLYLINE[layer=="STRIKE_LINES"]')
    ]
    reply = ask("plan", job=small_job())
    lines = reply["plan"]["setting_out"]["lines"]
    assert drawn == [[tuple(line["from"]), tuple(line["to"])] for line in lines] != []
    assert names(read, "STRIKE_LINES") == [line["name"] for line in reply["setting_out"]["lines"]]


def test_the_pieces_drawing_holds_each_piece_at_full_size_inside_its_board(
    files: dict[str, str], pieces: list[dict[str, Any]]
) -> None:
    """One name, one board, and rings whose areas are those of the plan file; no two boards touch."""
    read = drawing(files["pieces.dxf"])
    cut = [piece for piece in pieces if piece["kind"] != "whole"]
    assert names(read, "PIECE_NAMES") == [piece["id"] for piece in cut]
    drawn = rings(read, "PIECES")
    wanted = [Polygon(ring).area for piece in cut for ring in piece["outline"]]
    assert [area(ring) for ring in drawn] == pytest.approx(wanted, abs=0.1)
    boards = [Polygon(ring) for ring in rings(read, "BOARDS")]
    assert {round(board.area) for board in boards} == {600 * 90}
    assert not [1 for i, board in enumerate(boards) for other in boards[:i] if board.distance(other) < 20]
    for ring in drawn:
        assert any(board.buffer(0.001).contains(Polygon(ring)) for board in boards)


def test_the_pieces_svg_is_the_same_drawing(files: dict[str, str], pieces: list[dict[str, Any]]) -> None:
    """One unit is one millimetre; each piece once, with its area to scale."""
    root = ElementTree.fromstring(files["pieces.svg"])
    left, top, width, height = (float(value) for value in root.attrib["viewBox"].split())
    assert (root.attrib["width"], root.attrib["height"]) == (f"{width:g}mm", f"{height:g}mm")
    cut = [piece for piece in pieces if piece["kind"] != "whole"]
    assert [text.text for text in root.iter(f"{SVG}text")] == [piece["id"] for piece in cut]
    paths = [path.attrib["d"] for path in root.iter(f"{SVG}path") if path.attrib["class"] == "piece"]
    for piece, path in zip(cut, paths, strict=True):
        outer = [tuple(map(float, pair.split())) for pair in re.split("[ML]", path.split("Z")[0]) if pair]
        assert Polygon(outer).area == pytest.approx(Polygon(piece["outline"][0]).area, abs=5)
        assert all(left <= x <= left + width and top <= y <= top + height for x, y in outer)


def test_a_piece_measured_at_the_wall_is_drawn_as_it_is_to_be_cut(pieces: list[dict[str, Any]]) -> None:
    """On the drawing of the pieces; the plan stays as worked out, as in the plan file."""
    mitres = [piece for piece in pieces if piece["kind"] == "mitre"]
    piece = next(piece for piece in mitres if min(piece["left"], piece["right"]) > 50)
    shorter = {side: piece[side] - 5 for side in ("left", "right")}
    before, after = (
        ask("sheets", job=small_job(**more))["files"] for more in ({}, {"progress": {piece["id"]: shorter}})
    )
    assert after["plan.dxf"] == before["plan.dxf"]
    less = [area(ring) for ring in rings(drawing(after["pieces.dxf"]), "PIECES")]
    full = [area(ring) for ring in rings(drawing(before["pieces.dxf"]), "PIECES")]
    assert sum(full) - sum(less) == pytest.approx(5 * 90, abs=20)


def test_names_of_any_script_reach_a_program_that_reads_ascii_only() -> None:
    """As the escapes that CAD programs know; a line break could forge a group, so there is none."""
    job = small_job()
    room = job["room"]
    room["corners"] = {"É屋" if key == "A" else key: at for key, at in room["corners"].items()}
    room["walls"] = [
        {**wall, **{end: "É屋" for end in ("from", "to") if wall[end] == "A"}} for wall in room["walls"]
    ]
    text = ask("sheets", job=job)["files"]["plan.dxf"]
    assert "\\U+00C9\\U+5C4B-B" in text
    assert decode_dxf_unicode(names(drawing(text), "WALL_NAMES")[0]) == "É屋-B"

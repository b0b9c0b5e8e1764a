"""The plan against an independent computation on shapely and scipy (`independent_floor`)."""

import json
from math import atan, cos, degrees, radians, sin, tan
from pathlib import Path
from typing import Any

import pytest
from shapely import STRtree, difference, intersection, symmetric_difference, union_all
from shapely.geometry import LineString, Point, Polygon

from engine.entry import handle
from tests.reference.independent_floor import boards, fixed_of, lay_area, walls_of

# Plain overlay may take boards that only share an edge for one another (libgeos/geos#1344).
GRID = 1e-4
JOBS = sorted((Path(__file__).parent / "jobs").glob("*.json"))


def plan_of(job: dict[str, Any]) -> dict[str, Any]:
    reply = json.loads(handle(json.dumps({"ask": "sheets", "job": job})))
    assert reply["reply"] == "sheets", reply
    return json.loads(reply["files"]["plan.json"])


def polygon(rings: list[Any]) -> Polygon:
    return Polygon(rings[0], rings[1:])


@pytest.fixture(scope="module", params=JOBS, ids=lambda path: path.stem)
def case(request: pytest.FixtureRequest) -> dict[str, Any]:
    job = json.loads(request.param.read_text())
    return {"job": job, "plan": plan_of(job), "area": lay_area(job)}


def test_the_ideal_pieces_fill_an_independently_computed_lay_area(case: dict[str, Any]) -> None:
    """Pieces and independent lay area differ by less than 0.02 % of it; the file's own area agrees."""
    ideals = union_all([polygon(piece["ideal"]) for piece in case["plan"]["pieces"]], grid_size=GRID)
    area = case["area"]
    assert symmetric_difference(ideals, area, grid_size=GRID).area < 0.0002 * area.area
    assert case["plan"]["lay_area"]["area_m2"] * 1e6 == pytest.approx(area.area, rel=0.0002)


def test_each_ideal_piece_lies_in_an_independently_made_pattern(case: dict[str, Any]) -> None:
    """Each ideal is its board's part of the lay area, to 0.05 mm, and its hand is that board's."""
    laid = list(boards(case["job"], case["area"]))
    tree = STRtree([shape for _, shape in laid])
    for piece in case["plan"]["pieces"]:
        ideal = polygon(piece["ideal"])
        inside = ideal.representative_point()
        hand, board = next(laid[i] for i in tree.query(inside) if laid[i][1].contains(inside))
        assert hand == piece["hand"]
        parts = intersection(board, case["area"], grid_size=GRID)
        part = min(getattr(parts, "geoms", [parts]), key=inside.distance)
        assert ideal.hausdorff_distance(part) < 0.05, piece["id"]


def test_stated_lengths_agree_with_outlines(case: dict[str, Any]) -> None:
    """Left and right lengths are those of the sawn outline along the board's long edges, to 0.1 mm."""
    size = case["job"]["floor"]["board"]
    for piece in case["plan"]["pieces"]:
        outline = polygon(piece["outline"])
        for side, across in (("right", 0.0), ("left", size["width"])):
            # As far as a board whose ends lean can reach.
            edge = board_line(piece["board"], (-size["length"], across), (2 * size["length"], across))
            along = edge.buffer(0.005, cap_style="flat").intersection(outline.exterior)
            assert along.length == pytest.approx(piece[side], abs=0.1), (piece["id"], side)


def board_line(place: dict[str, float], *points: tuple[float, float]) -> LineString:
    c, s = cos(radians(place["angle"])), sin(radians(place["angle"]))
    return LineString([(place["x"] + c * x - s * y, place["y"] + s * x + c * y) for x, y in points])


def test_every_gap_is_inside_its_band_or_a_warning_names_the_piece(case: dict[str, Any]) -> None:
    """Measured with shapely from the sawn edge to every wall and fixed thing."""
    tolerance = case["job"]["cutting"]["gap_tolerance"]
    things = [(record, line) for record, line in walls_of(case["job"])]
    things += [(record, shape.exterior) for record, shape in fixed_of(case["job"])]
    warned = " ".join(case["plan"]["warnings"])
    for piece in case["plan"]["pieces"]:
        excess = [excess_over_band(point, things, tolerance) for point in cut_points(piece)]
        if any(value > 0.01 for value in excess):
            assert piece["id"] in warned, (piece["id"], max(excess))


def excess_over_band(point: Point, things: list[Any], tolerance: float) -> float:
    """How far the gap at a point lies outside gap ± tolerance; below nothing no distance can be."""
    beyond, allowed = min(
        (line.distance(point) - record.get("gap", 10), record.get("tolerance", tolerance))
        for record, line in things
    )
    return abs(beyond) - allowed


def cut_points(piece: dict[str, Any]) -> list[Point]:
    points = []
    for cut in piece["cuts"]:
        line = board_line(piece["board"], *cut["points"])
        points += [line.interpolate(part / 8, normalized=True) for part in range(9)]
    return points


def test_the_sawn_pieces_leave_no_floor_bare_and_none_under_a_wall(case: dict[str, Any]) -> None:
    """Sawn pieces cover all that lies beyond the widest gap and nothing that lies within the narrowest."""
    tolerance = case["job"]["cutting"]["gap_tolerance"]
    if any("tolerance" in record for record, _ in (*walls_of(case["job"]), *fixed_of(case["job"]))):
        tolerance = max(2.0, tolerance)
    # Rounding to the file's digits opens hairlines between neighbours; they are closed before comparing.
    pieces = [polygon(piece["outline"]).buffer(0.002, join_style="mitre") for piece in case["plan"]["pieces"]]
    sawn = union_all(pieces, grid_size=GRID)
    assert difference(lay_area(case["job"], tolerance), sawn, grid_size=GRID).area < 1.0
    narrowest = lay_area(case["job"], -tolerance).buffer(0.02)
    assert difference(sawn, narrowest, grid_size=GRID).area < 1.0


def test_no_two_sawn_pieces_overlap(case: dict[str, Any]) -> None:
    """Their areas add up to the area of their union."""
    pieces = [polygon(piece["outline"]) for piece in case["plan"]["pieces"]]
    assert union_all(pieces, grid_size=GRID).area == pytest.approx(
        sum(piece.area for piece in pieces), abs=5.0
    )


def test_saw_angles_follow_from_the_two_lengths(case: dict[str, Any]) -> None:
    """For a piece with one cut from long edge to long edge: angle = atan((right − left)/W).

    Where the ends lean the lengths differ by that already, W·tanβ, the other way round for the other hand.
    """
    floor = case["job"]["floor"]
    width = floor["board"]["width"]
    lean = width * tan(radians(floor.get("angle", 45))) if floor["pattern"] == "chevron" else 0.0
    single = [p for p in case["plan"]["pieces"] if p["kind"] in ("mitre", "crosscut") and len(p["cuts"]) == 1]
    assert single
    for piece in single:
        own = lean if piece["hand"] == "R" else -lean
        assert piece["board"].get("lean", 0.0) == pytest.approx(own, abs=1e-4)
        counted = own if piece["kept_end"] == "start" else -own
        angle = degrees(atan((piece["right"] - piece["left"] - counted) / width))
        assert piece["saw_angle"] == pytest.approx(angle, abs=0.02), piece["id"]

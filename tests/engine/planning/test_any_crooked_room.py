"""Properties that hold for every room, board, axis and anchor."""

import json
from collections import Counter
from math import radians, tan
from typing import Any

from hypothesis import HealthCheck, example, given, settings

from engine.entry import handle
from engine.geometry.board import BoardSize, side_lengths
from engine.geometry.frame import Frame
from engine.geometry.shapes import polygon_area
from tests.engine.crooked_rooms import jobs


def plan_of(job: dict[str, Any]) -> dict[str, Any] | None:
    """The plan, or None when the room itself was refused with a sentence."""
    reply = json.loads(handle(json.dumps({"ask": "plan", "job": job})))
    if reply["reply"] == "refused":
        codes = {finding["code"] for finding in reply["findings"]}
        assert "pieces-do-not-add-up" not in codes, reply
        assert all(finding["sentence"].endswith(".") for finding in reply["findings"])
        return None
    assert reply["reply"] == "plan", reply.get("trace")
    plan: dict[str, Any] = reply["plan"]
    return plan


def rings(shape: list[Any]) -> tuple[Any, ...]:
    return tuple(tuple((x, y) for x, y in ring) for ring in shape)


def grazed() -> dict[str, Any]:
    """A room that the line square to the rows meets at one corner's point alone."""
    corners = {"A": [0.0, 44.11], "B": [1873.12, 0.0], "C": [1873.12, 2509.55], "D": [60.0, 2509.55]}
    walls: list[dict[str, Any]] = [{"from": a, "to": b, "gap": 0.0} for a, b in ("AB", "BC", "CD", "DA")]
    walls[3]["offsets"] = [[493.2, 0.0], [986.5, 0.0], [1479.7, 0.0], [1972.9, 0.82]]
    return {
        "format": "out-of-true job",
        "version": 1,
        "name": "Grazed corner",
        "room": {"corners": corners, "walls": walls, "fixed": []},
        "floor": {
            "pattern": "herringbone",
            "board": {"length": 250.0, "width": 25.0},
            "axis": 0.0,
            "anchor": [0, 0],
        },
        "cutting": {"gap_tolerance": 0.5, "sliver": 20, "saw_step": 0.0},
    }


@settings(max_examples=60, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(job=jobs())
@example(job=grazed())
def test_pieces_of_any_room_fill_it_and_hold_their_gaps(job: dict[str, Any]) -> None:
    """Areas add up, ids are single, lengths are those of the outline, gaps hold or are warned of."""
    plan = plan_of(job)
    if plan is None:
        return
    area = sum(polygon_area(rings(piece["ideal"])) for piece in plan["pieces"])
    assert abs(area / 1e6 - plan["lay_area"]["area_m2"]) < 5e-6 * max(1.0, plan["lay_area"]["area_m2"])
    assert max(Counter(piece["id"] for piece in plan["pieces"]).values()) == 1
    assert sum(plan["counts"].values()) == len(plan["pieces"])
    for piece in plan["pieces"]:
        check_piece(piece, job, " ".join(plan["warnings"]))


def check_piece(piece: dict[str, Any], job: dict[str, Any], warnings: str) -> None:
    size = size_of(piece, job["floor"])
    frame = Frame(piece["board"]["x"], piece["board"]["y"], piece["board"]["angle"])
    outline = frame.ring_to_board(rings(piece["outline"])[0])
    assert all(size.holds(point, 0.01) for point in outline)
    lengths = side_lengths(outline, size)
    assert abs(lengths["left"] - piece["left"]) < 0.1, piece["id"]
    assert abs(lengths["right"] - piece["right"]) < 0.1, piece["id"]
    if piece["kind"] == "whole":
        assert not piece["cuts"]
    elif piece["id"] not in warnings:
        check_gaps(piece, job)


def size_of(piece: dict[str, Any], floor: dict[str, Any]) -> BoardSize:
    """The whole board; the ends of a chevron's lean to the side of its hand."""
    length, width = floor["board"]["length"], floor["board"]["width"]
    if floor["pattern"] != "chevron":
        return BoardSize(length, width)
    lean = width * tan(radians(floor["angle"]))
    return BoardSize(length, width, lean if piece["hand"] == "R" else -lean)


def check_gaps(piece: dict[str, Any], job: dict[str, Any]) -> None:
    """A piece along one wall alone keeps that wall's own band."""
    names = {cut["along"] for cut in piece["cuts"]}
    if len(names) > 1:
        return
    gaps = {f"{wall['from']}–{wall['to']}": wall["gap"] for wall in job["room"]["walls"]}
    gaps |= {thing["name"]: thing["gap"] for thing in job["room"]["fixed"]}
    tolerance = job["cutting"]["gap_tolerance"]
    near = sorted(gaps.values())
    assert piece["gap_least"] >= max(near[0] - tolerance, 0) - 0.01
    assert piece["gap_most"] <= near[-1] + tolerance + 0.01


@settings(max_examples=15, deadline=None, suppress_health_check=[HealthCheck.too_slow])
@given(job=jobs())
def test_numbers_stay_when_a_wall_is_read_again(job: dict[str, Any]) -> None:
    """With the counting kept in the job, a piece that is there before and after keeps id and place."""
    first = json.loads(handle(json.dumps({"ask": "plan", "job": job})))
    if first["reply"] != "plan":
        return
    again = json.loads(json.dumps(job))
    again["floor"]["count_from"] = first["count_from"]
    again["room"]["walls"][0]["gap"] += 2.5
    second = plan_of(again)
    if second is None:
        return
    places = {piece["id"]: piece["board"] for piece in second["pieces"]}
    for piece in first["plan"]["pieces"]:
        assert places.get(piece["id"], piece["board"]) == piece["board"]

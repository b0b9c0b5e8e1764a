"""A radiator's two pipes, 50 mm apart or less: the plan is proved, and the card tells of each hole."""

from typing import Any

import pytest
import shapely

from engine.geometry.frame import Frame
from engine.geometry.shapes import Point
from tests.engine.small_jobs import ask, small_job

# A whole right board of the plan below; places on it in its own frame become places in the room.
BOARD = Frame(900.0, 600.0 - 90 * 2**0.5, 45.0)
HOLE = "Drill Ø 31.0 mm for pipe {}: centre {} mm from the start end, {} mm from the right long edge."


def planned(*places: Point) -> dict[str, Any]:
    """15 mm pipes with a gap of 8 mm, at places on one board, in a square room."""
    corners = {"A": [0, 0], "B": [1800, 0], "C": [1800, 1400], "D": [0, 1400]}
    walls = [{"from": a, "to": b} for a, b in zip("ABCD", "BCDA", strict=True)]
    pipes = [
        {"name": f"pipe {n}", "kind": "pipe", "centre": BOARD.to_room(at), "diameter": 15, "gap": 8}
        for n, at in enumerate(places, 1)
    ]
    room = {"corners": corners, "walls": walls, "fixed": pipes}
    reply = ask("plan", job=small_job(room=room, floor__anchor=[900, 600]))
    assert reply["reply"] == "plan", reply
    return reply


def keeps_its_gap(reply: dict[str, Any], *places: Point) -> bool:
    """Every piece stays 8 ± 2 mm off every pipe (shapely), and one piece at least comes that near to each."""
    pieces = [shapely.Polygon(p["outline"][0], p["outline"][1:]) for p in reply["plan"]["pieces"]]
    gaps = [min(piece.distance(shapely.Point(BOARD.to_room(at))) - 7.5 for piece in pieces) for at in places]
    return all(6 <= gap <= 10 for gap in gaps)


def card(reply: dict[str, Any], hole: str) -> dict[str, Any]:
    found: dict[str, Any] = next(card for card in reply["cards"] if hole in card["steps"])
    return found


def test_pair_inside_one_board_is_two_holes() -> None:
    places = ((275.0, 45.0), (325.0, 45.0))
    reply = planned(*places)
    assert keeps_its_gap(reply, *places)
    found = card(reply, HOLE.format(1, "275.0", "45.0"))
    assert found["kind"] == "hole"
    assert HOLE.format(2, "325.0", "45.0") in found["steps"]
    (piece,) = (piece for piece in reply["plan"]["pieces"] if piece["id"] == found["id"])
    assert len(piece["outline"]) == 3


def test_pipe_on_the_edge_is_a_bite_that_needs_a_board_clamped_beside() -> None:
    """One inside, one whose centre lies on the long edge: a hole, and half a hole in either board."""
    places = ((300.0, 50.0), (300.0, 0.0))
    reply = planned(*places)
    assert keeps_its_gap(reply, *places)
    found = card(reply, HOLE.format(1, "300.0", "50.0"))
    at_edge = found["steps"].index(HOLE.format(2, "300.0", "0.0"))
    assert found["steps"][at_edge + 1].startswith("Clamp a waste board")
    bitten = [
        piece for piece in reply["plan"]["pieces"] if any(c["along"] == "pipe 2" for c in piece["cuts"])
    ]
    assert [sorted(cut["kind"] for cut in piece["cuts"]) for piece in bitten] == [
        ["notch"],
        ["hole", "notch"],
    ]


@pytest.mark.parametrize("apart", [18.0, 25.0, 30.0])
def test_pipes_whose_holes_meet_are_one_opening_and_both_are_told(apart: float) -> None:
    """Holes of 31 mm nearer than that run into each other; neither may be missing from the card."""
    places = ((290.0, 45.0), (290.0 + apart, 45.0))
    reply = planned(*places)
    assert keeps_its_gap(reply, *places)
    found = card(reply, HOLE.format(1, "290.0", "45.0"))
    assert HOLE.format(2, f"{290 + apart:.1f}", "45.0") in found["steps"]
    assert (
        "The holes for pipe 1 and pipe 2 run into each other: saw out what is left between them."
        in found["steps"]
    )
    assert [shown["text"] for shown in found["figures"] if shown["label"] == "Drill Ø"] == ["31.0", "31.0"]
    (piece,) = (piece for piece in reply["plan"]["pieces"] if piece["id"] == found["id"])
    opening = shapely.Polygon(piece["outline"][1])
    two = shapely.union_all([shapely.Point(BOARD.to_room(at)).buffer(15.5, quad_segs=200) for at in places])
    assert opening.symmetric_difference(two).area < 1.0

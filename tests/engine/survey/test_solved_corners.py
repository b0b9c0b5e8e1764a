"""Corners come out of lengths, or a sentence says which length to take."""

from math import dist
from random import Random

import pytest

from engine.errors import Refused
from engine.geometry.shapes import Point
from engine.model.job import Room, Tie, Wall
from engine.survey.corners import solve_corners
from engine.survey.outline import room_outline

Corners = dict[str, Point]

QUAD: Corners = {"A": (0, 0), "B": (5200, 0), "C": (5230, 4100), "D": (-20, 4080)}
ELL: Corners = {
    "A": (0, 0),
    "B": (6000, 0),
    "C": (6010, 2500),
    "D": (3500, 2520),
    "E": (3490, 5000),
    "F": (0, 5010),
}


def _read(corners: Corners, ties: list[str], noise: float = 0.0, **wrong: float) -> Room:
    """A room of lengths with that noise; ``wrong`` adds a blunder to a line by its name."""
    random, names = Random(7), list(corners)

    def length(a: str, b: str) -> float:
        return dist(corners[a], corners[b]) + random.gauss(0, noise) + wrong.get(a + b, 0.0)

    return Room(
        walls=tuple(
            Wall(from_=a, to=b, length=length(a, b))
            for a, b in zip(names, names[1:] + names[:1], strict=True)
        ),
        ties=tuple(Tie(from_=pair[0], to=pair[1], length=length(pair[0], pair[1])) for pair in ties),
    )


@pytest.mark.parametrize(
    ("corners", "ties"),
    [(QUAD, ["AC"]), (QUAD, ["BD", "AC"]), (ELL, ["AD", "BD", "DF"]), (ELL, ["AD", "BD", "AE", "CE", "CF"])],
)
def test_exact_lengths_give_the_exact_room(corners: Corners, ties: list[str]) -> None:
    """First corner at (0, 0), second on the positive x axis, counter-clockwise."""
    places = solve_corners(_read(corners, ties)).places
    for name, at in corners.items():
        assert places[name] == pytest.approx(at, abs=1e-5)


def test_too_few_lengths_name_the_tie_to_measure() -> None:
    """A quadrilateral of four walls can still fold; one named tie stiffens it, and then it is solved."""
    with pytest.raises(Refused) as refused:
        solve_corners(_read(QUAD, []))
    (finding,) = refused.value.findings
    assert finding.code == "too few lengths"
    assert "Measure tie A–C next." in finding.sentence
    assert solve_corners(_read(QUAD, ["AC"]))


def test_two_rooms_that_fit_are_said() -> None:
    """Corners free to fold over get a warning; the ties it names, taken one by one, settle the room."""
    ties = ["AC", "CE", "EA"]
    solution = solve_corners(_read(ELL, ties))
    assert [(finding.code, finding.level) for finding in solution.findings] == [("two rooms fit", "warning")]
    while solution.findings:
        ties.append(solution.findings[0].sentence.split("Measure ")[1].split(":")[0].replace("–", ""))
        solution = solve_corners(_read(ELL, ties))
    assert len(ties) <= 6
    for name, at in ELL.items():
        assert solution.places[name] == pytest.approx(at, abs=1e-5)


def test_impossible_triangle_is_said_with_its_sides() -> None:
    """A tie longer than two walls together is refused, and the sentence says by how much."""
    with pytest.raises(Refused) as refused:
        solve_corners(_read(QUAD, ["AC"], AC=3000.0))
    (finding,) = refused.value.findings
    assert (finding.code, finding.path) == ("impossible triangle", "room.ties[0]")
    assert "longer than the other two together" in finding.sentence


def test_walls_that_do_not_close_are_refused() -> None:
    """Without corners the walls alone tell the order, so all of them are needed."""
    room = Room(walls=_read(QUAD, []).walls[:3])
    with pytest.raises(Refused) as refused:
        solve_corners(room)
    assert refused.value.findings[0].code == "walls not closed"


def test_one_redundant_length_sees_a_blunder_and_cannot_place_it() -> None:
    """A quadrilateral with two diagonals: all six test figures are the same size."""
    adjustment = solve_corners(_read(QUAD, ["AC", "BD"], noise=0.3, BC=25.0)).adjustment
    sizes = [abs(line.w) for line in adjustment.lengths]
    assert min(sizes) > 3.29
    assert max(sizes) == pytest.approx(min(sizes), rel=1e-3)


def test_two_redundant_lengths_place_the_blunder() -> None:
    """With every tie of a pentagon the wrong one has the greatest test figure."""
    corners: Corners = {"A": (0, 0), "B": (4000, 0), "C": (5000, 2500), "D": (2200, 4200), "E": (-900, 2600)}
    adjustment = solve_corners(_read(corners, ["AC", "AD", "BD", "BE", "CE"], noise=0.5, BD=20.0)).adjustment
    worst = max(adjustment.lengths, key=lambda line: abs(line.w))
    assert worst.length.name == "B–D"
    assert abs(worst.w) > 3.29


def test_stated_spread_is_the_spread() -> None:
    """Of 300 noisy readings of one room, about 95 % put a corner inside its ellipse (binomial bounds)."""
    random, inside = Random(11), 0

    def read(pair: str) -> float:
        return dist(QUAD[pair[0]], QUAD[pair[1]]) + random.gauss(0, 1)

    for _ in range(300):
        walls = tuple(Wall(from_=pair[0], to=pair[1], length=read(pair)) for pair in ("AB", "BC", "CD", "DA"))
        ties = tuple(Tie(from_=pair[0], to=pair[1], length=read(pair)) for pair in ("AC", "BD"))
        adjustment = solve_corners(Room(walls=walls, ties=ties)).adjustment
        xx, xy, yy = adjustment.covariance("C")
        dx, dy = (a - b for a, b in zip(adjustment.places["C"], QUAD["C"], strict=True))
        inside += (yy * dx * dx - 2 * xy * dx * dy + xx * dy * dy) / (xx * yy - xy * xy) < 5.991
    assert 274 <= inside <= 295


def test_corners_by_lines_and_by_lengths_mix_in_one_room() -> None:
    """Two corners by x and y, the others by lengths: the frame of x and y stays."""
    moved = {name: (x + 700.0, y - 300.0) for name, (x, y) in ELL.items()}
    lengths = _read(moved, ["AD", "BD", "AE", "CE"])
    room = Room(corners={"A": moved["A"], "B": moved["B"]}, walls=lengths.walls, ties=lengths.ties)
    outline = room_outline(room)
    for corner in outline.corners:
        assert corner.at == pytest.approx(moved[corner.name], abs=1e-5)
    assert [corner.name for corner in outline.corners] == list(ELL)


def test_corner_that_nothing_measures_stays_unknown() -> None:
    """A wall that names a corner without place and lengths is refused, not guessed."""
    room = Room(corners=QUAD, walls=(Wall(from_="D", to="E"), Wall(from_="E", to="A")))
    with pytest.raises(Refused) as refused:
        room_outline(room)
    assert {finding.code for finding in refused.value.findings} == {"corner not measured"}

"""What lengths can find out about each other, and in which words it is said."""

from math import dist, inf
from random import Random

import pytest

from engine.geometry.shapes import Point
from engine.model.job import Room, Tie, Wall
from engine.survey.corner_order import corner_order
from engine.survey.corners import solve_corners
from engine.survey.network_words import network_findings
from engine.survey.reliability import best_tie, in_sight, smallest_blunder, suspects

QUAD: dict[str, Point] = {"A": (0, 0), "B": (5200, 0), "C": (5230, 4100), "D": (-20, 4080)}
ELL: dict[str, Point] = {
    "A": (0, 0),
    "B": (6000, 0),
    "C": (6010, 2500),
    "D": (3500, 2520),
    "E": (3490, 5000),
    "F": (0, 5010),
}
PENTA: dict[str, Point] = {
    "A": (0, 0),
    "B": (4000, 0),
    "C": (5000, 2500),
    "D": (2200, 4200),
    "E": (-900, 2600),
}


def _read(corners: dict[str, Point], ties: list[str], **wrong: float) -> Room:
    random, names = Random(5), "".join(corners) + next(iter(corners))

    def length(pair: str) -> float:
        return dist(corners[pair[0]], corners[pair[1]]) + random.gauss(0, 0.4) + wrong.get(pair, 0.0)

    pairs = [names[i : i + 2] for i in range(len(corners))]
    return Room(
        walls=tuple(Wall(from_=pair[0], to=pair[1], length=length(pair)) for pair in pairs),
        ties=tuple(Tie(from_=pair[0], to=pair[1], length=length(pair)) for pair in ties),
    )


@pytest.mark.parametrize(
    ("corners", "ties"),
    [(QUAD, ["AC"]), (ELL, ["AD", "BD", "AE", "CE"]), (PENTA, ["AC", "AD"]), (PENTA, ["AC", "AD", "BD"])],
)
def test_suggested_tie_brings_what_it_promises(corners: dict[str, Point], ties: list[str]) -> None:
    """Measured, the tie brings the smallest blunder to the foretold figure, and no other tie does better."""
    order = list(corners)
    gain = best_tie(order, solve_corners(_read(corners, ties)).adjustment, 1.0)
    assert gain is not None
    after = {}
    for i, a in enumerate(order):
        for b in order[i + 1 :]:
            neighbours = (i + 1) % len(order) == order.index(b) or (order.index(b) + 1) % len(order) == i
            if not neighbours and a + b not in ties and b + a not in ties:
                found = solve_corners(_read(corners, [*ties, a + b])).adjustment
                after[a + b] = [line.smallest_blunder for line in found.lengths]
    promised = after[gain.from_ + gain.to]
    assert sum(value == inf for value in promised) == gain.unchecked
    assert max(value for value in promised if value < inf) == pytest.approx(gain.after, rel=0.02)
    if gain.unchecked == 0:
        ring = list(corners.values())
        seen = [pair for pair in after if in_sight(ring, corners[pair[0]], corners[pair[1]])]
        assert gain.after <= min(max(after[pair]) for pair in seen) * 1.02


def test_tie_through_a_wall_is_never_suggested() -> None:
    """In an L-shaped room the two ends of the L do not see each other past the inner corner."""
    ring = list(ELL.values())
    assert not in_sight(ring, ELL["C"], ELL["E"])
    assert in_sight(ring, ELL["A"], ELL["D"])
    assert in_sight(ring, ELL["B"], ELL["F"])


def test_unchecked_lengths_are_named() -> None:
    """A triangle on its own checks nothing, and the sentence says which lengths stay blind."""
    room = _read(ELL, ["AD", "BD", "AE", "CE"])
    adjustment = solve_corners(room).adjustment
    assert smallest_blunder(adjustment) == inf
    (note,) = network_findings(corner_order(room), adjustment)
    assert note.sentence.startswith("A blunder in E–F, F–A would not show at all. One more tie, B–F, brings")


def test_limits_are_told_in_millimetres() -> None:
    """The figure in the sentence is the largest of the lengths' own."""
    room = _read(PENTA, ["AC", "AD", "BD", "BE"])
    adjustment = solve_corners(room).adjustment
    (note,) = network_findings(corner_order(room), adjustment)
    limit = max(line.smallest_blunder for line in adjustment.lengths)
    assert note.sentence.startswith(f"These readings would not show a blunder below {limit:.0f} mm.")


def test_one_check_names_all_that_share_the_blame() -> None:
    """With one redundant length nothing can be placed: all six lengths are named."""
    room = _read(QUAD, ["AC", "BD"], BC=25.0)
    assert len(suspects(solve_corners(room).adjustment)) == 6
    warning = network_findings(corner_order(room), solve_corners(room).adjustment)[0]
    assert "can not tell which" in warning.sentence


@pytest.mark.parametrize("wrong", ["AB", "CD", "BD", "CE"])
def test_two_checks_and_more_name_the_one(wrong: str) -> None:
    """In a pentagon with every tie the wrong length is named alone, with its size."""
    room = _read(PENTA, ["AC", "AD", "BD", "BE", "CE"], **{wrong: 20.0})
    adjustment = solve_corners(room).adjustment
    (line,) = suspects(adjustment)
    assert line.length.name == f"{wrong[0]}–{wrong[1]}"
    warning = network_findings(corner_order(room), adjustment)[0]
    size = float(warning.sentence.split("about ")[1].split(" mm")[0])
    assert size == pytest.approx(20, abs=3)


def test_corner_held_at_a_flat_angle_is_said() -> None:
    """A corner almost on the line between the two it is measured from can slide across it unseen."""
    corners: dict[str, Point] = {
        "A": (0, 0),
        "B": (4000, 0),
        "C": (4000, 3000),
        "D": (2000, 3060),
        "E": (0, 3000),
    }
    room = _read(corners, ["AC", "BE"])
    found = network_findings(corner_order(room), solve_corners(room).adjustment)
    loose = [finding for finding in found if finding.code == "corner loosely held"]
    assert [finding.sentence.split(" only")[0] for finding in loose] == ["The lengths hold corner D"]
    firm = _read(corners, ["AC", "BE", "AD", "BD"])
    codes = [finding.code for finding in network_findings(corner_order(firm), solve_corners(firm).adjustment)]
    assert "corner loosely held" not in codes

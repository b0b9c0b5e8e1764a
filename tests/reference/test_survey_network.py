"""Corners from lengths against a printed example and against scipy."""

from math import dist
from random import Random

import numpy as np
import pytest
from scipy.optimize import least_squares

from engine.geometry.shapes import Point
from engine.model.job import Room, Tie, Wall
from engine.survey.corners import room_lengths, solve_corners
from engine.survey.network import Adjustment, Length, adjust
from engine.survey.two_tapes import two_tape_fix


@pytest.fixture(scope="module")
def example() -> Adjustment:
    """Ghilani and Wolf, Adjustment Computations, example 14.2; inputs as quoted in TRADE.md (V), in feet."""
    held = {"A": (865.40, 4527.15), "B": (2432.55, 2047.25), "C": (2865.22, 27.15)}
    read = {"A": 6049.00, "B": 4736.83, "C": 5446.49}
    lengths = [Length(from_=name, to="U", value=value, sd=1.0) for name, value in read.items()]
    start = two_tape_fix(held["B"], held["A"], read["B"], read["A"])
    start = max(start, two_tape_fix(held["A"], held["B"], read["A"], read["B"]))
    return adjust(lengths, {**held, "U": start}, [("U", 0), ("U", 1)])


def test_printed_example_gives_the_printed_corner(example: Adjustment) -> None:
    """U (6861.317, 3727.819), as printed."""
    x, y = example.places["U"]
    assert (round(x, 3), round(y, 3)) == (6861.317, 3727.819)


def test_printed_example_gives_the_printed_spread(example: Adjustment) -> None:
    """S₀ 0.0977, S_x 0.078, S_y 0.154, as printed."""
    assert example.unit_sd is not None
    xx, _, yy = example.covariance("U")
    assert round(example.unit_sd, 4) == 0.0977
    assert (round(example.unit_sd * xx**0.5, 3), round(example.unit_sd * yy**0.5, 3)) == (0.078, 0.154)


def test_printed_example_gives_the_printed_residuals(example: Adjustment) -> None:
    """Computed − observed −0.037, +0.077, −0.047, as printed; redundancy 0.146, 0.618, 0.235 (calc)."""
    assert [round(line.residual, 3) for line in example.lengths] == [-0.037, 0.077, -0.047]
    assert [round(line.redundancy, 3) for line in example.lengths] == [0.146, 0.618, 0.235]


@pytest.mark.parametrize(
    ("base", "from_first", "from_second", "x", "y", "digits"),
    [
        (13, 14, 15, 5.384615, 12.923077, 6),  # TRADE.md, two-tape fix (calc)
        (5000, 3200, 4100, 1843.000, 2615.980, 3),  # TRADE.md, two-tape fix (calc)
    ],
)
def test_two_tapes_give_the_stated_point(
    base: float, from_first: float, from_second: float, x: float, y: float, digits: int
) -> None:
    """The point left of the line lies where TRADE.md says."""
    found = two_tape_fix((0, 0), (base, 0), from_first, from_second)
    assert (round(found[0], digits), round(found[1], digits)) == (x, y)


def _crooked_room(seed: int) -> tuple[dict[str, Point], Room]:
    """Five to eight corners round an oval, all walls and plenty of ties, gauge noise of 1 mm."""
    random = Random(seed)
    count = random.randint(5, 8)
    turns = [2 * np.pi * (k + random.uniform(-0.25, 0.25)) / count for k in range(count)]
    corners = {
        chr(65 + k): (3000 * np.cos(t) + random.uniform(-300, 300), 2200 * np.sin(t))
        for k, t in enumerate(turns)
    }
    names = list(corners)

    def read(a: str, b: str) -> float:
        return dist(corners[a], corners[b]) + random.gauss(0, 1)

    walls = tuple(
        Wall(from_=a, to=b, length=read(a, b)) for a, b in zip(names, names[1:] + names[:1], strict=True)
    )
    pairs = [
        (a, b)
        for i, a in enumerate(names)
        for j, b in enumerate(names)
        if i + 1 < j and (i, j) != (0, count - 1)
    ]
    chosen = pairs if count < 7 else random.sample(pairs, len(pairs) - 2)
    ties = tuple(Tie(from_=a, to=b, length=read(a, b), sd=random.choice([0.8, 1.5])) for a, b in chosen)
    return corners, Room(walls=walls, ties=ties)


@pytest.mark.parametrize("seed", range(12))
def test_solved_corners_are_those_of_scipy(seed: int) -> None:
    """scipy.optimize.least_squares, started at the true corners, ends within 0.0001 mm of ours."""
    corners, room = _crooked_room(seed)
    ours = solve_corners(room).places
    names, lengths = list(corners), room_lengths(room)

    def placed(values: np.ndarray) -> dict[str, np.ndarray]:
        rest = values[1:].reshape(-1, 2)
        return {
            names[0]: np.zeros(2),
            names[1]: np.array([values[0], 0]),
            **dict(zip(names[2:], rest, strict=True)),
        }

    def misses(values: np.ndarray) -> np.ndarray:
        at = placed(values)
        return np.array([(np.hypot(*(at[n.from_] - at[n.to])) - n.value) / n.sd for n in lengths])

    first, second = (np.array(corners[name]) for name in names[:2])
    along = (second - first) / np.hypot(*(second - first))
    turned = {
        name: ((p := np.array(at) - first) @ along, along[0] * p[1] - along[1] * p[0])
        for name, at in corners.items()
    }
    start = np.array([turned[names[1]][0], *(value for name in names[2:] for value in turned[name])])
    theirs = placed(least_squares(misses, start, xtol=1e-15, ftol=1e-15, gtol=1e-15).x)
    for name in names:
        assert ours[name] == pytest.approx(theirs[name], abs=1e-4)


@pytest.mark.parametrize("seed", range(4))
def test_reliability_is_that_of_the_textbook_matrix(seed: int) -> None:
    """Redundancy numbers are the diagonal of I − A(AᵀPA)⁻¹AᵀP by numpy, and add up to n − u."""
    _, room = _crooked_room(seed)
    adjustment = solve_corners(room).adjustment
    at = {unknown: i for i, unknown in enumerate(adjustment.unknowns)}
    design = np.zeros((len(adjustment.lengths), len(at)))
    for i, line in enumerate(adjustment.lengths):
        a, b = line.length.from_, line.length.to
        step = np.subtract(adjustment.places[b], adjustment.places[a]) / line.adjusted
        for axis in (0, 1):
            if (a, axis) in at:
                design[i, at[a, axis]] = -step[axis]
            if (b, axis) in at:
                design[i, at[b, axis]] = step[axis]
    weights = np.diag([1 / line.length.sd**2 for line in adjustment.lengths])
    hat = design @ np.linalg.inv(design.T @ weights @ design) @ design.T @ weights
    found = [line.redundancy for line in adjustment.lengths]
    assert found == pytest.approx(np.diag(np.eye(len(hat)) - hat), abs=1e-9)
    assert sum(found) == pytest.approx(adjustment.redundancy, abs=1e-9)

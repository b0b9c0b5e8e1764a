"""The number of ways in which the saw is turned where every wall has its own gap and tolerance.

For each straight cut two linear programmes (HiGHS, through scipy) find the least and the greatest
slope of a line with what must stay on its one side and what must fall on the other. What must stay or fall is
clipped with shapely (BSD) from two lay areas that share no code with the engine; what a piece's other cuts
take off need not fall by this one. Cuts of which no two share a setting need one each (common knowledge on
intervals). The numbers to set on the scale are no more than those cuts need by the pieces' own angles either.
"""

import json
from collections.abc import Iterator
from math import atan, degrees
from typing import Any, NamedTuple

import numpy as np
import pytest
import shapely
from numpy.typing import NDArray
from scipy.optimize import linprog
from shapely import affinity
from shapely.geometry import MultiPoint, Polygon

from engine.cutting.fewest import witnesses
from engine.entry import handle
from tests.reference.crooked_floors import crooked_floor
from tests.reference.independent_floor import lay_area
from tests.reference.test_saw_settings_against_shapely import KEPT_BACK

Points = NDArray[np.float64]
FAR = 9999.0
# More of a board than this is a part of it, mm²; less is what rounding leaves.
PART = 0.0001


def nine_corners() -> dict[str, Any]:
    """A room round which one piece could not be cut at a stop that others share: it took a setting more."""
    gaps = [(8, 1.5), (12, 1.5), (4, 3), (8, 1.5), (3, 3), (10, 1.5), (3, 1.5), (4, 3), (5, 1.5)]
    names = "ABCDEFGHI"
    walls: list[dict[str, Any]] = [
        {"from": a, "to": b, "gap": gap, "tolerance": tolerance}
        for a, b, (gap, tolerance) in zip(names, names[1:] + "A", gaps, strict=True)
    ]
    walls[0]["offsets"] = [[917, -4.2], [1316, -6.2], [2369, -5.5]]
    walls[5]["offsets"] = [[267, -8.8], [429, -9.7], [674, -11.1], [943, -5.7]]
    walls[1] |= {"offsets": [[344, -6.5]], "curve": "straight"}
    walls[7]["offsets"] = [[711, 1.3]]
    walls[8] |= {"offsets": [[1247, 7.6]], "curve": "straight"}
    corners = [
        (0, 0), (2987.6, 0), (3519.79, 320.78), (3542.52, 1988.82), (2362.97, 1971.43), (2314.36, 1023.65),
        (1190.29, 1034.17), (1204.6, 2041.37), (-7.34, 2029.09),
    ]  # fmt: skip
    island = [[3148.8, 419.7], [3068.8, 1015.7], [2583.7, 950.7], [2663.6, 354.6]]
    return {
        "format": "out-of-true job",
        "version": 1,
        "name": "Nine corners",
        "room": {
            "corners": dict(zip(names, corners, strict=True)),
            "walls": walls,
            "fixed": [{"name": "island", "outline": island, "gap": 5}],
        },
        "floor": {
            "pattern": "chevron",
            "board": {"length": 726, "width": 60},
            "axis": 90.58902154483921,
            "anchor": [1558.1, 679.9],
        },
        "cutting": {"kerf": 1.8, "gap_tolerance": 1.5, "saw_step": 1, "detents": [45]},
    }


def mixed(seed: int) -> dict[str, Any]:
    """A crooked floor with another tolerance at each wall."""
    job = crooked_floor(seed)
    for n, wall in enumerate(job["room"]["walls"]):
        wall["tolerance"] = (0.7, 1.5, 3.0)[(seed + n) % 3]
    return job | {"cutting": {"gap_tolerance": 1.5, "saw_step": (0.5, 1, 0.1)[seed % 3], "detents": [45]}}


def glued(seed: int) -> dict[str, Any]:
    """The same with small pieces joined to their neighbours first."""
    job = mixed(seed)
    return job | {"cutting": job["cutting"] | {"glue_first": True, "sliver": 60}}


JOBS = [pytest.param(mixed(4), id="floor 4"), pytest.param(glued(2), id="floor 2, glued")] + [
    pytest.param(job, id=name, marks=pytest.mark.long)
    for name, job in (
        ("nine corners", nine_corners()),
        *((f"floor {seed}", mixed(seed)) for seed in range(30) if seed != 4),
        *((f"floor {seed}, glued", glued(seed)) for seed in range(12) if seed != 2),
    )
]


class Held(NamedTuple):
    """The first and the last turn that a cut's band allows, degrees to the right, and the end that stays."""

    first: float
    last: float
    keeps_start: bool

    @property
    def as_the_piece_has_it(self) -> tuple[float, float]:
        """The same by the piece's own angle, whose sign says which long edge stays longer (board face up)."""
        return (self.first, self.last) if self.keeps_start else (-self.last, -self.first)


class Board:
    """The board of a piece in the room and those ``glued`` to it: what of them is to stay and to fall."""

    def __init__(
        self,
        job: dict[str, Any],
        piece: dict[str, Any],
        glued: list[dict[str, Any]],
        stays: Any,
        may_stay: Any,
    ) -> None:
        self.place = piece["board"]
        every = [piece, *glued]
        whole = shapely.union_all([board_of(each, job["floor"]["board"]).buffer(1e-5) for each in every])
        ideal = shapely.union_all(
            [Polygon(each["ideal"][0], each["ideal"][1:]).buffer(1e-5) for each in every]
        )
        self.kept = [part for part in parts(stays & whole) if part.intersects(ideal)]
        beside = [part for part in parts(may_stay & whole) if (part & ideal).area > 1]
        self.fallen = whole - shapely.union_all(beside).buffer(1e-6, join_style="mitre")

    def corners(self, shapes: list[Any]) -> Points:
        """The corners of the hull of some shapes, in the board's frame."""
        if not shapes:
            return np.zeros((0, 2))
        hull = MultiPoint([point for shape in shapes for point in shape.exterior.coords]).convex_hull
        moved = affinity.translate(hull, -self.place["x"], -self.place["y"])
        return np.array(affinity.rotate(moved, -self.place["angle"], origin=(0, 0)).exterior.coords)[:-1]

    def off(self, cut: dict[str, Any]) -> Any:
        """The side of a cut on which the piece lies, in the room."""
        start, end = map(np.array, cut["points"])
        along = (end - start) / np.hypot(*(end - start)) * FAR
        left = np.array([-along[1], along[0]])
        ring = (start - along, end + along, end + along + left, start - along + left)
        return in_room(Polygon(ring), self.place)


def in_room(shape: Any, place: dict[str, Any]) -> Any:
    turned = affinity.rotate(shape, place["angle"], origin=(0, 0))
    return affinity.translate(turned, place["x"], place["y"])


def board_of(piece: dict[str, Any], size: dict[str, Any]) -> Any:
    lean, length, width = piece["board"]["lean"], size["length"], size["width"]
    return in_room(Polygon([(0, 0), (length, 0), (length + lean, width), (lean, width)]), piece["board"])


def parts(shape: Any) -> list[Any]:
    every = getattr(shape, "geoms", [shape])
    return [each for each in every if each.geom_type == "Polygon" and each.area > PART]


def slopes(kept: Points, fallen: Points, keeps_start: bool) -> tuple[float, float] | None:
    """The least and the greatest m of a line x = m·y + b between the two; None where there is none."""
    way = 1.0 if keeps_start else -1.0
    rows = [[-way * y, -way] for _, y in kept] + [[way * y, way] for _, y in fallen]
    limits = [-way * x - KEPT_BACK / 2 for x, _ in kept] + [way * x - KEPT_BACK / 2 for x, _ in fallen]
    solved = [
        linprog([sign, 0], A_ub=rows, b_ub=limits, bounds=[(-20, 20), (None, None)], method="highs")
        for sign in (1, -1)
    ]
    if not all(each.success for each in solved):
        return None
    return float(solved[0].x[0]), float(solved[1].x[0])


def settings(cutting: dict[str, Any]) -> Points:
    """What the saw can be set to, to the right positive: up to 50° to either side."""
    step, clicks = cutting["saw_step"], cutting["detents"]
    scale = [round(n * step, 6) for n in range(-round(50 / step), round(50 / step) + 1)]
    return np.array(sorted({*scale, *clicks, *(-click for click in clicks)}))


def used_and_held(job: dict[str, Any], plan: dict[str, Any]) -> tuple[set[float], list[Held]]:
    """The turns of the saw, and what is known of each cut.

    A cut that the programme does not know enough of (it ends in a notch, or nothing bounds it) has its own.
    """
    stays, may_stay, scale = lay_area(job, share=1.0), lay_area(job, share=-1.0), settings(job["cutting"])
    pieces = {piece["id"]: piece for piece in plan["pieces"]}
    joined = {
        group["pieces"][0]: [pieces[name] for name in group["pieces"][1:]]
        for group in (plan["glue_ups"] if job["cutting"].get("glue_first") else ())
    }
    used: set[float] = set()
    held: list[Held] = []
    for piece in plan["pieces"]:
        steps = [step for step in piece["steps"] if step["work"] == "turn"]
        turns = [step["angle"] * (-1.0 if step["turned"] == "left" else 1.0) for step in steps]
        used |= {round(turn, 3) for turn in turns}
        if len(piece["cuts"]) != len(turns):
            held += [Held(round(turn, 3), round(turn, 3), True) for turn in turns]
            continue
        board = Board(job, piece, joined.get(piece["id"], []), stays, may_stay) if turns else None
        for turn, cut in zip(turns, piece["cuts"], strict=True):
            assert board is not None
            others = [board.off(other) for other in piece["cuts"] if other is not cut]
            fallen = board.corners(parts(shapely.intersection_all([board.fallen, *others])))
            held += _held(board.corners(board.kept), fallen, cut, turn, scale)
    return used, held


def _held(kept: Points, fallen: Points, cut: dict[str, Any], turn: float, scale: Points) -> Iterator[Held]:
    if not len(kept) or not len(fallen):
        return
    keeps_start = cut["points"][1][1] > cut["points"][0][1]
    found = slopes(kept, fallen, keeps_start)
    # Face up and its start end kept, a piece whose right long edge stays longer has the saw to the right.
    ends = sorted(-degrees(atan(slope)) for slope in found) if found else []
    within = [each for each in scale if found and ends[0] <= each <= ends[1]]
    ends = [within[0], within[-1]] if within else [round(turn, 3)] * 2
    yield Held(ends[0], ends[1], keeps_start)


@pytest.mark.parametrize("job", JOBS)
def test_walls_of_many_tolerances_take_the_fewest_settings_that_hold_every_band(job: dict[str, Any]) -> None:
    plan = json.loads(handle(json.dumps({"ask": "plan", "job": job})))["plan"]
    used, held = used_and_held(job, plan)
    assert sum(each.first < each.last for each in held) > 20
    assert len(used) <= len(witnesses([(each.first, each.last) for each in held]))
    numbers = {setting["angle"] for setting in plan["saw_settings"]}
    assert len(numbers) <= len(witnesses([each.as_the_piece_has_it for each in held]))


def test_a_programme_of_three_points_knows_the_slopes_of_its_lines() -> None:
    """By hand: between (0, 0) with (0, 90) and (10, 45) a line leans by 10/45 at most to either side."""
    kept, fallen = np.array([(0.0, 0.0), (0.0, 90.0)]), np.array([(10.0, 45.0)])
    found = slopes(kept, fallen, keeps_start=True)
    assert found == pytest.approx((-10 / 45, 10 / 45), abs=0.001)

"""A second, independent way from a job document to its lay area and its boards.

Written on shapely (Shapely contributors, BSD) and scipy (`CubicSpline`) alone; it
shares no code with the engine and is slow on purpose.
"""

from collections.abc import Iterator
from typing import Any

import numpy as np
from scipy.interpolate import CubicSpline
from scipy.optimize import minimize_scalar
from shapely import affinity
from shapely.geometry import LineString, Point, Polygon, box
from shapely.ops import unary_union

STEP = 4.0


def wall_points(start: np.ndarray, end: np.ndarray, wall: dict[str, Any]) -> np.ndarray:
    """The wall as a dense polyline from corner to corner."""
    chord = float(np.hypot(*(end - start)))
    pairs = sorted(wall.get("offsets", []))
    stations = np.array([0.0, *(s for s, _ in pairs), chord])
    offsets = np.array([0.0, *(o for _, o in pairs), 0.0])
    dense = np.union1d(np.linspace(0, chord, int(chord / STEP) + 2), stations)
    curve = wall.get("curve", "smooth")
    if not pairs or curve == "straight":
        across = np.interp(dense, stations, offsets)
    elif curve == "arc":
        across = _arc(dense, chord, stations[1:-1], offsets[1:-1])
    else:
        across = CubicSpline(stations, offsets, bc_type="not-a-knot")(dense)
    along = (end - start) / chord
    normal = np.array([-along[1], along[0]])
    return start + dense[:, None] * along + across[:, None] * normal


def _arc(dense: np.ndarray, chord: float, stations: np.ndarray, offsets: np.ndarray) -> np.ndarray:
    def across(bow: float, s: np.ndarray) -> np.ndarray:
        if abs(bow) < 1e-9:
            return np.zeros_like(s)
        radius = chord**2 / (8 * bow) + bow / 2
        return np.sign(bow) * np.sqrt(radius**2 - (s - chord / 2) ** 2) - (radius - bow)

    bound = max(1.0, 3 * float(np.max(np.abs(offsets))))
    best = minimize_scalar(
        lambda bow: float(np.sum((across(bow, stations) - offsets) ** 2)),
        bounds=(-bound, bound),
        method="bounded",
        options={"xatol": 1e-10},
    )
    return across(float(best.x), dense)


def walls_of(job: dict[str, Any]) -> list[tuple[dict[str, Any], LineString]]:
    """Each wall with its line, in the order of the corners."""
    corners = {name: np.array(at, float) for name, at in job["room"]["corners"].items()}
    records = {(wall["from"], wall["to"]): wall for wall in job["room"]["walls"]}
    names = list(corners)
    return [
        (records[a, b], LineString(wall_points(corners[a], corners[b], records[a, b])))
        for a, b in zip(names, names[1:] + names[:1], strict=True)
    ]


def fixed_of(job: dict[str, Any]) -> list[tuple[dict[str, Any], Polygon]]:
    """Each fixed thing with its shape."""
    return [
        (
            thing,
            Polygon(thing["outline"])
            if "outline" in thing
            else Point(thing["centre"]).buffer(thing["diameter"] / 2, quad_segs=128),
        )
        for thing in job["room"].get("fixed", [])
    ]


def lay_area(job: dict[str, Any], widen: float = 0.0, share: float = 0.0) -> Any:
    """Every point at least gap + ``widen`` + a share of its own tolerance from each wall and fixed thing.

    Walls are widened segment by segment: widening a whole line at once would first simplify it.
    """
    lines = walls_of(job)
    room = Polygon(np.vstack([np.array(line.coords)[:-1] for _, line in lines]))
    taken = []

    def width(record: dict[str, Any]) -> float:
        band = float(record.get("tolerance", job.get("cutting", {}).get("gap_tolerance", 2)))
        return max(0.0, float(record.get("gap", 10)) + widen + share * band)

    for wall, line in lines:
        points = list(line.coords)
        taken += [
            LineString(pair).buffer(width(wall), quad_segs=32)
            for pair in zip(points, points[1:], strict=False)
        ]
    for thing, shape in fixed_of(job):
        taken.append(shape)
        ring = list(shape.exterior.coords)
        taken += [
            LineString(pair).buffer(width(thing), quad_segs=32) for pair in zip(ring, ring[1:], strict=False)
        ]
    return room.difference(unary_union(taken))


Cell = tuple[list[tuple[str, Polygon]], tuple[float, float], tuple[float, float], float]


def herringbone_cell(length: float, width: float, n: int) -> Cell:
    """A_k = [0, L] × [kW, (k+1)W], B_k = [L+kW, L+(k+1)W] × [b−L, b]; (b, b) and (L, −L); at 45°."""
    b = n * width
    right = [("R", box(0, k * width, length, (k + 1) * width)) for k in range(n)]
    left = [("L", box(length + k * width, b - length, length + (k + 1) * width, b)) for k in range(n)]
    return [*right, *left], (b, b), (length, -length), -45


def chevron_cell(length: float, width: float, beta: float) -> Cell:
    """With C = L·cosβ, P = W/cosβ, h = L·sinβ: one parallelogram and its mirror image; (0, P) and (2C, 0)."""
    c, p, h = length * np.cos(beta), width / np.cos(beta), length * np.sin(beta)
    right = Polygon([(0, 0), (c, h), (c, h + p), (0, p)])
    left = Polygon([(c, h), (2 * c, 0), (2 * c, p), (c, h + p)])
    return [("R", right), ("L", left)], (0, p), (2 * c, 0), -90


def basket_cell(length: float, width: float) -> Cell:
    """A square of boards along the row and one across it; (2L, 0) and (L, −L), as a chessboard."""
    strips = range(round(length / width))
    along = [("R", box(0, k * width, length, (k + 1) * width)) for k in strips]
    across = [("R", box(length + k * width, 0, length + (k + 1) * width, length)) for k in strips]
    return [*along, *across], (2 * length, 0), (length, -length), 0


def cell_of(floor: dict[str, Any]) -> Cell:
    """Boards of one cell with their hands, the two translations, and how far all is turned from the axis."""
    length, width = floor["board"]["length"], floor["board"]["width"]
    match floor["pattern"]:
        case "herringbone":
            return herringbone_cell(length, width, floor.get("strips", 1))
        case "double herringbone":
            return herringbone_cell(length, width, floor.get("strips", 2))
        case "chevron":
            return chevron_cell(length, width, np.radians(floor.get("angle", 45)))
        case "straight" | "diagonal" as name:
            turn = 45 if name == "diagonal" else 0
            return [("R", box(0, 0, length, width))], (length, 0), (floor["stagger"]["by"], -width), turn
        case "basket":
            return basket_cell(length, width)
    raise ValueError(floor["pattern"])


def boards(job: dict[str, Any], area: Any) -> Iterator[tuple[str, Polygon]]:
    """Every board of the pattern that meets the area, by METHODS' table of patterns as lattices."""
    floor = job["floor"]
    cell, first, second, turn = cell_of(floor)
    anchor = np.array(floor["anchor"], float)
    reach = max(shape.hausdorff_distance(Point(0, 0)) for _, shape in cell)
    far = max(np.hypot(*(np.array(c) - anchor)) for c in area.envelope.exterior.coords) + reach
    across = abs(first[0] * second[1] - first[1] * second[0])
    most = [int(far * np.hypot(*other) / across) + 2 for other in (second, first)]
    for i in range(-most[0], most[0] + 1):
        for j in range(-most[1], most[1] + 1):
            dx, dy = i * first[0] + j * second[0], i * first[1] + j * second[1]
            for hand, shape in cell if np.hypot(dx, dy) <= far else ():
                moved = affinity.translate(shape, dx, dy)
                turned = affinity.rotate(moved, floor.get("axis", 90) + turn, origin=(0, 0))
                placed = affinity.translate(turned, *anchor)
                if placed.intersects(area):
                    yield hand, placed

"""A second, independent way to the best place of a pattern: try many places and clip every board there.

Written on shapely (Shapely contributors, BSD) and numpy alone. Only the lay area's own rings come from
the engine (`test_floor_against_shapely.py` holds those); boards, what lies along which wall and
how large it is are worked out anew. Slow on purpose.
"""

from collections.abc import Sequence
from dataclasses import dataclass
from typing import Any

import numpy as np
import shapely
from shapely import affinity
from shapely.geometry import MultiLineString, Polygon

from engine.geometry.shapes import Region
from tests.reference.independent_floor import cell_of, walls_of

# A piece lies along a wall if its ideal comes this near to the wall's gap line, mm.
TOUCH = 0.01
# What is thinner is where two shapes touch, mm: the overlay's grid is a thousandth of it. A tip of a board is
# a piece though it measures 0.02 mm.
THINNEST = 1e-3


@dataclass(frozen=True)
class Pieces:
    """Sizes of the pieces along one wall, a row a piece: long point, short side (mm), area (mm²)."""

    wall: str
    weight: float
    sizes: np.ndarray

    def smallest(self, measure: str) -> float:
        column = ("long_point", "short_side", "area").index(measure)
        return float(self.sizes[:, column].min()) / self.weight if len(self.sizes) else np.inf


class Places:
    """All places of a job's pattern: the anchor moved by parts of the two translations of its lattice."""

    def __init__(self, job: dict[str, Any], lay_area: Region, axis: float | None = None) -> None:
        self.job = job
        self.area = shapely.multipolygons([Polygon(outer, holes) for outer, *holes in lay_area])
        self.lines = dict(_gap_lines(job, self.area))
        self.weights = {
            self._name(edge["from"], edge["to"]): edge.get("weight", 1.0)
            for edge in job["setting_out"]["edges"]
        }
        self.measure = job["setting_out"].get("measure", "area")
        cell, first, second, turn = cell_of(job["floor"])
        angle = (job["floor"].get("axis", 90) if axis is None else axis) + turn
        turned = [affinity.rotate(shape, angle, origin=(0, 0)) for _, shape in cell]
        self.boards = [np.array(shape.exterior.coords)[:4] for shape in turned]
        self.size = sorted((job["floor"]["board"]["length"], job["floor"]["board"]["width"]))
        self.first, self.second = (_rotated(way, angle) for way in (first, second))
        self.line = shapely.union_all([self.lines[name] for name in self.weights])
        self.index = shapely.STRtree(shapely.get_parts(self.line))
        self.near = self._translations()
        diagonal = max(np.hypot(*(board - board[0]).T).max() for board in self.boards)
        # Every board that comes to the line lies wholly inside this, so nothing is lost by clipping with it.
        self.beside = shapely.intersection(self.area, shapely.buffer(self.line, diagonal + 1))

    def _name(self, one: str, other: str) -> str:
        return next(name for name in (f"{one}–{other}", f"{other}–{one}") if name in self.lines)

    def _translations(self) -> np.ndarray:
        """Whole translations of the lattice that may bring a board to an edge that matters, for any place."""
        reach = max(np.hypot(*board.T).max() for board in self.boards) + sum(
            np.hypot(*way) for way in (self.first, self.second)
        )
        line = self.line
        anchor = np.array(self.job["floor"]["anchor"], float)
        far = max(np.hypot(*(np.array(p) - anchor)) for p in line.envelope.exterior.coords) + reach
        across = abs(self.first[0] * self.second[1] - self.first[1] * self.second[0])
        most = [int(far * np.hypot(*other) / across) + 2 for other in (self.second, self.first)]
        i, j = np.meshgrid(*(np.arange(-n, n + 1) for n in most))
        at = anchor + i.reshape(-1, 1) * self.first + j.reshape(-1, 1) * self.second
        return at[shapely.dwithin(shapely.points(at), line, reach)]

    def anchor(self, along: float, across: float) -> np.ndarray:
        """Where the anchor comes to lie at a place."""
        return np.array(self.job["floor"]["anchor"], float) + along * self.first + across * self.second

    def at_anchor(self, anchor: Sequence[float]) -> list[Pieces]:
        """The pieces along the edges that matter with the anchor at a point of the room."""
        way = np.array(anchor, float) - np.array(self.job["floor"]["anchor"], float)
        return self.pieces(*np.linalg.solve(np.column_stack([self.first, self.second]), way) % 1.0)

    def value(self, along: float, across: float) -> float:
        """The smallest piece by the job's measure over its weight."""
        return min(pieces.smallest(self.measure) for pieces in self.pieces(along, across))

    def value_at(self, anchor: Sequence[float]) -> float:
        return min(pieces.smallest(self.measure) for pieces in self.at_anchor(anchor))

    def pieces(self, along: float, across: float) -> list[Pieces]:
        moved = self.near + along * self.first + across * self.second
        rings = np.concatenate([board + moved[:, None, :] for board in self.boards])
        shapes = shapely.polygons(rings)
        near = np.unique(self.index.query(shapes, predicate="dwithin", distance=TOUCH)[0])
        rings, shapes = rings[near], shapes[near]
        parts = shapely.intersection(shapes, self.beside, grid_size=1e-6)
        parts, owners = shapely.get_parts(parts, return_index=True)
        solid = shapely.area(parts) > THINNEST * shapely.length(parts) / 2
        parts, owners = parts[solid], owners[solid]
        sizes = self._sizes(parts, rings[owners], np.bincount(owners, minlength=len(rings))[owners] > 1)
        return [
            Pieces(name, weight, sizes[shapely.dwithin(parts, self.lines[name], TOUCH)])
            for name, weight in self.weights.items()
        ]

    def _sizes(self, parts: np.ndarray, rings: np.ndarray, is_one_of_several: np.ndarray) -> np.ndarray:
        """Long edges are what stays of the board's own long edges, not what the part's ring says."""
        if not len(parts):
            return np.zeros((0, 3))
        sides = np.linalg.norm(rings - np.roll(rings, -1, axis=1), axis=2)
        length = self.job["floor"]["board"]["length"]
        # A board's first side is a long one, or its second: whichever has the board's length.
        first = np.abs(sides[:, 0] - length) <= np.abs(sides[:, 1] - length)
        kept = []
        for place in (0, 2):
            start = np.where(first, place, (place + 1) % 4)
            rows = np.arange(len(rings))
            edges = shapely.linestrings(np.stack([rings[rows, start], rings[rows, (start + 1) % 4]], axis=1))
            left = shapely.intersection(edges, self.beside)
            several = np.flatnonzero(is_one_of_several)
            left[several] = shapely.intersection(left[several], shapely.buffer(parts[several], 1e-3))
            kept.append(shapely.length(left))
        return np.column_stack([np.maximum(*kept), np.minimum(*kept), shapely.area(parts)])


def _rotated(way: tuple[float, float], angle: float) -> np.ndarray:
    cosine, sine = np.cos(np.radians(angle)), np.sin(np.radians(angle))
    return np.array([cosine * way[0] - sine * way[1], sine * way[0] + cosine * way[1]])


def _gap_lines(job: dict[str, Any], area: Any) -> list[tuple[str, Any]]:
    """What of the lay area's rim keeps the gap to each wall: nearer to having it than to any other's."""
    walls = walls_of(job)
    rings = [
        np.array(ring.coords) for polygon in area.geoms for ring in (polygon.exterior, *polygon.interiors)
    ]
    pairs = np.concatenate([np.stack([ring[:-1], ring[1:]], axis=1) for ring in rings])
    middles = shapely.points(pairs.mean(axis=1))
    off = np.stack([shapely.distance(middles, line) - wall.get("gap", 10) for wall, line in walls])
    # About an inner corner between equal gaps the rim keeps the gap of both walls.
    owner = (off.min(axis=0) < 0.5) & (off <= off.min(axis=0) + TOUCH)
    return [
        (f"{wall['from']}–{wall['to']}", MultiLineString(list(pairs[owner[number]])))
        for number, (wall, _) in enumerate(walls)
        if owner[number].any()
    ]

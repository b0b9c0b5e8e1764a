"""Seeded crooked rooms that are hard to strike lines in: L-shaped, turned anyhow, with one or two islands."""

from math import cos, dist, radians, sin
from random import Random
from typing import Any

import shapely

from engine.patterns import pattern_names

# An island keeps so far from the walls, so that it hides corners from both sides, mm.
OFF_WALLS = 250.0
Point = tuple[float, float]


def ell_room(seed: int) -> dict[str, Any]:
    """A whole job document, the same for the same seed."""
    chance = Random(f"L {seed}")
    turn = chance.choice([0.0, 90.0, 180.0, 270.0, chance.uniform(0, 360)])
    points = [turned(point, turn) for point in _corners(chance)]
    corners = {name: [round(x, 1), round(y, 1)] for name, (x, y) in zip("ABCDEF", points, strict=True)}
    pairs = [(a, b) for a, b in zip("ABCDEF", "BCDEFA", strict=True)]
    room = shapely.Polygon([tuple(corner) for corner in corners.values()])
    low_x, low_y, high_x, high_y = room.bounds
    return {
        "format": "out-of-true job",
        "version": 1,
        "name": f"L-shaped room {seed}",
        "room": {
            "corners": corners,
            "walls": [_wall(chance, a, b, dist(corners[a], corners[b])) for a, b in pairs],
            "fixed": list(_islands(chance, room)),
        },
        "floor": {
            **_floor(chance),
            "axis": round(turn + chance.choice([0, 90, 90, chance.uniform(0, 180)]), 1) % 360 - 180,
            "anchor": [round(chance.uniform(low_x, high_x), 1), round(chance.uniform(low_y, high_y), 1)],
        },
    }


def turned(point: Point, angle: float) -> Point:
    """A point turned about the origin, degrees counter-clockwise."""
    (x, y), c, s = point, cos(radians(angle)), sin(radians(angle))
    return x * c - y * s, x * s + y * c


def _corners(chance: Random) -> list[Point]:
    width, depth = chance.uniform(3200, 6500), chance.uniform(3000, 6000)
    x, y = chance.uniform(0.35, 0.65) * width, chance.uniform(0.35, 0.65) * depth
    points = [(0.0, 0.0), (width, 0.0), (width, y), (x, y), (x, depth), (0.0, depth)]
    return [(a + chance.uniform(-60, 60), b + chance.uniform(-60, 60)) for a, b in points]


def _wall(chance: Random, start: str, end: str, length: float) -> dict[str, Any]:
    bow = chance.uniform(-18, 18)
    stations = [part / 4 for part in range(1, 4)]
    return {
        "from": start,
        "to": end,
        "gap": chance.choice([3, 8, 10, 12.5]),
        "curve": chance.choice(["smooth", "straight", "arc"]),
        "face": chance.choice(["wall", "wall", "wall", "threshold", "glazing"]),
        "offsets": [
            [round(length * part, 1), round(bow * 4 * part * (1 - part) + chance.uniform(-1, 1), 1)]
            for part in stations
        ],
    }


def _islands(chance: Random, room: shapely.Polygon) -> Any:
    """As many as find room in a few tries; the first always does."""
    free, wanted = room.buffer(-OFF_WALLS), chance.choice([1, 1, 2])
    low_x, low_y, high_x, high_y = room.bounds
    found = 0
    for _ in range(2000):
        if found == wanted:
            return
        x, y = chance.uniform(low_x, high_x), chance.uniform(low_y, high_y)
        size, angle = (chance.uniform(350, 900), chance.uniform(300, 600)), chance.uniform(0, 90)
        ring = [turned(corner, angle) for corner in ((0.0, 0.0), (size[0], 0.0), size, (0.0, size[1]))]
        island = shapely.Polygon([(x + a, y + b) for a, b in ring])
        if free.covers(island):
            free, found = free.difference(island.buffer(OFF_WALLS)), found + 1
            outline = [[round(x + a, 1), round(y + b, 1)] for a, b in ring]
            yield {"name": f"island {found}", "outline": outline, "gap": 8}


def _floor(chance: Random) -> dict[str, Any]:
    """Large boards: what is struck does not hang on how many there are."""
    length, name = round(chance.uniform(600, 1100), 1), chance.choice(pattern_names())
    width = length / 4 if name == "basket" else round(length * chance.uniform(0.2, 0.3), 1)
    floor: dict[str, Any] = {"pattern": name, "board": {"length": length, "width": width}}
    if name in ("straight", "diagonal"):
        floor["stagger"] = {"by": round(length * 0.5, 1)}
    return floor

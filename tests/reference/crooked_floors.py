"""Seeded crooked rooms with wishes for their edges: bows, skewed corners, chimney breasts, islands, pipes."""

from math import dist
from random import Random
from typing import Any

PATTERNS = ("herringbone", "herringbone", "double herringbone", "chevron", "straight", "diagonal", "basket")


def crooked_floor(seed: int) -> dict[str, Any]:
    """A whole job document, the same for the same seed."""
    chance = Random(seed)
    width, depth = chance.uniform(2200, 4800), chance.uniform(2000, 4200)
    corners = _corners(chance, width, depth)
    names = "".join(corners)
    pairs = list(zip(names, names[1:] + names[0], strict=True))
    walls = [_wall(chance, a, b, dist(corners[a], corners[b])) for a, b in pairs]
    fixed = _fixed(chance, width, depth)
    floor = {**_floor(chance), "anchor": [round(width / 2, 1), round(depth / 2, 1)]}
    chance.shuffle(pairs)
    edges = [
        {"from": a, "to": b, "weight": chance.choice([1, 1, 1, 2, 0.5])}
        for a, b in pairs[: chance.choice([1, 2, 2, 3])]
    ]
    return {
        "format": "out-of-true job",
        "version": 1,
        "name": "Crooked room",
        "room": {"corners": corners, "walls": walls, "fixed": fixed},
        "floor": floor,
        "setting_out": {
            "edges": edges,
            "measure": chance.choice(["area", "area", "long_point", "long_point", "short_side"]),
        },
    }


def _corners(chance: Random, width: float, depth: float) -> dict[str, list[float]]:
    def near(x: float, y: float) -> list[float]:
        return [round(x + chance.uniform(-40, 40), 1), round(y + chance.uniform(-40, 40), 1)]

    shape = chance.choice(["four", "four", "breast", "ell"])
    points = [near(0, 0), near(width, 0), near(width, depth)]
    if shape == "ell":
        x, y = chance.uniform(600, 1200), depth - chance.uniform(500, 1000)
        points += [near(x, depth), near(x, y), near(0, y)]
    elif shape == "breast":
        x, wide = chance.uniform(600, width / 3), chance.uniform(700, 1200)
        y = depth - chance.uniform(250, 450)
        points += [near(x + wide, depth), near(x + wide, y), near(x, y), near(x, depth), near(0, depth)]
    else:
        points.append(near(0, depth))
    return dict(zip("ABCDEFGH", points, strict=False))


def _wall(chance: Random, start: str, end: str, length: float) -> dict[str, Any]:
    count, bow = chance.choice([0, 1, 3]), chance.uniform(-12, 12)
    parts = [(place + 1) / (count + 1) for place in range(count)]
    return {
        "from": start,
        "to": end,
        "gap": chance.choice([3, 8, 10, 12.5]),
        "curve": chance.choice(["smooth", "straight", "arc"]),
        "offsets": [
            [round(length * part, 1), round(bow * 4 * part * (1 - part) + chance.uniform(-1.5, 1.5), 2)]
            for part in parts
        ],
    }


def _fixed(chance: Random, width: float, depth: float) -> list[dict[str, Any]]:
    things: list[dict[str, Any]] = []
    if chance.random() < 0.4:
        x, y = chance.uniform(30, width / 2), chance.uniform(30, depth / 3)
        outline = [[x, y], [x + 500, y + 12], [x + 490, y + 300], [x - 6, y + 290]]
        things.append({"name": "island", "outline": outline, "gap": 8})
    if chance.random() < 0.4:
        centre = [round(chance.uniform(width * 0.6, width - 150), 1), round(chance.uniform(40, 160), 1)]
        things.append({"name": "pipe", "centre": centre, "diameter": chance.choice([15, 22, 110]), "gap": 6})
    return things


def _floor(chance: Random) -> dict[str, Any]:
    length, name = round(chance.uniform(300, 700), 1), chance.choice(PATTERNS)
    width = (
        length / chance.randint(3, 6) if name == "basket" else round(length * chance.uniform(0.12, 0.3), 1)
    )
    floor: dict[str, Any] = {
        "pattern": name,
        "board": {"length": length, "width": width},
        "axis": chance.choice([0.0, 90.0, 90.0, 90.0, round(chance.uniform(0, 180), 1)]),
    }
    if name == "chevron":
        floor["angle"] = chance.choice([30.0, 45.0, 52.0])
    if name in ("straight", "diagonal"):
        floor["stagger"] = {"by": round(length * chance.choice([0.3, 0.37, 0.5]), 1)}
    return floor

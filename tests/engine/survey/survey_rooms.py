"""Invented crooked rooms with known walls, and what a gauge with noise would read in them."""

from collections.abc import Callable
from dataclasses import dataclass
from math import cos, dist, exp, pi, sin
from random import Random

from engine.geometry.shapes import Point
from engine.model.job import Room, Tie, Wall

Shape = Callable[[float], float]


@dataclass(frozen=True, kw_only=True)
class TrueRoom:
    """Corners and walls as they really are. A shape gives the offset at a station, 0 at both corners."""

    corners: dict[str, Point]
    shapes: dict[str, Shape]

    def chord(self, name: str) -> float:
        return dist(self.corners[name[0]], self.corners[name[1]])


def true_room(random: Random) -> TrueRoom:
    """Four to seven corners round an oval; walls with a bow, a long wave and up to two bumps."""
    count = random.randint(4, 7)
    turns = [2 * pi * (k + random.uniform(-0.2, 0.2)) / count for k in range(count)]
    wide, deep = random.uniform(1800, 3500), random.uniform(1800, 3500)
    corners = {chr(65 + k): (wide * cos(t), deep * sin(t)) for k, t in enumerate(turns)}
    names = "".join(corners) + "A"
    walls = [names[i : i + 2] for i in range(count)]
    return TrueRoom(
        corners=corners,
        shapes={name: _shape(random, dist(corners[name[0]], corners[name[1]])) for name in walls},
    )


def _shape(random: Random, chord: float) -> Shape:
    bow, wave = random.gauss(0, 8), random.uniform(0, 2)
    length, phase = random.uniform(1200, 2500), random.uniform(0, 2 * pi)
    bumps = [
        (random.uniform(-6, 6), random.uniform(0.15, 0.85) * chord, random.uniform(150, 400))
        for _ in range(random.choice((0, 1, 1, 2)))
    ]

    def raw(station: float) -> float:
        bowed = 4 * bow * station / chord * (1 - station / chord)
        waved = wave * sin(2 * pi * station / length + phase)
        return bowed + waved + sum(a * exp(-(((station - m) / w) ** 2) / 2) for a, m, w in bumps)

    first, last = raw(0), raw(chord)
    return lambda station: raw(station) - first - (last - first) * station / chord


def read_walls(true: TrueRoom, random: Random, spacing: float, sd: float) -> tuple[Wall, ...]:
    """Every wall read about every ``spacing`` mm with gauge noise."""
    return tuple(_read_wall(name, true, random, spacing, sd) for name in true.shapes)


def _read_wall(name: str, true: TrueRoom, random: Random, spacing: float, sd: float) -> Wall:
    chord = true.chord(name)
    parts = max(2, round(chord / spacing))
    stations = [chord * k / parts for k in range(1, parts)]
    offsets = tuple((s, true.shapes[name](s) + random.gauss(0, sd)) for s in stations)
    return Wall(from_=name[0], to=name[1], offsets=offsets, offset_sd=sd)


def read_lengths(true: TrueRoom, random: Random, sd: float, **blunders: float) -> Room:
    """All wall lengths and all ties with noise; ``blunders`` are added to lines by their names."""
    names = "".join(true.corners)

    def length(name: str) -> float:
        return true.chord(name) + random.gauss(0, sd) + blunders.get(name, 0.0)

    pairs = [a + b for i, a in enumerate(names) for b in names[i + 1 :]]
    ties = [pair for pair in pairs if pair not in true.shapes and pair[::-1] not in true.shapes]
    return Room(
        walls=tuple(Wall(from_=name[0], to=name[1], length=length(name), sd=sd) for name in true.shapes),
        ties=tuple(Tie(from_=name[0], to=name[1], length=length(name), sd=sd) for name in ties),
    )

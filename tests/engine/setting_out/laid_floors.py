"""Invented floors laid out of plan, without the engine: numpy for boards, shapely for distances."""

from collections.abc import Sequence
from dataclasses import dataclass
from random import Random

import numpy as np
from shapely import LineString, Point, contains_xy, prepare

from engine.setting_out.laid_equations import LaidDistance

Place = tuple[float, float]
LENGTH, WIDTH = 600.0, 90.0
GAUGE = 0.7


@dataclass
class Planted:
    """What was done to a floor: mm about its anchor, degrees, mm for each mm."""

    anchor: Place
    axis: float
    ahead: float
    left: float
    turn: float
    along: float
    across: float
    changed: float = 0.0
    """How much more it gains along the axis beyond ``changed_at`` mm from the anchor, mm for each mm."""
    changed_at: float = 0.0

    def laid(self, point: complex) -> complex:
        """Where the middle of a board lies that was planned at ``point``."""
        anchor = complex(*self.anchor)
        own = (point - anchor) * np.exp(-1j * np.radians(self.axis))
        more = self.changed * max(own.real - self.changed_at, 0.0)
        drawn = complex(own.real * (1 + self.along) + more, own.imag * (1 + self.across))
        turned = drawn * np.exp(1j * np.radians(self.turn)) + complex(self.ahead, self.left)
        return complex(anchor + turned * np.exp(1j * np.radians(self.axis)))


def planted(random: Random) -> Planted:
    return Planted(
        anchor=(random.uniform(900, 2600), random.uniform(900, 2200)),
        axis=random.choice([0.0, 90.0, random.uniform(-180, 180)]),
        ahead=random.uniform(-12, 12),
        left=random.uniform(-12, 12),
        turn=random.uniform(-0.25, 0.25),
        along=random.uniform(-0.0012, 0.0012),
        across=random.uniform(-0.0012, 0.0012),
    )


def crooked_walls(random: Random) -> list[tuple[Place, ...]]:
    """Four walls out of square, each bowed as a parabola."""
    width, depth = random.uniform(3000, 5200), random.uniform(2600, 4200)
    corners = [
        np.array([x + random.uniform(-30, 30), y + random.uniform(-30, 30)])
        for x, y in ((0, 0), (width, 0), (width, depth), (0, depth))
    ]
    return [
        _bowed(start, end, random.uniform(-15, 15))
        for start, end in zip(corners, corners[1:] + corners[:1], strict=True)
    ]


def _bowed(start: np.ndarray, end: np.ndarray, bow: float) -> tuple[Place, ...]:
    ahead = (end - start) / np.linalg.norm(end - start)
    inwards = np.array([-ahead[1], ahead[0]])
    shares = np.linspace(0, 1, 13)
    points = (start + s * (end - start) + 4 * bow * s * (1 - s) * inwards for s in shares)
    return tuple((float(x), float(y)) for x, y in points)


def herringbone_boards(floor: Planted) -> list[tuple[complex, list[complex]]]:
    """Middle and corners of the boards near the anchor as planned, from the lattice written out by hand."""
    turn = np.exp(1j * np.radians(floor.axis - 45))
    boards = []
    for row in range(-3, 4):
        for place in range(-14, 15):
            at = complex(row * LENGTH + place * WIDTH, -row * LENGTH + place * WIDTH)
            for low, high in ((0, complex(LENGTH, WIDTH)), (-WIDTH, complex(0, LENGTH))):
                low = complex(low)
                box = [low, complex(high.real, low.imag), high, complex(low.real, high.imag)]
                corners = [complex(*floor.anchor) + (at + corner) * turn for corner in box]
                boards.append((sum(corners) / 4, corners))
    return boards


def read_floor(
    floor: Planted, walls: Sequence[tuple[Place, ...]], random: Random, count: int
) -> list[LaidDistance]:
    """Distances from corners of laid boards to walls and struck lines, each with a gauge's own error."""
    room = LineString([point for wall in walls for point in wall])
    inside = room.envelope.buffer(-150)
    prepare(inside)
    boards = [
        (middle, corners)
        for middle, corners in herringbone_boards(floor)
        if contains_xy(inside, np.real(corners), np.imag(corners)).all()
    ]
    axis = np.exp(1j * np.radians(floor.axis))
    lines = [(complex(*floor.anchor), complex(*floor.anchor) + 1000 * way) for way in (axis, 1j * axis)]
    readings: list[LaidDistance] = []
    while len(readings) < count:
        middle, corners = random.choice(boards)
        corner = random.choice(corners)
        place = floor.laid(middle) + (corner - middle) * np.exp(1j * np.radians(floor.turn))
        which = random.randrange(6)
        if which < 4:
            wall = walls[which]
            line = LineString(wall)
            distance = line.distance(Point(place.real, place.imag))
            if not 0 < line.project(Point(place.real, place.imag)) < line.length:
                continue
        else:
            start, end = lines[which - 4]
            wall = ((start.real, start.imag), (end.real, end.imag))
            distance = abs(((place - start) * (end - start).conjugate()).imag) / abs(end - start)
            if distance < 60:
                continue
        sd = random.choice([GAUGE, 2 * GAUGE])
        readings.append(
            LaidDistance(
                id=f"d{len(readings)}",
                corner=(corner.real, corner.imag),
                middle=(middle.real, middle.imag),
                line=wall,
                endless=which >= 4,
                distance=distance + random.gauss(0, sd),
                sd=sd,
            )
        )
    return readings


def read_rows(floor: Planted, random: Random, rows: Sequence[float]) -> list[LaidDistance]:
    """Two boards in each row, so far along the axis, read to the line square to it and to the axis itself."""
    axis, anchor = np.exp(1j * np.radians(floor.axis)), complex(*floor.anchor)
    readings: list[LaidDistance] = []
    for row in rows:
        for aside in (-900.0 + random.uniform(-50, 50), 900.0 + random.uniform(-50, 50)):
            middle = anchor + complex(row, aside) * axis
            laid = floor.laid(middle)
            for way in (axis, 1j * axis):
                normal = 1j * way
                # From a line two metres off the anchor, so that every board is on one side of it.
                start = anchor - 2000 * normal if way == axis else anchor + 8000 * normal
                readings.append(
                    LaidDistance(
                        id=f"d{len(readings)}",
                        corner=(middle.real, middle.imag),
                        middle=(middle.real, middle.imag),
                        line=((start.real, start.imag), ((start + way).real, (start + way).imag)),
                        endless=True,
                        distance=abs(((laid - start) / normal).real) + random.gauss(0, GAUGE),
                        sd=GAUGE,
                    )
                )
    return readings

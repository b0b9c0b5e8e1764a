"""Why this file exists: what a page draws of a moved pattern, as shapes to be held against a whole plan."""

import re

import shapely
from shapely.affinity import translate

from engine.model.job import Job
from engine.planning.floor_plan import plan_room
from engine.planning.pieces import nominal_pieces

# Paths and moves are written to a hundredth of a millimetre: an edge may lie off by the half of both.
OFF = 0.015


def shown_parts(boards: str, by: str) -> list[shapely.Polygon]:
    """The boards of a path moved by a transform, in the room: y upwards, mm."""
    x, y = map(float, re.fullmatch(r"translate\((\S+) (\S+)\)", by).groups())  # type: ignore[union-attr]
    rings = [
        [(float(x), -float(y)) for x, y in re.findall(r"(-?[\d.]+) (-?[\d.]+)", ring)]
        for ring in boards.split("Z")[:-1]
    ]
    return [translate(shapely.Polygon(ring), x, -y) for ring in rings]


def assert_drawn_as_planned(boards: str, by: str, job: Job) -> None:
    """Clipped by the lay area, what is shown is the floor of a whole new plan, piece by piece."""
    lay_area = plan_room(job).lay_area
    floor = shapely.union_all([shapely.Polygon(outer, holes) for outer, *holes in lay_area])
    shown = [part.intersection(floor) for part in shown_parts(boards, by) if part.intersects(floor)]
    planned = [
        shapely.Polygon(outer, holes)
        for _, region in nominal_pieces(lay_area, job.floor)
        for outer, *holes in region
    ]
    off = 2 * OFF * sum(piece.length for piece in planned)
    assert abs(sum(part.area for part in shown) - floor.area) < off
    tree = shapely.STRtree(shown)
    for piece in planned:
        if piece.area > 2 * OFF * piece.length:
            left = [piece.difference(shown[number]).area for number in tree.query(piece)]
            assert min(left) < 2 * OFF * piece.length

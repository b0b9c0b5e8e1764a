"""From the room's walls and fixed things to the lines that the floor keeps clear of."""

from collections.abc import Iterable, Sequence

from engine.geometry.barrier import Barrier
from engine.geometry.plane import circle
from engine.geometry.shapes import Point
from engine.geometry.tolerances import ARC
from engine.model.job import FixedThing, Wall


def wall_barrier(name: str, wall: Wall, path: str, points: Sequence[Point], tolerance: float) -> Barrier:
    """A wall's line; its own tolerance goes before the job's."""
    return Barrier(
        name=name,
        path=path,
        points=tuple(points),
        gap=wall.gap,
        tolerance=tolerance if wall.tolerance is None else wall.tolerance,
    )


def fixed_barriers(things: Iterable[FixedThing], tolerance: float) -> tuple[Barrier, ...]:
    """The edges of the fixed things that the floor goes round, in the job's order."""
    return tuple(
        _fixed_barrier(thing, f"room.fixed[{index}]", tolerance)
        for index, thing in enumerate(things)
        if not thing.undercut
    )


def _fixed_barrier(thing: FixedThing, path: str, tolerance: float) -> Barrier:
    points = fixed_ring(thing)
    return Barrier(
        name=thing.name,
        path=path,
        points=(*points, points[0]),
        gap=thing.gap,
        tolerance=tolerance if thing.tolerance is None else thing.tolerance,
        solid=True,
        centre=thing.centre,
        radius=thing.diameter / 2 if thing.diameter is not None else None,
    )


def fixed_ring(thing: FixedThing) -> tuple[Point, ...]:
    """The edge of a fixed thing; a round one is drawn just outside its circle."""
    if thing.outline is not None:
        return thing.outline
    assert thing.centre is not None
    assert thing.diameter is not None
    return circle(thing.centre, thing.diameter / 2, ARC)

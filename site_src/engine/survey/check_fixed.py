"""Faults of sense in the fixed things that the floor goes round."""

from collections.abc import Iterator
from math import isfinite

from engine.errors import Finding
from engine.geometry.kernel import kernel
from engine.geometry.shapes import Point, Ring
from engine.model.job import FixedThing, Room
from engine.survey.check_values import band_faults, place_fault
from engine.survey.crossing import inside
from engine.survey.tolerances import MOST_PLACE
from engine.units import number_text


def fixed_faults(room: Room) -> Iterator[Finding]:
    """Everything that makes no sense in the fixed things, the room's shape left aside."""
    for index, thing in enumerate(room.fixed):
        path, name = f"room.fixed[{index}]", thing.name or f"fixed thing {index + 1}"
        yield from band_faults(path, name, thing.gap, thing.tolerance)
        if (thing.outline is None) == (thing.centre is None):
            yield Finding(
                path=path,
                code="outline or centre",
                sentence=f"Give {name} either an outline or a centre with a diameter, "
                f"{'not both' if thing.outline is not None else 'so that it has a place'}.",
            )
        elif thing.outline is not None:
            yield from _outline_faults(thing.outline, f"{path}.outline", name)
        else:
            yield from _round_faults(thing, path, name)


def _outline_faults(outline: Ring, path: str, name: str) -> Iterator[Finding]:
    lost = [place_fault(f"{path}[{i}]", f"A point of {name}", at) for i, at in enumerate(outline)]
    yield from filter(None, lost)
    if any(lost):
        return
    fault = kernel().fault_of((outline,))
    if fault is None:
        return
    if fault[0] == "too few corners":
        sentence = f"The outline of {name} needs at least three points that differ. Add the missing ones."
        yield Finding(path=path, code="outline too short", sentence=sentence)
    else:
        x, y = (number_text(value, 0) for value in fault[1])
        yield Finding(
            path=path,
            code="outline crosses itself",
            sentence=f"The outline of {name} meets itself near x {x}, y {y}. "
            "List its points in the order in which you walk round it.",
        )


def _round_faults(thing: FixedThing, path: str, name: str) -> Iterator[Finding]:
    assert thing.centre is not None
    lost = place_fault(f"{path}.centre", name, thing.centre)
    if lost:
        yield lost
    diameter = thing.diameter
    if diameter is None or not (isfinite(diameter) and 0 < diameter <= MOST_PLACE):
        sentence = f"Give {name} a diameter above zero."
        yield Finding(path=f"{path}.diameter", code="impossible diameter", sentence=sentence)


def outside_warnings(room: Room, ring: Ring) -> Iterator[Finding]:
    """A fixed thing that lies wholly outside the room was placed from the wrong corner."""
    for index, thing in enumerate(room.fixed):
        if not any(inside(point, ring) for point in _points_of(thing)):
            yield Finding(
                path=f"room.fixed[{index}]",
                code="outside the room",
                level="warning",
                sentence=f"No corner of {thing.name} lies inside the room. Check where it was measured from.",
            )


def _points_of(thing: FixedThing) -> tuple[Point, ...]:
    if thing.outline is not None:
        return thing.outline
    assert thing.centre is not None
    (x, y), r = thing.centre, (thing.diameter or 0.0) / 2
    return ((x, y), (x + r, y), (x, y + r), (x - r, y), (x, y - r))

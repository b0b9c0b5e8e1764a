"""Faults of sense in a room, all found at once, each with a sentence that says what to mend.

The file's structure has been checked before; here it is asked whether the
readings can belong to a real room. Shapes are checked in ``check_shapes``.
"""

from collections.abc import Iterable, Iterator
from itertools import pairwise
from math import dist, isfinite

from engine.errors import Finding, Refused
from engine.geometry.shapes import signed_area
from engine.model.job import Pair, Room, Tie, Wall
from engine.survey.check_fixed import fixed_faults
from engine.survey.check_values import band_faults, length_faults, place_fault, sd_faults
from engine.survey.corner_order import corner_order, corners_to_solve
from engine.survey.crossing import crossings
from engine.survey.tolerances import LEAST_WALL, MOST_OFFSET_SHARE, SAME_STATION
from engine.units import number_text


def check_room(room: Room) -> tuple[Finding, ...]:
    """Everything that makes no sense in the room's records; nothing is computed beyond lengths.

    Names and paths are those of the job file. Errors stop the computation.
    """
    solved = corners_to_solve(room)
    waiting = _waiting_corners(room, {*(room.corners or ()), *solved})
    whole = not solved and not waiting
    faults = [] if room.corners is None else [*_corner_faults(room.corners, whole)]
    faults += (_not_measured(room, name) for name in waiting)
    names = {*(room.corners or ()), *solved, *waiting}
    faults += _line_faults(room.walls, "wall", names)
    faults += _line_faults(room.ties, "tie", names)
    faults += _wall_order_faults(room) if whole and room.corners is not None else _order_faults(room)
    for index, wall in enumerate(room.walls):
        faults += _wall_faults(wall, f"room.walls[{index}]", _chord(room, wall))
    return (*faults, *fixed_faults(room))


def _waiting_corners(room: Room, names: set[str]) -> list[str]:
    """Corners that one wall leads to and another one on from, but that nothing places yet."""
    left = {wall.from_ for wall in room.walls}
    return [wall.to for wall in room.walls if wall.to in left and wall.to not in names]


def _not_measured(room: Room, name: str) -> Finding:
    lines: tuple[Wall | Tie, ...] = (*room.walls, *room.ties)
    has = [line for line in lines if line.length is not None and name in (line.from_, line.to)]
    need = "one more length to it" if has else "two lengths to it from other corners"
    return Finding(
        path=f"room.corners.{name}",
        code="corner not measured",
        sentence=f"Corner {name} is not measured yet. Read its x and y next, or {need}.",
    )


def _corner_faults(corners: dict[str, Pair], whole: bool) -> Iterator[Finding]:
    """``whole``: all corners are listed, so that their number and order can be judged."""
    lost = [place_fault(f"room.corners.{name}", f"Corner {name}", at) for name, at in corners.items()]
    yield from filter(None, lost)
    if not whole:
        return
    if len(corners) < 3:
        yield Finding(
            path="room.corners",
            code="too few corners",
            sentence=f"A room needs at least three corners; there are {len(corners)}. Add the missing ones.",
        )
    elif not any(lost):
        yield from _turn_faults(corners)


def _turn_faults(corners: dict[str, Pair]) -> Iterator[Finding]:
    names, ring = tuple(corners), tuple(corners.values())
    around = sum(dist(a, b) for a, b in pairwise((*ring, ring[0])))
    area = signed_area(ring)
    same = [*_corners_at_one_place(corners)]
    yield from same
    if crossings(ring):
        sentence = (
            "The straight lines from corner to corner cross. List the corners in the order in which "
            "you walk round the room, counter-clockwise, or measure again the one that lies wrong."
        )
        yield Finding(path="room.corners", code="corners cross", sentence=sentence)
    elif abs(area) <= LEAST_WALL * around / 4 and not same:
        sentence = "All corners lie on one line. Check their x and y."
        yield Finding(path="room.corners", code="corners in line", sentence=sentence)
    elif area < 0:
        yield Finding(
            path="room.corners",
            code="corners clockwise",
            sentence="The corners run clockwise. List them counter-clockwise: "
            f"{', '.join((names[0], *names[:0:-1]))}; or, if the room came out as its mirror image, "
            "change the sign of every x.",
        )


def _corners_at_one_place(corners: dict[str, Pair]) -> Iterator[Finding]:
    """Neighbours that are nearer than any wall is long."""
    items = tuple(corners.items())
    for (before, first), (name, second) in pairwise((*items, items[0])):
        if dist(first, second) < LEAST_WALL:
            yield Finding(
                path=f"room.corners.{name}",
                code="wall without length",
                sentence=f"Wall {before}–{name} has no length: its corners lie "
                f"{number_text(dist(first, second), 1)} mm apart. "
                f"Measure corner {name} again, or delete it.",
            )


def _line_faults(lines: Iterable[Wall | Tie], word: str, names: set[str]) -> Iterator[Finding]:
    """What can be wrong with anything that runs from one corner to another."""
    seen: set[frozenset[str]] = set()
    for index, line in enumerate(lines):
        path, name = f"room.{word}s[{index}]", f"{line.from_}–{line.to}"
        for key, corner in (("from", line.from_), ("to", line.to)):
            if corner not in names:
                yield _unknown_corner(f"{path}.{key}", f"{word} {name}", corner, names)
        if line.from_ == line.to:
            sentence = f"The {word} {name} ends where it starts. Give it another corner, or delete it."
            yield Finding(path=path, code="ends at its start", sentence=sentence)
        ends = frozenset((line.from_, line.to))
        if word == "wall" and ends in seen:
            sentence = f"Wall {name} is there twice. Keep one and move its readings there."
            yield Finding(path=path, code="wall repeated", sentence=sentence)
        seen.add(ends)
        yield from length_faults(path, f"{word.capitalize()} {name}", line.length, line.sd)


def _unknown_corner(path: str, line: str, corner: str, names: set[str]) -> Finding:
    return Finding(
        path=path,
        code="unknown corner",
        sentence=f"The {line} names corner {corner}, which the room does not have. "
        f"Choose one of {', '.join(sorted(names))}, or add the corner.",
    )


def _order_faults(room: Room) -> tuple[Finding, ...]:
    """Corners that are to be solved get their order from the walls."""
    try:
        corner_order(room)
    except Refused as refused:
        return refused.findings
    return ()


def _wall_order_faults(room: Room) -> Iterator[Finding]:
    """Walls run from each listed corner to the next."""
    names = tuple(room.corners or ())
    next_of = dict(zip(names, names[1:] + names[:1], strict=True))
    for index, wall in enumerate(room.walls):
        ends = wall.from_ in next_of and wall.to in next_of and wall.from_ != wall.to
        if not ends or next_of[wall.from_] == wall.to:
            continue
        path, name = f"room.walls[{index}]", f"{wall.from_}–{wall.to}"
        if next_of[wall.to] == wall.from_:
            yield Finding(
                path=path,
                code="wall reversed",
                sentence=f"Wall {name} runs clockwise. Write it from {wall.to} to {wall.from_}, "
                f"and count its stations from {wall.to}.",
            )
        else:
            yield Finding(
                path=path,
                code="not a wall",
                sentence=f"Corners {wall.from_} and {wall.to} are not neighbours, so {name} is no wall. "
                "Make it a tie, or mend the order of the corners.",
            )


def _chord(room: Room, wall: Wall) -> float | None:
    """The straight length of a wall as far as it is known before anything is solved."""
    if room.corners and wall.from_ in room.corners and wall.to in room.corners:
        return dist(room.corners[wall.from_], room.corners[wall.to])
    return wall.length


def _wall_faults(wall: Wall, path: str, chord: float | None) -> Iterator[Finding]:
    name = f"wall {wall.from_}–{wall.to}"
    yield from band_faults(path, name, wall.gap, wall.tolerance)
    yield from sd_faults(f"{path}.offset_sd", f"One offset of {name}", wall.offset_sd)
    if chord is None or not isfinite(chord) or chord < LEAST_WALL:
        return  # said of the corners or the length already
    for key, readings in (("offsets", wall.offsets), ("checks", wall.checks)):
        for index, reading in enumerate(readings):
            yield from _reading_faults(reading, f"{path}.{key}[{index}]", name, chord)
    yield from _station_faults(wall, path, name)
    yield from _break_faults(wall, path, name)


def _reading_faults(reading: Pair, path: str, name: str, chord: float) -> Iterator[Finding]:
    station, offset = reading
    if not (isfinite(station) and isfinite(offset)):
        sentence = f"A reading on {name} is not a number. Take it again."
        yield Finding(path=path, code="not a number", sentence=sentence)
    elif not 0 < station < chord:
        yield Finding(
            path=path,
            code="station outside",
            sentence=f"The reading at station {number_text(station, 0)} mm lies outside {name}, "
            f"which is {number_text(chord, 0)} mm long. Stations count from its first corner; "
            "read that one again.",
        )
    elif abs(offset) > MOST_OFFSET_SHARE * chord:
        yield Finding(
            path=path,
            code="offset absurd",
            sentence=f"The reading {number_text(offset, 0)} mm at station {number_text(station, 0)} mm "
            f"is more than half the length of {name}. Read it again; if it is right, the room has "
            "another corner there.",
        )


def _station_faults(wall: Wall, path: str, name: str) -> Iterator[Finding]:
    """Two readings at one station: allowed at a break, where the wall steps from one to the other."""
    order = sorted(range(len(wall.offsets)), key=lambda i: wall.offsets[i][0])
    for before, after in pairwise(order):
        (first, a), (second, b) = wall.offsets[before], wall.offsets[after]
        at_break = first == second and any(abs(first - station) < SAME_STATION for station in wall.breaks)
        if second - first < SAME_STATION and not at_break:
            yield Finding(
                path=f"{path}.offsets[{max(before, after)}]",
                code="station repeated",
                sentence=f"On {name} there are two readings at station {number_text(first, 0)} mm: "
                f"{number_text(a, 1)} and {number_text(b, 1)} mm. Read there again and keep one; "
                "if the wall steps there, mark a break.",
            )


def _break_faults(wall: Wall, path: str, name: str) -> Iterator[Finding]:
    if wall.breaks and wall.curve == "arc":
        yield Finding(
            path=f"{path}.breaks",
            code="arc with breaks",
            sentence=f"The {name} is one arc and has breaks. Make it smooth, or take the breaks away.",
        )
    for index, station in enumerate(wall.breaks):
        here = sum(abs(at - station) < SAME_STATION for at, _ in wall.offsets)
        if here in (1, 2) and not _near_another(station, wall.breaks, index):
            continue
        yield Finding(
            path=f"{path}.breaks[{index}]",
            code="break without reading",
            sentence=f"The break at station {number_text(station, 0)} mm of {name} needs one reading there, "
            "or two where the wall steps: first the wall before it, then the wall after it.",
        )


def _near_another(station: float, breaks: tuple[float, ...], index: int) -> bool:
    return any(abs(station - other) < SAME_STATION for other in breaks[:index])

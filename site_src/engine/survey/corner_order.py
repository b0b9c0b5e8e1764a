"""Which corner follows which, because a job file may list its walls in any order."""

from collections import Counter

from engine.errors import Finding, Refused
from engine.model.job import Room, Tie, Wall


def corner_order(room: Room) -> tuple[str, ...]:
    """Corner names counter-clockwise: as listed, or found by following the walls from end to end.

    Raises Refused when some corner is not listed and the walls do not close to one ring.
    """
    if room.corners and not corners_to_solve(room):
        return tuple(room.corners)
    return _follow_walls(room)


def corners_to_solve(room: Room) -> frozenset[str]:
    """Corners that have no x and y but are measured by lengths; all of them when none is listed."""
    listed = room.corners or {}
    named = {name for wall in room.walls for name in (wall.from_, wall.to)}
    lines: tuple[Wall | Tie, ...] = (*room.walls, *room.ties)
    measured = Counter(name for line in lines if line.length is not None for name in (line.from_, line.to))
    return frozenset(name for name in named if name not in listed and (measured[name] >= 2 or not listed))


def _follow_walls(room: Room) -> tuple[str, ...]:
    next_of = {wall.from_: wall.to for wall in room.walls}
    if not room.walls:
        raise Refused(_no_walls())
    if len(next_of) < len(room.walls):
        raise Refused(_not_closed(_shared_start(room)))
    names = [room.walls[0].from_]
    while (following := next_of.get(names[-1])) != names[0]:
        if following is None or following in names:
            raise Refused(_not_closed(f"no wall leads on from corner {names[-1]} to one not yet passed"))
        names.append(following)
    if len(names) < len(room.walls):
        left_over = next(wall for wall in room.walls if wall.from_ not in names)
        raise Refused(_not_closed(f"wall {left_over.from_}–{left_over.to} hangs on none of the others"))
    return tuple(names)


def _shared_start(room: Room) -> str:
    seen: set[str] = set()
    for wall in room.walls:
        if wall.from_ in seen:
            return f"two walls start at corner {wall.from_}"
        seen.add(wall.from_)
    raise AssertionError("no two walls start at one corner")


def _no_walls() -> Finding:
    sentence = "The room has no walls yet. Measure its corners first, or the lengths of its walls."
    return Finding(path="room.walls", code="no walls", sentence=sentence)


def _not_closed(reason: str) -> Finding:
    return Finding(
        path="room.walls",
        code="walls not closed",
        sentence=f"The walls do not close to one room: {reason}. "
        "List every wall once, each from one corner to the next with the room on its left.",
    )

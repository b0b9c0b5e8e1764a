"""Which corner follows which, because a job file may list its walls in any order."""

from engine.errors import Finding, Refused
from engine.model.job import Room


def corner_order(room: Room) -> tuple[str, ...]:
    """Corner names counter-clockwise: as listed, or found by following the walls from end to end.

    Raises Refused when there are no corners and the walls do not close to one ring.
    """
    if room.corners:
        return tuple(room.corners)
    return _follow_walls(room)


def _follow_walls(room: Room) -> tuple[str, ...]:
    next_of = {wall.from_: wall.to for wall in room.walls}
    if not room.walls or len(next_of) < len(room.walls):
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
    return "there are no walls"


def _not_closed(reason: str) -> Finding:
    return Finding(
        path="room.walls",
        code="walls not closed",
        sentence=f"The walls do not close to one room: {reason}. "
        "List every wall once, each from one corner to the next with the room on its left.",
    )

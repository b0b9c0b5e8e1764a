"""How large the piece along an edge is by how its board lies there: at one phase, or bounded over a range."""

from collections.abc import Sequence
from math import inf

from engine.geometry.board import BoardSize
from engine.geometry.shapes import Ring
from engine.model.setting_out import Measure
from engine.setting_out.board_over import Over
from engine.setting_out.lie import Lie
from engine.setting_out.moving_edge import Move
from engine.setting_out.piece_left import Heights, Side, size_left
from engine.setting_out.thing_parts import Lying, size_beside

# How often the range of lifts is halved to find one near a corner; once in a range that lifts it by more, mm.
HALVINGS, ROUGHLY = 3, 10.0
# How an edge bends within a board is left out, but for twice its sag, in a range that lifts by so much more.
LITTLE_SAG = 20.0


def size_along(
    lie: Lie, moves: Sequence[Move], way: int, size: BoardSize, measure: Measure, *, is_sure: bool = False
) -> float:
    """What all leave of the board, at the most (``way`` 1), at the least (−1) or just now (0).

    ``is_sure`` asks for a bound that holds although an edge bends within the board.
    """
    more, extra = lie.near.beyond(measure) if way > 0 else (0.0, 0.0)

    def straight(over: Over, rise: float) -> Heights:
        lift = way * rise + more
        if way and _is_little(over, rise):
            return over.roughly(lift, way)
        return over.surely(lift) if is_sure else over.straightened(lift, measure)

    own = straight(lie.over, moves[lie.edge].rise)
    sides = [cut.side(straight) for cut in lie.near.cuts]
    things = _things(lie, moves) if way >= 0 else []
    return _size(lie, own, sides, things, moves, size, measure) + extra


def lift_beside(
    lie: Lie,
    between: tuple[float, float],
    moves: Sequence[Move],
    size: BoardSize,
    measure: Measure,
    wanted: float,
) -> float:
    """A lift up to which surely no more than wanted is left near a corner or thing, −∞ without one."""
    more, extra = lie.near.beyond(measure)
    rise = moves[lie.edge].rise
    sides = [cut.side(lambda over, rise: _surely(over, rise + more, rise)) for cut in lie.near.cuts]
    things = _things(lie, moves)

    def is_less(lift: float) -> bool:
        own = _surely(lie.over, lift + more, rise)
        return _size(lie, own, sides, things, moves, size, measure) + extra <= wanted

    low, high = between
    if low > high or not is_less(low):
        return -inf
    if is_less(high):
        return high
    for _ in range(HALVINGS if rise < ROUGHLY else 1):
        middle = (low + high) / 2
        low, high = (middle, high) if is_less(middle) else (low, middle)
    return low


def _surely(over: Over, lift: float, rise: float) -> Heights:
    """Heights below which surely nothing of the lifted board lies in the floor; ``rise`` is its range's."""
    return over.roughly(lift, 1) if _is_little(over, rise) else over.surely(lift)


def _is_little(over: Over, rise: float) -> bool:
    """Is what an edge bends within a board little beside how far a range lifts the board?"""
    return rise > max(ROUGHLY, LITTLE_SAG * over.line.most_sag)


def _size(
    lie: Lie,
    own: Heights,
    sides: Sequence[Side],
    things: Sequence[Ring],
    moves: Sequence[Move],
    size: BoardSize,
    measure: Measure,
) -> float:
    # What lies round an inner corner is not convex; there things are left out, which bounds it all the same.
    if not things or lie.near.is_bent:
        return size_left(own, sides, size, measure)
    ends = lie.own.ends_at_things(moves[lie.edge].along)
    lying = Lying(lie.over.stations, lie.over.across, own, ends)
    return size_beside(lying, [side.heights for side in sides], things, size, measure)


def _things(lie: Lie, moves: Sequence[Move]) -> list[Ring]:
    """The things near a board, made smaller by the moves of a range."""
    move = moves[lie.edge]
    found = (thing.smaller(move.along, move.up) for thing in lie.near.things)
    return [ring for ring in found if ring is not None]

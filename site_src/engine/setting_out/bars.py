"""The strips of phases that a board bars at its edge, by how it lies over a range of them."""

from collections.abc import Iterator, Sequence

from engine.geometry.board import BoardSize
from engine.model.setting_out import Measure
from engine.setting_out.barred import Strip
from engine.setting_out.between_stations import heights_between
from engine.setting_out.corner_wedge import corner_strips
from engine.setting_out.lie import Lie
from engine.setting_out.moving_edge import Move
from engine.setting_out.piece_along import ROUGHLY, lift_beside
from engine.setting_out.searched_edge import CLEAR
from engine.setting_out.tangent_strip import Cutting, tangent_strips


def bars(
    lie: Lie,
    is_there: bool,
    moves: Sequence[Move],
    half: tuple[float, float],
    size: BoardSize,
    measure: Measure,
    wanted: float,
) -> Iterator[Strip]:
    """The moves within a range of phases after which its piece is there and smaller than wanted.

    ``is_there``: it lies at the edge whatever the phase. ``moves`` are those of all edges, ``half`` how far
    the range reaches to either side. ``wanted`` is a size, whatever its edge weighs.
    """
    near = lie.near
    if not near.is_known:
        return
    is_between_outer = bool(near.cuts) and not near.is_bent
    is_between_and_there = is_between_outer and is_there
    if not is_between_and_there or near.things:
        strip = _along_edge(lie, moves, size, measure, wanted)
        if strip is not None:
            yield strip
    if is_between_and_there:
        more, extra = near.beyond(measure)
        if wanted > extra:
            yield from tangent_strips(_cuttings(lie, moves, more), size, measure, wanted - extra, half)
    elif is_between_outer:
        over, moving, move = lie.over, lie.own.moving, moves[lie.edge]
        ring, ways = list(zip(over.stations, over.across, strict=True)), (moving.place, moving.row)
        for wedge in filter(None, (cut.wedge for cut in near.cuts)):
            yield from corner_strips(wedge, ring, ways, (move.along, move.up), measure, wanted, CLEAR)


def _cuttings(lie: Lie, moves: Sequence[Move], lift: float) -> list[Cutting]:
    """Its edge and those beside as lines that the floor keeps above, the board lifted by some mm."""
    found = []
    for edge, each in ((lie.edge, lie.over), *((cut.edge, cut.over) for cut in lie.near.cuts)):
        heights, slope = each.below(moves[edge].rise, moves[edge].along, lift)
        found.append(Cutting(heights, each.stations, lie.edges[edge].moving.rises(slope)))
    return found


def _along_edge(
    lie: Lie, moves: Sequence[Move], size: BoardSize, measure: Measure, wanted: float
) -> Strip | None:
    """Those between two lines along the edge."""
    over, near, move = lie.over, lie.near, moves[lie.edge]
    line, first, last = lie.own.moving.line, over.first, over.last
    least, most = line.slopes_between(first - move.along, last + move.along)
    doubt, inside = (most - least) / 2 * move.along, over.heights
    if near.is_past:
        start, end = lie.own.ends
        inside = heights_between(over.heights, over.stations, start + move.along, end - move.along)
        if not inside:
            return None
        doubt += line.strays(first, last, first, last)
    # A board that just ends short is as bad as a piece that is too small.
    low, high = -max(inside) - (0.0 if near.is_past else CLEAR), -min(inside)
    if high - low <= 2 * doubt:
        return None
    if near.cuts or near.things:
        between = max(low, -move.rise), min(high, move.rise)
        high = lift_beside(lie, between, moves, size, measure, wanted)
    else:
        high = min(high, over.lift_to(size, measure, wanted, is_rough=move.rise > ROUGHLY))
    low, high = low + doubt, high - doubt
    return Strip(*lie.own.moving.rises((least + most) / 2), low, high) if low < high else None

"""How one board is parted into its pieces, by straight cuts from rim to rim one after the other.

Each cut runs along an edge of one piece and leaves every other piece wholly on
one of its sides. What is cut apart so is a blank; a blank with one piece is
sawn along that piece's own edges. What falls beside the pieces is an offcut.
"""

from collections.abc import Iterator, Sequence

from msgspec import Struct

from engine.cutting.corridor import CutLine
from engine.cutting.half_plane import cut_off
from engine.cutting.offcut_shapes import FIT, Edge, PieceShape
from engine.geometry.shapes import Ring, signed_area

# A strip with less area than this is sawdust, mm².
CRUMB = 1.0


class Placed(Struct, frozen=True):
    """A piece on a board, moved along it by ``way`` mm from where it lies on its own board."""

    shape: PieceShape
    way: float

    @property
    def hull(self) -> Ring:
        """Its convex ring on this board."""
        return tuple((x + self.way, y) for x, y in self.shape.hull)

    @property
    def edges(self) -> tuple[Edge, ...]:
        """Its sides on this board."""
        way = self.way
        return tuple(Edge(x=e.x, y=e.y, reach=e.reach + e.x * way) for e in self.shape.edges)


class Blank(Struct, frozen=True):
    """Some pieces of one board; of several, the ``near`` are cut off the ``rest`` along ``edge``."""

    pieces: tuple[Placed, ...]
    edge: Edge | None = None
    near: "Blank | None" = None
    rest: "Blank | None" = None


def part(pieces: Sequence[Placed], spacing: float) -> Blank | None:
    """The cuts that part these pieces; None when no straight cuts do."""
    if len(pieces) == 1:
        return Blank(tuple(pieces))
    for edge, near, rest in _ways(pieces, spacing):
        first, second = part(near, spacing), part(rest, spacing)
        if first and second:
            return Blank(tuple(pieces), edge, first, second)
    return None


def _ways(pieces: Sequence[Placed], spacing: float) -> Iterator[tuple[Edge, list[Placed], list[Placed]]]:
    """The edges with every piece on one side, or beyond by the spacing."""
    hulls = [placed.hull for placed in pieces]
    for own, placed in enumerate(pieces):
        for edge in (*placed.edges, *_square(hulls[own])):
            sides = [_side(edge, hull, spacing) for hull in hulls]
            if None in sides or all(side == "near" for side in sides):
                continue
            near = [other for other, side in zip(pieces, sides, strict=True) if side == "near"]
            yield edge, near, [other for other in pieces if other not in near]


def _square(hull: Ring) -> Iterator[Edge]:
    """Square cuts just past either end of a piece, and rips just past its sides."""
    for way in (1.0, -1.0):
        yield Edge(x=way, y=0.0, reach=max(way * x for x, _ in hull))
        yield Edge(x=0.0, y=way, reach=max(way * y for _, y in hull))


def _side(edge: Edge, hull: Ring, spacing: float) -> str | None:
    least, most = edge.beyond(hull)
    if most <= 2 * FIT:
        return "near"
    return "rest" if least >= spacing - 2 * FIT else None


class Taken(Struct, frozen=True):
    """What a piece is cut from: the outline of a blank on its board, and the piece whose cutting left it.

    ``after`` None: the whole board. ``gives`` are all pieces still to be cut from the blank, this one too.
    """

    blank: Ring
    after: str | None
    gives: tuple[str, ...]


def taken_blanks(
    blank: Blank, ring: Ring, order: Sequence[str], kerf: float, allowance: float
) -> dict[str, Taken]:
    """What each piece of a board with outline ``ring`` is cut from when they are cut in this order."""
    waiting: list[tuple[Blank, Ring, str | None]] = [(blank, ring, None)]
    taken: dict[str, Taken] = {}
    for name in order:
        own = next(each for each in waiting if _holds(each[0], name))
        waiting.remove(own)
        node, outline, after = own
        taken[name] = Taken(outline, after, tuple(placed.shape.name for placed in node.pieces))
        while node.edge and node.near and node.rest:
            parts = (
                (node.near, _within(outline, node.edge, allowance)),
                (node.rest, _past(outline, node.edge, allowance + kerf)),
            )
            (node, outline), other = sorted(parts, key=lambda each: not _holds(each[0], name))
            waiting.append((*other, name))
    return taken


def _holds(blank: Blank, name: str) -> bool:
    return any(placed.shape.name == name for placed in blank.pieces)


def offcuts(blank: Blank, ring: Ring, kerf: float, allowance: float) -> Iterator[Ring]:
    """What is left of a blank with outline ``ring`` when all its pieces are cut, as convex rings.

    ``allowance`` stays on a piece beyond its edge.
    """
    if blank.edge is None:
        yield from _trimmings(blank.pieces[0], ring, kerf, allowance)
        return
    assert blank.near is not None
    assert blank.rest is not None
    yield from offcuts(blank.near, _within(ring, blank.edge, allowance), kerf, allowance)
    yield from offcuts(blank.rest, _past(ring, blank.edge, allowance + kerf), kerf, allowance)


def _trimmings(placed: Placed, ring: Ring, kerf: float, allowance: float) -> Iterator[Ring]:
    """The greatest trimming is cut off first, so that it stays in one."""
    edges = list(placed.edges)
    while edges:
        edge = max(edges, key=lambda other: round(signed_area(_past(ring, other, allowance + kerf))))
        edges.remove(edge)
        fallen = _past(ring, edge, allowance + kerf)
        if signed_area(fallen) > CRUMB:
            yield fallen
        ring = _within(ring, edge, allowance)


def _within(ring: Ring, edge: Edge, out: float) -> Ring:
    at = (edge.x * (edge.reach + out), edge.y * (edge.reach + out))
    return cut_off(ring, CutLine(at=at, direction=(-edge.y, edge.x), departure=0.0))


def _past(ring: Ring, edge: Edge, out: float) -> Ring:
    at = (edge.x * (edge.reach + out), edge.y * (edge.reach + out))
    return cut_off(ring, CutLine(at=at, direction=(edge.y, -edge.x), departure=0.0))

"""Every piece gets its board: a whole one, or the offcut of a piece that was cut before.

The boards are opened in the order of laying, or in that of the saw; a board's
first piece opens it, every later one is cut from what is left of it by then. A
hand has its own boards. Whole pieces share with nobody.
"""

from collections.abc import Collection, Iterable, Iterator, Mapping, Sequence
from itertools import count

from msgspec import Struct
from msgspec.structs import replace

from engine.cutting.parting import Blank, Taken, offcuts, part, taken_blanks
from engine.geometry.board import BoardSize, Side, side_lengths
from engine.geometry.hull import least_width
from engine.geometry.shapes import Ring, polygon_area, signed_area
from engine.model.job import Cutting, Floor, ProvenBoards
from engine.patterns import find_pattern
from engine.patterns.pattern import Hand
from engine.planning.changed_boards import BoardChanges, Group, as_measured, spacing, with_spoiled
from engine.planning.hand_boards import HandBoards, hand_boards
from engine.planning.pieces import Piece
from engine.planning.proven_boards import with_proofs
from engine.planning.saw_order import saw_settings
from engine.planning.tools import mitre_saw

HANDS: tuple[Hand, ...] = ("L", "R")


class Offcut(Struct, frozen=True, kw_only=True):
    """What is left of a board when all its pieces are cut: a convex ring in the board's frame, mm.

    ``sides`` are the lengths of the board's own edges on it.
    """

    ring: Ring
    sides: dict[Side, float]

    @property
    def length(self) -> float:
        """Along the board, from end to end."""
        return max(x for x, _ in self.ring) - min(x for x, _ in self.ring)

    @property
    def width(self) -> float:
        """Across the board."""
        return max(y for _, y in self.ring) - min(y for _, y in self.ring)


class UsedBoard(Struct, frozen=True, kw_only=True):
    """One board to take. ``pieces`` are cut from it in this order; ``offcuts`` are left in the end.

    ``spoiled`` are pieces that went wrong on it: they are cut from another, and nothing more from this one.
    """

    id: str
    hand: Hand
    pieces: tuple[str, ...]
    spoiled: tuple[str, ...]
    offcuts: tuple[Offcut, ...]


class Source(Struct, frozen=True, kw_only=True):
    """Where a piece comes from: its board, the blank it is cut from, and the piece that left that blank.

    ``way`` is how far along the board it is moved from where it lies in its own
    place of the pattern, in mm: 0 when it keeps an end. ``again``: the piece itself was cut before, and is
    cut once more.
    """

    board: str
    after: str | None
    blank: Ring
    way: float
    again: bool


class BoardSupply(Struct, frozen=True, kw_only=True):
    """All boards in the order in which they are opened, and where each piece comes from.

    ``laid`` is what is taken of a board for a piece that is cut together with others later, by piece id.
    ``hands`` has the boards of each hand as planned, before any was measured or spoiled; ``waste`` is the
    part of the boards' area that no piece takes, from 0 to 1.
    """

    boards: tuple[UsedBoard, ...]
    sources: dict[str, Source]
    hands: dict[Hand, HandBoards]
    waste: float
    laid: dict[str, Ring]

    def count(self, hand: Hand) -> int:
        """Boards of one hand."""
        return sum(board.hand == hand for board in self.boards)

    @property
    def bound(self) -> dict[Hand, int]:
        """The proven least number of boards of each hand; each spoiled one is one more, as in ``boards``."""
        planned = {hand: self.hands[hand].bound if hand in self.hands else 0 for hand in HANDS}
        return {hand: bound + self.spoiled(hand) for hand, bound in planned.items()}

    def spoiled(self, hand: Hand) -> int:
        """How many boards of one hand were taken because a piece was spoiled."""
        return sum(len(board.spoiled) for board in self.boards if board.hand == hand)


def board_supply(
    pieces: Sequence[Piece],
    changes: BoardChanges,
    laid: Mapping[str, Ring],
    floor: Floor,
    cutting: Cutting,
    together: Sequence[Sequence[str]] = (),
    proofs: Mapping[Hand, ProvenBoards] | None = None,
) -> BoardSupply:
    """A board for each piece.

    ``laid`` is what is taken of a piece's board before a cut through several takes the rest, by id.
    Boards that are needed for what was measured or spoiled are counted after all others: no board in use
    changes its name. When the plan has changed so that a piece was cut from another board than it now
    says, all boards that are begun are taken as they are, and the others given out around them.
    ``together`` are pieces found to share a board, by id, as in ``fill_boards``; ``proofs`` say how few
    boards of a hand there can be.
    """
    supply = _supply(pieces, changes, laid, floor, cutting, together, {})
    begun = {name: board for name, board in changes.begun.items() if name in supply.sources}
    if not all(supply.sources[name].board == board for name, board in begun.items()):
        supply = _supply(pieces, changes, laid, floor, cutting, together, begun)
    return replace(supply, hands=with_proofs(supply.hands, proofs or {}, begun))


def _supply(
    pieces: Sequence[Piece],
    changes: BoardChanges,
    laid: Mapping[str, Ring],
    floor: Floor,
    cutting: Cutting,
    together: Sequence[Sequence[str]],
    begun: Mapping[str, str],
) -> BoardSupply:
    order = _order(pieces, floor, cutting)
    groups: list[Group] = []
    hands: dict[Hand, HandBoards] = {}
    for hand in HANDS:
        of_hand = [piece for piece in pieces if piece.board.hand == hand]
        if of_hand:
            hands[hand] = hand_boards(of_hand, laid, cutting, begun, together)
            groups += hands[hand].groups()
    groups.sort(key=lambda group: min(order[name] for name in group.names))
    kept, more = as_measured(groups, changes.measured, laid, cutting)
    all_groups = with_spoiled([*kept, *more], changes.spoiled, begun, order, cutting)
    boards = [
        _opened(group, name, order, cutting, changes.again) for group, name in _numbered(all_groups, begun)
    ]
    now = (changes.measured.get(piece.id, piece) for piece in pieces)
    return BoardSupply(
        boards=tuple(board for board, _ in boards),
        sources={name: source for _, sources in boards for name, source in sources.items()},
        hands=hands,
        waste=_waste(all_groups, now),
        laid=dict(laid),
    )


def _order(pieces: Sequence[Piece], floor: Floor, cutting: Cutting) -> dict[str, int]:
    """Piece id → its number in the order in which boards are opened."""
    laid = find_pattern(floor.pattern).order
    by_laying = sorted(pieces, key=lambda piece: (*laid(piece.board, floor), piece.id))
    if cutting.board_order == "laying":
        names = [piece.id for piece in by_laying]
    else:  # what the mitre saw does not cut comes last, as it is laid
        settings = saw_settings(pieces, mitre_saw(cutting))
        at_saw = dict.fromkeys(name for setting in settings for name in setting.pieces)
        names = [*at_saw, *(piece.id for piece in by_laying if piece.id not in at_saw)]
    return {name: number for number, name in enumerate(names)}


def _numbered(groups: Sequence[Group], begun: Mapping[str, str]) -> Iterator[tuple[Group, str]]:
    """Each hand's boards counted as they are opened: L1, L2, R1. Begun ones keep theirs."""
    given = set(begun.values())
    left = set(given)
    numbers = {hand: count(1) for hand in HANDS}
    for group in groups:
        own = next((begun[name] for name in group.names if name in begun), None)
        if own in left:
            left.remove(own)
        else:
            own = next(n for n in (f"{group.hand}{k}" for k in numbers[group.hand]) if n not in given)
        yield group, own


def _opened(
    group: Group, name: str, order: Mapping[str, int], cutting: Cutting, again: Collection[str]
) -> tuple[UsedBoard, dict[str, Source]]:
    """A board with its pieces in the order of cutting, and where each of them comes from."""
    names = tuple(sorted(group.names, key=lambda each: order[each]))
    ways = {placed.shape.name: placed.way for placed in group.pieces}
    ring = group.size.ring
    blank = part(group.pieces, spacing(cutting)) if names else None
    if blank is None:  # parts of one place that no straight cut parts: sawn by their marks
        taken = {n: Taken(ring, names[i - 1] if i else None, names[i:]) for i, n in enumerate(names)}
        left: tuple[Offcut, ...] = ()
    else:
        taken = taken_blanks(blank, ring, names, cutting.kerf, cutting.trim)
        left = tuple(_offcuts(blank, group.size, cutting)) if group.leaves_some else ()
    sources = {
        each: Source(
            board=name, after=taken[each].after, blank=taken[each].blank, way=ways[each], again=each in again
        )
        for each in names
    }
    board = UsedBoard(id=name, hand=group.hand, pieces=names, spoiled=group.spoiled, offcuts=left)
    return board, sources


def _offcuts(blank: Blank, size: BoardSize, cutting: Cutting) -> Iterator[Offcut]:
    """What is left and wide enough to be of use, the longest first."""
    rings = [
        ring
        for ring in offcuts(blank, size.ring, cutting.kerf, cutting.trim)
        if len(ring) > 2 and least_width(ring) >= cutting.sliver
    ]
    found = (Offcut(ring=ring, sides=side_lengths(ring, size)) for ring in rings)
    # Rounded, so that noise in the last digit does not choose; equal ones stay in the order of cutting.
    yield from sorted(found, key=lambda offcut: -round(signed_area(offcut.ring)))


def _waste(groups: Iterable[Group], pieces: Iterable[Piece]) -> float:
    boards = sum(group.size.length * group.size.width for group in groups)
    used = sum(polygon_area(piece.sawn.outline) for piece in pieces)
    return 1 - used / boards if boards else 0.0

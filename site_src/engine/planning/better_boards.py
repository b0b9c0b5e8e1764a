"""Fewer boards than planned, or the proof that there are none: the programmes that a solver is to solve.

The engine has no solver. It says which programme comes next, is told what the solver found, and looks at it:
every piece must be on a board, and each board is filled and parted as any other. What was solved so far is
given anew each time, so that nothing is kept between two questions but the sets of pieces.
"""

from collections.abc import Iterable, Iterator, Mapping, Sequence

from msgspec import Struct

from engine.cutting.board_sets import BoardSets, board_sets
from engine.cutting.filled_board import Board
from engine.model.job import ProvenBoards
from engine.patterns.pattern import Hand
from engine.planning.boards import BoardSupply
from engine.planning.hand_boards import HandBoards, begun_boards
from engine.planning.hand_search import HandSearch, Solved
from engine.planning.kept import Kept
from engine.planning.proven_boards import proof_of
from engine.slices import UnderWay

Sets = tuple[tuple[str, ...], ...]


class BetterBoards(Struct, frozen=True, kw_only=True):
    """What was found so far: ``saved`` boards fewer than planned; ``spare`` more might be saved at most.

    ``programme`` is the text to be solved next, empty when all is done; its pieces take ``at_stake`` boards
    as planned, and ``at_least`` so many. ``together`` are the pieces that share a board, ``proofs`` what is
    proved of each hand. Of the boards ``in_doubt`` so many are ``settled``. Where not ``are_all`` sets could
    be listed nothing is proved. ``has_begun`` where pieces are cut already.
    """

    programme: str
    at_stake: int
    at_least: int
    together: Sets
    saved: int
    spare: int
    proofs: dict[Hand, ProvenBoards]
    settled: int
    in_doubt: int
    are_all: bool
    has_begun: bool


def spare_boards(supply: BoardSupply) -> int:
    """How many boards might be saved at most: those above the proven least number."""
    return sum(len(hand.shared) - hand.least for hand in supply.hands.values())


def better_boards(
    supply: BoardSupply, begun: Mapping[str, str], solved: Sequence[Solved]
) -> BetterBoards | None:
    """How far it is after these programmes were solved; None while the sets of pieces are being listed.

    ``begun`` are the boards from which pieces are cut already, by piece id. Raises Refused when what was
    solved does not hold every piece.
    """
    searches: list[HandSearch] = []
    for hand in supply.hands.values():
        if len(hand.shared) > hand.least:
            cut = tuple(begun_boards(hand.shapes, hand.nesting, begun))
            sets = _sets_of(hand, cut)
            if sets is None:
                return None
            searches.append(HandSearch(hand, cut, sets))
    return _told(supply, searches, _next(searches, iter(solved)))


_listing: UnderWay[BoardSets] = UnderWay()
_listed: Kept[BoardSets] = Kept()


def _sets_of(hand: HandBoards, begun: tuple[Board, ...]) -> BoardSets | None:
    """All sets of a hand's pieces, or a slice more of the work: then None."""
    inputs = (hand.shapes, begun, hand.size, hand.nesting.spacing)
    known = _listed.known(inputs)
    if known is None:
        known = _listing.go_on(inputs, lambda: board_sets(hand.shapes, begun, hand.nesting))
        if known is not None:
            _listed.put(inputs, known)
    return known


def _next(searches: Iterable[HandSearch], solved: Iterator[Solved]) -> HandSearch | None:
    """The searches gone through with what was solved; the one that is not at its end then."""
    for search in searches:
        while search.programme:
            answer = next(solved, None)
            if answer is None:
                return search
            search.go_on(answer)
    return None


def _told(supply: BoardSupply, searches: Sequence[HandSearch], at: HandSearch | None) -> BetterBoards:
    found = {search.hand.hand: search.found for search in searches}
    boards = {
        name: found[name].boards if name in found else hand.shared for name, hand in supply.hands.items()
    }
    planned = sum(len(hand.shared) for hand in supply.hands.values())
    return BetterBoards(
        programme=at.programme.text if at and at.programme else "",
        at_stake=len(at.part.boards) if at else 0,
        at_least=at.part.least if at else 0,
        together=tuple(_sets(boards.values())),
        saved=planned - sum(len(each) for each in boards.values()),
        spare=sum(len(each.boards) - each.least for each in found.values()),
        proofs={
            search.hand.hand: proof_of(search.hand, search.begun, found[search.hand.hand].least)
            for search in searches
            if found[search.hand.hand].least > search.hand.least
        },
        settled=sum(search.settled for search in searches),
        in_doubt=sum(len(search.hand.shared) for search in searches),
        are_all=all(search.sets.are_all for search in searches),
        has_begun=any(search.begun for search in searches),
    )


def _sets(found: Iterable[Sequence[Board]]) -> Iterator[tuple[str, ...]]:
    """The pieces of each board that has several, in the order in which they were put on it."""
    for boards in found:
        for board in (each for each in boards if len(each.pieces) > 1):
            yield tuple(each.shape.name for each in board.pieces)

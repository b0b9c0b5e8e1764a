"""A proof kept in the job: how few boards these very pieces take, as a solver has proved it once.

It counts only for the same pieces, board, saw and boards begun, to a thousandth of a millimetre; else it is
as if there were none.
"""

from collections.abc import Iterator, Mapping, Sequence
from hashlib import sha256

import msgspec

from engine.cutting.filled_board import Board
from engine.cutting.offcut_shapes import Nesting, PieceShape
from engine.model.job import ProvenBoards
from engine.patterns.pattern import Hand
from engine.planning.hand_boards import HandBoards, begun_boards

DECIMALS = 3
# So many letters tell one set of pieces from any other.
LETTERS = 16


def proof_of(hand: HandBoards, begun: Sequence[Board], least: int) -> ProvenBoards:
    """What the job keeps once it is proved that the cut pieces of a hand take so many boards at least."""
    return ProvenBoards(least=least, of=_told(hand.shapes, begun, hand.nesting))


def with_proofs(
    hands: Mapping[Hand, HandBoards], proofs: Mapping[Hand, ProvenBoards], begun: Mapping[str, str]
) -> dict[Hand, HandBoards]:
    """The hands with what the job has a proof of; ``begun`` as in ``BoardChanges``."""
    return {name: _with_proof(hand, proofs.get(name), begun) for name, hand in hands.items()}


def _with_proof(hand: HandBoards, proof: ProvenBoards | None, begun: Mapping[str, str]) -> HandBoards:
    if proof is None or not hand.least < proof.least <= len(hand.shared):
        return hand
    boards = tuple(begun_boards(hand.shapes, hand.nesting, begun))
    # A proof made before anything was cut holds afterwards too.
    holds = proof.of in (_told(hand.shapes, each, hand.nesting) for each in (tuple[Board, ...](), boards))
    return msgspec.structs.replace(hand, least=proof.least) if holds else hand


def _told(shapes: Sequence[PieceShape], begun: Sequence[Board], nesting: Nesting) -> str:
    """Letters that say which pieces of which boards these are."""
    size = nesting.size
    board = [_rounded(each) for each in (size.length, size.width, size.lean, nesting.spacing)]
    pieces = sorted((shape.name, *_places(shape)) for shape in shapes)
    cut = sorted(sorted(each.shape.name for each in one.pieces) for one in begun)
    return sha256(msgspec.json.encode((board, pieces, cut))).hexdigest()[:LETTERS]


def _places(shape: PieceShape) -> Iterator[float]:
    for x, y in (*shape.hull, shape.slide):
        yield from (_rounded(x), _rounded(y))


def _rounded(length: float) -> float:
    """Without the sign of a 0."""
    return round(length, DECIMALS) + 0.0

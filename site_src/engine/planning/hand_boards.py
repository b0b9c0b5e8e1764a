"""The boards of one hand as planned: which pieces share one, and how few there can be."""

from collections.abc import Iterator, Mapping, Sequence

from msgspec import Struct

from engine.cutting.board_filling import fill_boards
from engine.cutting.filled_board import Board, begun_board
from engine.cutting.offcut_shapes import Nesting, PieceShape, piece_shape
from engine.cutting.parting import Placed
from engine.geometry.board import BoardSize
from engine.geometry.shapes import Ring
from engine.model.job import Cutting
from engine.patterns.pattern import Hand
from engine.planning.changed_boards import Group, spacing
from engine.planning.pieces import Piece


class HandBoards(Struct, frozen=True, kw_only=True):
    """All pieces of one hand.

    ``shared`` are the boards for those that are ``cut``, and ``least`` how many these must be at least;
    from the ``begun`` ones pieces are cut already.
    """

    hand: Hand
    size: BoardSize
    whole: tuple[Piece, ...]
    cut: tuple[Piece, ...]
    shapes: tuple[PieceShape, ...]
    nesting: Nesting
    begun: tuple[Board, ...]
    shared: tuple[Board, ...]
    least: int
    uses_offcuts: bool

    @property
    def bound(self) -> int:
        """The proven least number of boards; without offcuts each place of the pattern takes its own."""
        cut = self.least if self.uses_offcuts else len({piece.from_board for piece in self.cut})
        return cut + len(self.whole)

    @property
    def stay(self) -> frozenset[str]:
        """The pieces that are cut from their boards already."""
        return frozenset(each.shape.name for board in self.begun for each in board.pieces)

    def groups(self) -> list[Group]:
        """Each board with its pieces."""
        sets: list[tuple[Placed, ...]] = [(_alone(piece, self.size),) for piece in self.whole]
        own = _own_boards(self.cut, self.size)
        sets += [board.pieces for board in self.shared] if self.uses_offcuts else own
        return [Group(hand=self.hand, size=self.size, pieces=each) for each in sets]


def hand_boards(
    pieces: Sequence[Piece],
    laid: Mapping[str, Ring],
    cutting: Cutting,
    begun: Mapping[str, str],
    together: Sequence[Sequence[str]],
) -> HandBoards:
    """The boards of one hand; all as in ``board_supply``. There must be some pieces."""
    hand, size = pieces[0].board.hand, pieces[0].board.size
    cut = [piece for piece in pieces if piece.sawn.kind != "whole"]
    outlines = {piece.id: (laid[piece.id],) if piece.id in laid else piece.sawn.outline for piece in cut}
    shapes = tuple(piece_shape(name, outline, size, cutting.trim) for name, outline in outlines.items())
    nesting = Nesting(size, spacing(cutting))
    boards = tuple(begun_boards(shapes, nesting, begun))
    shared, least = fill_boards(shapes, nesting, boards, _of_hand(together, outlines))
    return HandBoards(
        hand=hand,
        size=size,
        whole=tuple(piece for piece in pieces if piece.sawn.kind == "whole"),
        cut=tuple(cut),
        shapes=shapes,
        nesting=nesting,
        begun=boards,
        shared=shared,
        least=least,
        uses_offcuts=cutting.offcuts,
    )


def _of_hand(together: Sequence[Sequence[str]], names: Mapping[str, object]) -> list[tuple[str, ...]]:
    """The sets of one hand, without pieces that there are no more."""
    known = (tuple(name for name in one if name in names) for one in together)
    return [one for one in known if one]


def begun_boards(shapes: Sequence[PieceShape], nesting: Nesting, begun: Mapping[str, str]) -> Iterator[Board]:
    """The boards from which pieces are cut already."""
    boards: dict[str, list[PieceShape]] = {}
    for shape in shapes:
        if shape.name in begun:
            boards.setdefault(begun[shape.name], []).append(shape)
    yield from (begun_board(together, nesting) for together in boards.values())


def _alone(piece: Piece, size: BoardSize) -> Placed:
    shape = piece_shape(piece.id, piece.sawn.outline, size)
    return Placed(shape, 0.0 if shape.is_fixed else _inside(shape))


def _inside(shape: PieceShape) -> float:
    """As near to its own place as it lies on the board."""
    return max(shape.slide[0], min(shape.slide[1], 0.0))


def _own_boards(cut: Sequence[Piece], size: BoardSize) -> Iterator[tuple[Placed, ...]]:
    """The pieces of one place of the pattern from one board, where they lie there."""
    places: dict[str, list[Placed]] = {}
    for piece in cut:
        places.setdefault(piece.from_board, []).append(_alone(piece, size))
    yield from (tuple(placed) for placed in places.values())

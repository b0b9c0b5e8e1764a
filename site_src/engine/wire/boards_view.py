"""The boards from which something is cut, as a page lists them: what comes off each, and what is left."""

from engine.drawing.paths import polygon_path, ring_path, spot, view_box
from engine.geometry.board import Side
from engine.geometry.shapes import Polygon
from engine.planning.boards import BoardSupply, Offcut, UsedBoard
from engine.planning.floor_plan import FloorPlan
from engine.planning.pieces import Piece
from engine.wire.board_words import EDGE_TEXT
from engine.wire.drawings import BoardDrawing, Label, SawDrawing
from engine.wire.figures import Writer
from engine.wire.piece_words import board_text

# Space about a board, mm.
MARGIN = 12.0
ENDS: tuple[Side, ...] = ("start", "far")


def boards_view(plan: FloorPlan, writer: Writer) -> tuple[BoardDrawing, ...]:
    """Every board that is sawn, in the order in which they are opened."""
    pieces = {piece.id: piece for piece in plan.pieces}
    return tuple(
        _board(board, pieces, plan.supply, writer)
        for board in plan.supply.boards
        if board.spoiled or any(pieces[name].sawn.kind != "whole" for name in board.pieces)
    )


def _board(board: UsedBoard, pieces: dict[str, Piece], supply: BoardSupply, writer: Writer) -> BoardDrawing:
    one = pieces[(*board.pieces, *board.spoiled)[0]]
    return BoardDrawing(
        title=f"{board_text(one.board).capitalize()} {board.id}",
        hand=board.hand,
        pieces=board.pieces,
        spoiled=f"Spoiled over {' and '.join(board.spoiled)}." if board.spoiled else "",
        offcuts=tuple(_offcut(offcut, writer) for offcut in board.offcuts),
        saw=_drawing([(name, _placed(pieces[name], supply)) for name in board.pieces], one),
    )


def _placed(piece: Piece, supply: BoardSupply) -> Polygon:
    """What is taken for a piece, where it lies on its board."""
    way = supply.sources[piece.id].way
    taken = (supply.laid[piece.id],) if piece.id in supply.laid else piece.sawn.outline
    return tuple(tuple((x + way, y) for x, y in ring) for ring in taken)


def _drawing(placed: list[tuple[str, Polygon]], one: Piece) -> SawDrawing:
    size = one.board.size
    keep = "".join(polygon_path(outline) for _, outline in placed)
    return SawDrawing(
        view_box=view_box(size.ring, MARGIN),
        board=ring_path(size.ring),
        keep=keep,
        waste=ring_path(size.ring) + keep,
        cuts=(),
        labels=tuple(Label(text=name, at=spot(_middle(outline))) for name, outline in placed),
        fence="",
        stop="",
        words="",
    )


def _middle(outline: Polygon) -> tuple[float, float]:
    xs, ys = zip(*outline[0], strict=True)
    return (min(xs) + max(xs)) / 2, (min(ys) + max(ys)) / 2


def _offcut(offcut: Offcut, writer: Writer) -> str:
    """Its measures, and the ends of the board that it still has."""
    has = [EDGE_TEXT[side] for side in ENDS if offcut.sides[side] > 0]
    ends = f", with the {' and the '.join(has)}" if has else ", without an end of the board"
    return f"{writer.length(offcut.length)} × {writer.mm(offcut.width)}{ends}"

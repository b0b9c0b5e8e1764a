"""One board where it lies, with the corners that can be read and what each can be read to."""

from engine.drawing.paths import ring_path, spot, view_box
from engine.errors import Finding, Refused
from engine.planning.floor_plan import FloorPlan
from engine.planning.laid_readings import readable_corners
from engine.planning.line_names import read_to
from engine.planning.staying_true import board_of_piece
from engine.wire.drawings import Label
from engine.wire.figures import Writer
from engine.wire.laid_drawings import LaidCorner, LaidTarget
from engine.wire.mark_numbers import largest_letters
from engine.wire.replies import LaidBoardReply

# What is seen of the floor around a board, mm beyond it.
AROUND = 300.0


def laid_board_view(plan: FloorPlan, name: str, writer: Writer) -> LaidBoardReply:
    """Raises Refused when the floor has no such piece."""
    piece = next((piece for piece in plan.pieces if piece.id == name), None)
    board = board_of_piece(plan, name) if piece else None
    if piece is None or board is None:
        raise Refused(
            Finding(
                path="laid",
                code="unknown piece",
                sentence=f"“{name[:24]}” is no piece of this floor. Type it as on the plan, such as "
                f"{plan.pieces[0].id}, or tap it there.",
            )
        )
    corners = tuple(readable_corners(plan, piece, board))
    numbers = [Label(text=str(number), at=spot(corner.at)) for number, corner in enumerate(corners, 1)]
    return LaidBoardReply(
        letters=largest_letters(numbers),
        near=view_box(piece.board.ring, AROUND),
        path=ring_path(piece.board.ring),
        corners=tuple(
            LaidCorner(
                end=corner.end,
                side=corner.side,
                name=f"{corner.end} {corner.side}",
                at=spot(corner.at),
                targets=tuple(
                    LaidTarget(to=to, name=read_to(to), planned=writer.length(away))
                    for to, away in corner.targets
                ),
            )
            for corner in corners
        ),
    )

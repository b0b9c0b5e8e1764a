"""What is said of the board or offcut that a piece is cut from, and of the edges that it keeps."""

from collections.abc import Iterable, Iterator
from typing import Literal

from engine.geometry.board import BoardSize, Side, side_lengths
from engine.model.job import Cutting
from engine.planning.boards import Source
from engine.planning.edge_names import as_marked
from engine.planning.joints import PieceJoints
from engine.planning.pieces import Piece
from engine.wire.figures import Writer
from engine.wire.piece_words import END_TEXT

EDGE_TEXT: dict[Side, str] = {
    "left": "left long edge",
    "right": "right long edge",
    "start": "start end",
    "far": "far end",
}
End = Literal["start", "far"]


def source_text(source: Source) -> str:
    """Whether a new board is opened, or an offcut taken, or the piece is there and cut once more."""
    if source.again:
        return f"From the piece cut before, board {source.board}"
    if source.after is None:
        return f"From a new board, {source.board}"
    return f"From the offcut of {source.after}, board {source.board}"


def take_step(piece: Piece, source: Source, board: str, end: End) -> str:
    """What to take, which end of it stays, and from where its lengths are measured."""
    what = f"a {board}" if source.after is None else f"the offcut of {source.after}"
    what = "the piece cut before" if source.again else what
    match piece.sawn.kept_end:
        case "start" | "far":
            return f"Take {what}; its {END_TEXT[end]} stays. Measure from that end."
        case "both":
            return f"Take {what}; both its ends stay. Measure from the {END_TEXT[end]}."
        case "neither":
            return (
                f"Take {what}; neither end stays. Mark where each long edge begins, measured from "
                f"{_begins(source, piece.board.size)}, and each length from there."
            )


def _begins(source: Source, size: BoardSize) -> str:
    if side_lengths(source.blank, size)["start"] > 0:
        return "the start end"
    return "the longest point of its sawn end, on the left as drawn"


def keep_steps(joints: PieceJoints, cutting: Cutting) -> Iterator[str]:
    """Which edges must stay as they came, because they lock."""
    # A joint that can be laid from either side is told as one into what lies already.
    after = [side for side in joints.takes if side not in joints.laid_into]
    said = []
    if joints.laid_into:
        said.append(f"{_edges(joints.laid_into, cutting)} into boards already laid")
    if after:
        said.append(f"{_edges(after, cutting)} into boards laid later")
    if said:
        yield f"Keep the edges that lock: {'; '.join(said)}."


def _edges(sides: Iterable[Side], cutting: Cutting) -> str:
    return " and ".join(EDGE_TEXT[as_marked(side, cutting)] for side in sides)


def joint_flags(piece: Piece, joints: PieceJoints, cutting: Cutting, writer: Writer) -> Iterator[str]:
    """What does not lock."""
    if piece.can_be_left_out:
        return
    if joints.must_be_glued:
        yield "No edge of it is long enough to lock: take off what is left of the joint and glue it."
        return
    for side, length in joints.lost.items():
        left = f"{writer.mm(length)} left of its {EDGE_TEXT[as_marked(side, cutting)]}"
        yield f"The {left} do not lock: trim the joint off there and glue."

"""A glue-up in sentences: what to take, how it is joined, and the one cut for all."""

from collections.abc import Iterator

from engine.planning.boards import BoardSupply
from engine.planning.glue_ups import CommonCut, CutMark, GlueUp
from engine.planning.pieces import Piece
from engine.wire.board_words import EDGE_TEXT
from engine.wire.figures import Writer
from engine.wire.piece_words import END_TEXT, board_text

CAUTIONS = (
    "Use the glue that the board’s maker allows in its joints, and keep clamps and hands still until it has "
    "set: so long as that glue’s own instructions say (common practice, no source).",
    "Clamp the joined boards to a firm support, and the guide on them. Hold neither by hand, and keep guard, "
    "extraction, eye and ear protection on (common practice, no source).",
)


def glue_steps(group: GlueUp, pieces: dict[str, Piece], supply: BoardSupply, writer: Writer) -> Iterator[str]:
    """What to do, in the order of the work."""
    taken = "; ".join(_take(name, group, pieces[name], supply, writer) for name in group.pieces)
    yield f"Take {taken}."
    yield (
        "Try the joints dry. Then glue them, push the boards together by their locks as they will lie, clamp "
        "them flat and wipe off what wells out (common practice, no source)."
    )
    for cut in group.cuts:
        yield from _cut_steps(cut, writer)


def _take(name: str, group: GlueUp, piece: Piece, supply: BoardSupply, writer: Writer) -> str:
    board, blank = board_text(piece.board), group.blanks.get(name)
    source = supply.sources[name]
    where = f"the offcut of {source.after}" if source.after else f"new board {source.board}"
    if blank is None or blank.length >= piece.board.length:
        return f"for {name} a whole {board}, {source.board}"
    if blank.measured_from is None:
        return f"for {name} {writer.mm(blank.length)} of a {board}, neither of its ends, from {where}"
    end = END_TEXT[blank.measured_from]
    return f"for {name} {writer.mm(blank.length)} of a {board}, with its {end}, from {where}"


def _cut_steps(cut: CommonCut, writer: Writer) -> Iterator[str]:
    if not cut.marks:
        yield (
            f"Along {cut.along} no one straight line keeps the gap inside its tolerance for all of them: "
            "mark each piece’s own cut, as its card has it, on the joined boards, and saw along the marks."
        )
        return
    yield (
        f"When the glue has set, mark the cut along {cut.along}: {mark_text(cut.marks[0], writer)}, and "
        f"{mark_text(cut.marks[-1], writer)}. The line through both is the cut."
    )
    if others := cut.marks[1:-1]:
        yield f"Check it: it must pass {'; '.join(mark_text(mark, writer) for mark in others)}."
    yield "Saw along it in one pass, the blade on the waste’s side."


def mark_text(mark: CutMark, writer: Writer) -> str:
    """Where one mark is made."""
    where = f"on {mark.piece}, {EDGE_TEXT[mark.side]}, {writer.mm(mark.distance)}"
    if mark.measured_from is None:
        return f"{where} from where its blank begins"
    return f"{where} from its {EDGE_TEXT[mark.measured_from]}"


def glue_offer(name: str, group: GlueUp) -> str:
    """What could be done with a piece too small to hold, on its own card and on its neighbours'."""
    others = " and ".join(other for other in group.pieces if other != name)
    return (
        f"Joined to {others} before the cut it would hold: one cut for all, each from a longer blank. The "
        "choice is for every small piece of the floor; the boards are counted anew."
    )


def glue_flag(name: str, group: GlueUp) -> str:
    """What a piece's card says of it first."""
    others = " and ".join(other for other in group.pieces if other != name)
    return (
        f"Glue-up with {others}: take what the glue-up says, join them, and cut when the glue has set. Do "
        "not cut it to these lengths before."
    )

"""A glue-up in sentences: what to take, how it is joined, and the one cut for all."""

from collections.abc import Iterator, Sequence

from engine.model.job import Cutting
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


def glue_steps(
    group: GlueUp, pieces: dict[str, Piece], supply: BoardSupply, cutting: Cutting, writer: Writer
) -> Iterator[str]:
    """What to do, in the order of the work."""
    taken = "; ".join(_take(name, group, pieces[name], supply, writer) for name in group.pieces)
    yield f"Take {taken}."
    yield (
        "Try the joints dry. Then glue them, push the boards together by their locks as they will lie, clamp "
        "them flat and wipe off what wells out (common practice, no source)."
    )
    first = pieces[group.pieces[0]]
    has_saw = "mitre saw" in cutting.tools
    has_fence = has_saw and first.glued is not None and first.glued.fence is not None
    on_saw = [cut for cut in group.cuts if has_fence and cut.marks and first.id in cut.pieces]
    if on_saw:
        yield _at_saw(first, on_saw, cutting, writer)
    elif has_saw and first.glued is not None and cutting.saw_reach:
        yield "The mitre saw cannot make this cut across the joined boards: cut along a guide."
    for cut in group.cuts:
        yield from _cut_steps(cut, "Or mark" if cut in on_saw else "When the glue has set, mark", writer)


def _at_saw(first: Piece, cuts: Sequence[CommonCut], cutting: Cutting, writer: Writer) -> str:
    """On the mitre saw, which is known to reach across all of them or is to be tried."""
    along = " and ".join(cut.along for cut in cuts)
    reach = max(reach_across(first, cut) for cut in cuts)
    reaches = "" if cutting.saw_reach else "the saw reaches so far and "
    return (
        f"When the glue has set, cut along {along} on the mitre saw: {first.id} lies at the fence, and its "
        f"card has the angle, the stop and the lengths. The cut ends {writer.mm(reach)} off the fence: see "
        f"that {reaches}the joined boards lie flat; else cut by these marks, along a guide."
    )


def reach_across(first: Piece, cut: CommonCut) -> float:
    """How far from the fence a cut through joined boards ends (mm), the first of them lying there."""
    assert first.glued is not None
    across = [first.board.frame.to_board(point)[1] for point in cut.ends or ()]
    return max(across) if first.glued.fence == "right" else first.board.width - min(across)


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


def _cut_steps(cut: CommonCut, mark: str, writer: Writer) -> Iterator[str]:
    if not cut.marks:
        yield (
            f"Along {cut.along} no one straight line keeps the gap inside its tolerance for all of them: "
            "mark each piece’s own cut, as its card has it, on the joined boards, and saw along the marks."
        )
        return
    yield (
        f"{mark} the cut along {cut.along}: {mark_text(cut.marks[0], writer)}, and "
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
    others = _others(group.pieces, name)
    return (
        f"Joined to {others} before the cut it would hold: one cut for all, each from a longer blank. The "
        "choice is for every small piece of the floor; the boards are counted anew."
    )


def glued_to(piece: Piece) -> str:
    """What is said of a glued piece beside its kind."""
    if piece.glued is None:
        return ""
    return f", glued to {_others(piece.glued.pieces, piece.id)}, cut as one"


def _others(names: Sequence[str], name: str) -> str:
    return " and ".join(other for other in names if other != name)


def glue_flag(piece: Piece) -> str:
    """What a piece's card says of it first."""
    assert piece.glued is not None
    others = _others(piece.glued.pieces, piece.id)
    leads = piece.glued.leads
    card = "" if leads == piece.id else f" The cut is on the card of {leads}."
    return (
        f"Glued to {others}, cut as one: take what the glue-up says, join them, and cut when the glue has "
        f"set.{card} Do not cut it to these lengths before."
    )

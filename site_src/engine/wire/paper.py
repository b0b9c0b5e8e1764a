"""The words of the printed sheets: each piece's card, put as rows for paper."""

from collections.abc import Iterator, Sequence

from msgspec.structs import replace

from engine.cutting.straight_cut import SAW_REACH
from engine.model.job import Cutting
from engine.planning.boards import Source
from engine.planning.edge_names import is_on_back
from engine.planning.floor_plan import FloorPlan
from engine.planning.kept import Kept
from engine.planning.on_saw import Lie, lies_of
from engine.planning.pieces import Piece
from engine.planning.to_cut import pieces_now
from engine.sheets.cut_list_pdf import ListKind
from engine.sheets.cut_row import CutRow, SawTurn
from engine.wire.card_view import cards
from engine.wire.drawings import Card
from engine.wire.figures import Writer
from engine.wire.glue_words import CAUTIONS, glue_steps
from engine.wire.piece_words import END_TEXT, KIND_TEXT, board_text, measured_end

_FACE = "Pictures: face up, start end at the left, what falls is grey."
_BACK = (
    "Boards are marked on the back: left and right are as seen there. Pictures: back up, start end at the "
    "left, what falls is grey."
)
_ON_SAW = (
    "Pictures: as the board lies on the saw, the fence at the top, what falls is grey. The end named goes "
    "against the stop; without a stop cut to the marks."
)
_SEEN_FROM_BACK = " Left and right are as seen from the back, where boards are marked."


def wall_order(cutting: Cutting) -> ListKind:
    """How the list along the walls is to be read."""
    return ListKind("Cut list", _BACK if is_on_back(cutting) else _FACE)


def saw_order(cutting: Cutting) -> ListKind:
    """How the list in the order of the saw is to be read."""
    return ListKind("Cut list in saw order", _ON_SAW + (_SEEN_FROM_BACK if is_on_back(cutting) else ""))


def cut_rows(plan: FloorPlan, writer: Writer) -> tuple[CutRow, ...]:
    """A row for each piece to cut, in the order of the cards, as it is to be cut now."""
    return _kept.get((plan.job, writer.mark), lambda: _cut_rows(plan, writer))


# Lists and labels are asked for one after the other.
_kept: Kept[tuple[CutRow, ...]] = Kept()


def _cut_rows(plan: FloorPlan, writer: Writer) -> tuple[CutRow, ...]:
    pieces = pieces_now(plan)
    sources, all_cards, cutting = plan.supply.sources, cards(plan, writer), plan.job.cutting
    glued = _glue_notes(plan, [card.id for card in all_cards], writer)
    return tuple(
        _row(card, pieces[card.id], sources[card.id], glued.get(card.id, ""), cutting) for card in all_cards
    )


def _glue_notes(plan: FloorPlan, names: Sequence[str], writer: Writer) -> dict[str, str]:
    """What is done with each glue-up, at the first of its pieces in the list; at the others where that is."""
    pieces = {piece.id: piece for piece in plan.pieces}
    notes: dict[str, str] = {}
    for group in plan.glue_ups if plan.job.cutting.glue_first else ():
        first, *others = [name for name in names if name in group.pieces]
        words = " ".join(glue_steps(group, pieces, plan.supply, plan.job.cutting, writer))
        notes |= {first: f"{words} {' '.join(CAUTIONS)}"} | dict.fromkeys(others, f"As at {first}.")
    return notes


def saw_rows(plan: FloorPlan, rows: Sequence[CutRow]) -> tuple[CutRow, ...]:
    """The same rows in the order of the saw, each board pictured as it lies there, the fence at the top.

    A piece that the saw is set for twice stands under both settings.
    """
    pieces, cutting = pieces_now(plan), plan.job.cutting
    placed = {
        turn.number: _on_saw(row, pieces[row.id], turn, lie)
        for row in rows
        for turn, lie in zip(row.turns, lies_of(pieces[row.id], cutting), strict=True)
        if turn.number
    }
    return tuple(placed[number] for number in sorted(placed))


def _on_saw(row: CutRow, piece: Piece, turn: SawTurn, lie: Lie) -> CutRow:
    return replace(
        row,
        group=turn.setting,
        stop=turn.stop,
        whole=lie.ring(piece.board.size.ring),
        keep=tuple(map(lie.ring, piece.sawn.outline)),
    )


def _row(card: Card, piece: Piece, source: Source, glued: str, cutting: Cutting) -> CutRow:
    seen = Lie(size=piece.board.size, is_round=False, is_back_up=is_on_back(cutting))
    angles = [figure for figure in card.figures if figure.key.startswith("angle")]
    texts = {figure.key: figure.text for figure in card.figures}
    return CutRow(
        group=card.wall,
        id=card.id,
        board=board_text(piece.board).removesuffix(" board"),
        from_board=source.board,
        kind=KIND_TEXT[piece.sawn.kind],
        left=texts["left"],
        right=texts["right"],
        angle=" / ".join(figure.text for figure in angles),
        longer=angles[0].label.partition(", ")[2] if len(angles) == 1 else "",
        measured_from=END_TEXT[measured_end(piece)],
        whole=seen.ring(piece.board.size.ring),
        keep=tuple(map(seen.ring, piece.sawn.outline)),
        notes=(*_notes(card, piece, source), *([glued] if glued else [])),
        stop=texts.get("stop", ""),
        turns=tuple(
            SawTurn(number=saw.number, setting=saw.setting, stop=saw.stop_length) for saw in card.saws
        ),
        is_on_back=is_on_back(cutting),
        is_cut=card.cut,
        is_fitted=card.fitted,
    )


def _is_plain(piece: Piece) -> bool:
    """Do the two lengths and one turn of the saw say all of it?"""
    kinds, angles = zip(*((cut.kind, cut.angle) for cut in piece.sawn.cuts), strict=True)
    return len(kinds) == 1 and kinds[0] in ("crosscut", "mitre", "corner") and abs(angles[0]) <= SAW_REACH


def _notes(card: Card, piece: Piece, source: Source) -> Iterator[str]:
    take, *cuts, _ = card.steps
    if source.after is not None:
        yield f"{card.board_text}."
    if piece.sawn.kept_end == "neither":
        yield take
    if not _is_plain(piece):
        yield " ".join(cuts)
    yield from card.flags

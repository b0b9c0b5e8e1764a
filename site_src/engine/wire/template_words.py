"""Which pieces get a template to print at full size, with the words on it."""

from collections import Counter
from collections.abc import Callable, Iterator, Sequence

from engine.cutting.cuts import Cut
from engine.planning.on_saw import Lie
from engine.planning.pieces import Piece
from engine.sheets.template_layout import Template
from engine.wire.piece_words import END_TEXT, KIND_TEXT, board_text, measured_end

_STRAIGHT = ("crosscut", "mitre", "corner")


def scribe_templates(pieces: Sequence[Piece], *, is_back: bool) -> tuple[Template, ...]:
    """A strip for every curve that is to be marked, on the board's face or its back."""
    return tuple(_templates(pieces, lambda cuts: [cut for cut in cuts if cut.kind == "scribe"], is_back))


def corner_templates(pieces: Sequence[Piece], *, is_back: bool) -> tuple[Template, ...]:
    """One for every piece with a notch, a hole, or straight cuts that meet, for the face or the back."""
    return tuple(_templates(pieces, _corner_cuts, is_back))


def _templates(
    pieces: Sequence[Piece], to_mark: Callable[[Sequence[Cut]], Sequence[Cut]], is_back: bool
) -> Iterator[Template]:
    for piece in pieces:
        if cuts := to_mark(piece.sawn.cuts):
            end = measured_end(piece)
            seen = Lie(size=piece.board.size, is_round=False, is_back_up=is_back)
            yield Template(
                caption=f"{piece.id}, {board_text(piece.board)}, {_what(cuts)}, mm from the {END_TEXT[end]}",
                size=piece.board.size,
                whole=seen.ring(piece.board.size.ring),
                keep=tuple(map(seen.ring, piece.sawn.outline)),
                cuts=tuple(seen.ring(cut.points) for cut in cuts),
                is_from_far=end == "far",
                is_back=is_back,
            )


def _corner_cuts(cuts: Sequence[Cut]) -> Sequence[Cut]:
    straight = [cut for cut in cuts if cut.kind in _STRAIGHT]
    ends = Counter(point for cut in straight for point in cut.points)
    meeting = [cut for cut in straight if any(ends[point] > 1 for point in cut.points)]
    return [*(cut for cut in cuts if cut.kind in ("notch", "hole")), *meeting]


def _what(cuts: Sequence[Cut]) -> str:
    kinds = " and ".join(dict.fromkeys(KIND_TEXT[cut.kind] for cut in cuts))
    walls = " and ".join(dict.fromkeys(cut.barrier.name for cut in cuts))
    return f"{kinds} at {walls}"

"""Which pieces get a template to print at full size, with the words on it."""

from collections import Counter
from collections.abc import Callable, Iterator, Sequence

from engine.cutting.cuts import Cut
from engine.planning.pieces import Piece
from engine.sheets.template_layout import Template
from engine.wire.piece_words import END_TEXT, KIND_TEXT, board_text, measured_end

_STRAIGHT = ("crosscut", "mitre", "corner")


def scribe_templates(pieces: Sequence[Piece]) -> tuple[Template, ...]:
    """A strip for every curve that is to be marked."""
    return tuple(_templates(pieces, lambda cuts: [cut for cut in cuts if cut.kind == "scribe"]))


def corner_templates(pieces: Sequence[Piece]) -> tuple[Template, ...]:
    """One for every piece with a notch, a hole, or straight cuts that meet."""
    return tuple(_templates(pieces, _corner_cuts))


def _templates(
    pieces: Sequence[Piece], to_mark: Callable[[Sequence[Cut]], Sequence[Cut]]
) -> Iterator[Template]:
    for piece in pieces:
        if cuts := to_mark(piece.sawn.cuts):
            end = measured_end(piece)
            yield Template(
                caption=f"{piece.id}, {board_text(piece.board)}, {_what(cuts)}, mm from the {END_TEXT[end]}",
                size=piece.board.size,
                keep=piece.sawn.outline,
                cuts=tuple(cut.points for cut in cuts),
                is_from_far=end == "far",
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

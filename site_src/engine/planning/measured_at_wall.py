"""The pieces for which somebody measured at the wall another length than the plan's: how they are cut now.

The plan itself stays as worked out; a length that cannot be is said to be so and not used.
"""

from collections.abc import Iterable, Iterator, Mapping
from typing import Literal

from msgspec import Struct
from msgspec.structs import replace

from engine.cutting.recut import is_cut_across, recut
from engine.errors import Finding
from engine.geometry.tolerances import ON_EDGE
from engine.model.job import Cutting, PieceProgress
from engine.planning.edge_names import as_marked
from engine.planning.pieces import Piece, is_sliver
from engine.planning.tools import mitre_saw
from engine.units import number_text

Side = Literal["left", "right"]
SIDES: tuple[Side, ...] = ("left", "right")


class MeasuredPiece(Struct, frozen=True, kw_only=True):
    """A piece ``planned`` and as it is to be cut now, ``piece``; ``lengths`` are those measured, in mm.

    ``follows`` and ``off`` as in ``Recut``. With a ``fault`` the piece is as planned.
    """

    planned: Piece
    piece: Piece
    lengths: dict[Side, float]
    follows: bool = False
    off: float = 0.0
    fault: Finding | None = None

    @property
    def is_known(self) -> bool:
        """Are both lengths known from the wall, whatever the survey says of it?"""
        return self.fault is None and len(self.lengths) == len(SIDES)


def measured_pieces(
    pieces: Iterable[Piece], progress: Mapping[str, PieceProgress], cutting: Cutting
) -> dict[str, MeasuredPiece]:
    """Piece id → how it is cut now, for each piece to cut that has a length measured at the wall."""
    read = {name: lengths for name, done in progress.items() if (lengths := lengths_of(done))}
    return {
        piece.id: _measured(piece, read[piece.id], cutting)
        for piece in pieces
        if piece.id in read and piece.sawn.kind != "whole"
    }


def lengths_of(done: PieceProgress) -> dict[Side, float]:
    """The lengths measured at the wall, by side."""
    both: tuple[tuple[Side, float | None], ...] = (("left", done.left), ("right", done.right))
    return {side: length for side, length in both if length is not None}


def _measured(piece: Piece, lengths: dict[Side, float], cutting: Cutting) -> MeasuredPiece:
    fault = next(_faults(piece, lengths, cutting), None)
    if fault is not None:
        return MeasuredPiece(planned=piece, piece=piece, lengths=lengths, fault=fault)
    both = {side: lengths.get(side, planned_length(piece, side)) for side in SIDES}
    now = recut(piece.sawn, piece.board.size, both["left"], both["right"], mitre_saw(cutting))
    return MeasuredPiece(
        planned=piece,
        piece=replace(
            piece, sawn=now.sawn, is_sliver=is_sliver(now.sawn, cutting.sliver), can_be_left_out=False
        ),
        lengths=lengths,
        follows=now.follows,
        off=now.off,
    )


def planned_length(piece: Piece, side: Side) -> float:
    """The length in mm of a long edge."""
    return piece.sawn.left if side == "left" else piece.sawn.right


def along_edge(piece: Piece, side: Side) -> tuple[float, float] | None:
    """From where to where a long edge stays, in mm along the board's frame; None when none of it does."""
    y = piece.board.width if side == "left" else 0.0
    along = [x for x, other in piece.sawn.outline[0] if abs(other - y) < ON_EDGE]
    return (min(along), max(along)) if along else None


def _faults(piece: Piece, lengths: Mapping[Side, float], cutting: Cutting) -> Iterator[Finding]:
    """What keeps the piece from being cut to these lengths."""
    whole = piece.board.length
    for side, length in lengths.items():
        name, text = as_marked(side, cutting), f"{number_text(length, 1)} mm"
        if length <= 0:
            yield _fault(piece, f"{name} {text} leaves nothing of that edge. Measure it again.")
        elif length > whole:
            yield _fault(
                piece,
                f"{name} {text} is longer than the board, {number_text(whole, 1)} mm. Measure it again.",
            )
        elif not is_cut_across(piece.sawn) and not ON_EDGE < planned_length(piece, side) < whole - ON_EDGE:
            yield _fault(
                piece,
                f"no cut of it ends on the {name} long edge, so {name} {text} cannot be sawn. "
                "Take this length back, and read the wall again where it is wrong.",
            )
    if is_cut_across(piece.sawn) and all(
        lengths.get(s, planned_length(piece, s)) > whole - ON_EDGE for s in SIDES
    ):
        yield _fault(piece, "with these lengths nothing is left to cut. Lay a whole board, or measure again.")


def _fault(piece: Piece, words: str) -> Finding:
    return Finding(
        path=f"progress.{piece.id}",
        code="measured length",
        level="warning",
        sentence=f"Piece {piece.id}: {words}",
    )


def measured_warnings(
    measured: Mapping[str, MeasuredPiece], progress: Mapping[str, PieceProgress]
) -> Iterator[Finding]:
    """One for each measured piece whose lengths are not used."""
    for name, done in progress.items():
        if name in measured:
            fault = measured[name].fault
            yield from [fault] if fault else []
        elif lengths_of(done):
            yield Finding(
                path=f"progress.{name}",
                code="measured piece not cut",
                level="note",
                sentence=f"Piece {name} was measured at the wall, but this plan does not cut it. "
                "Its lengths are kept and not used; take them back on its card if they are wrong.",
            )

"""Pieces that are cut and not fitted, held against a new list: which fit, and what becomes of the rest."""

from collections.abc import Iterable, Iterator, Mapping, Sequence
from typing import Literal

from msgspec import Struct

from engine.cutting.gap_field import BoardGapField, GapField, edge_samples
from engine.cutting.sawn_piece import SawnPiece
from engine.geometry.plane import distance_to_segment, in_ring, polyline_length
from engine.geometry.shapes import Ring, polygon_area
from engine.model.job import PieceProgress
from engine.patterns.pattern import LaidBoard
from engine.planning.pieces import Piece

Fate = Literal["fits", "trim", "elsewhere", "again", "not needed"]

# What the saw cannot tell, mm.
SAME = 0.05


class HeldPiece(Struct, frozen=True, kw_only=True):
    """What becomes of a piece that is cut.

    It still ``fits``; it is to be cut again and is long enough (``trim``); it is to be cut again from another
    board, and itself fits ``place`` (``elsewhere``) or none (``again``); or its place is gone.
    """

    id: str
    fate: Fate
    place: str = ""


def held_pieces(
    cut: Sequence[Piece], new: Sequence[Piece], progress: Mapping[str, PieceProgress], field: GapField
) -> tuple[HeldPiece, ...]:
    """``cut`` are the pieces as they were cut, ``new`` the list from the floor as it lies."""
    places = {piece.id: piece for piece in new}
    fates = {piece.id: _at_its_place(piece, places.get(piece.id), field) for piece in cut}
    done = {name for name, fate in fates.items() if fate == "fits"}
    done |= {name for name, marks in progress.items() if marks.fitted}
    open_places = [piece for piece in new if piece.id not in done and piece.sawn.kind != "whole"]
    held: list[HeldPiece] = []
    for piece in cut:
        fate = fates[piece.id]
        other = _elsewhere(piece, open_places, field) if fate in ("again", "not needed") else None
        if other is not None:
            open_places.remove(other)
        held.append(
            HeldPiece(id=piece.id, fate="elsewhere" if other else fate, place=other.id if other else "")
        )
    return tuple(held)


def fits_at(sawn: SawnPiece, board: LaidBoard, field: GapField) -> bool:
    """Would the piece, its board lying there, keep every gap inside its band?"""
    here = BoardGapField(field, board.frame)
    for ring in sawn.outline:
        for point in edge_samples((*ring, ring[0])):
            gap = here.binding(point)
            if gap is not None and -gap.over > gap.barrier.leeway.less + SAME:
                return False
    return all(
        gap is not None and gap.over <= gap.barrier.leeway.more + SAME
        for cut in sawn.cuts
        for gap in (here.binding(point) for point in edge_samples(cut.points))
    )


def _at_its_place(piece: Piece, now: Piece | None, field: GapField) -> Fate:
    if now is None:
        return "not needed"
    if fits_at(piece.sawn, now.board, field):
        return "fits"
    return "trim" if _holds(piece.sawn.outline[0], now.sawn.outline[0]) else "again"


def _holds(outer: Ring, inner: Ring) -> bool:
    """Does one outline lie inside the other?"""
    edges = tuple(zip(outer, outer[1:] + outer[:1], strict=True))
    return all(
        in_ring(point, outer) or min(distance_to_segment(point, a, b) for a, b in edges) <= SAME
        for point in inner
    )


def _elsewhere(piece: Piece, places: Iterable[Piece], field: GapField) -> Piece | None:
    """Another place of the same hand that the piece fits."""
    return next((other for other in _alike(piece, places) if fits_at(piece.sawn, other.board, field)), None)


def _alike(piece: Piece, places: Iterable[Piece]) -> Iterator[Piece]:
    """The places whose piece is as large, as far as the gaps' tolerances leave it open."""
    area = polygon_area(piece.sawn.outline)
    for other in places:
        if other.id == piece.id or other.board.hand != piece.board.hand:
            continue
        open_to = sum(sum(cut.barrier.leeway) * polyline_length(cut.points) for cut in other.sawn.cuts)
        if abs(polygon_area(other.sawn.outline) - area) <= open_to + 1:
            yield other

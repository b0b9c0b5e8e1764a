"""One piece to cut, as its card shows it."""

from collections.abc import Iterable, Sequence

from msgspec.structs import replace

from engine.drawing.board_shapes import piece_shape
from engine.drawing.paths import view_box
from engine.geometry.plane import nearest_on_polyline
from engine.model.job import PieceProgress
from engine.planning.blanks import on_its_blank
from engine.planning.floor_plan import FloorPlan
from engine.planning.measured_at_wall import MeasuredPiece, planned_length
from engine.planning.neighbours import Neighbour, neighbours
from engine.planning.on_saw import lies_of
from engine.planning.pieces import Piece
from engine.wire.board_pictures import board_picture
from engine.wire.board_words import joint_flags, source_text
from engine.wire.card_beside import card_neighbours, laying_numbers, long_flags, spoken
from engine.wire.card_figures import card_figures
from engine.wire.card_marks import card_marks
from engine.wire.card_words import flags, steps
from engine.wire.drawings import Card, PlannedLength
from engine.wire.figures import Writer
from engine.wire.glue_words import glue_flag, glue_offer, glued_to
from engine.wire.measured_words import measured_flags
from engine.wire.piece_words import (
    KIND_TEXT,
    board_text,
    side_name,
    sides_as_marked,
)
from engine.wire.saw_drawing import saw_drawing
from engine.wire.saw_places import SawPlace, saw_places
from engine.wire.spare_words import spare_flags

# What is seen of the floor around a piece on its card, mm beyond it.
AROUND = 450.0


def cards(plan: FloorPlan, writer: Writer) -> tuple[Card, ...]:
    """A card for each piece to cut, in the order in which one meets them along the walls and fixed things."""
    to_cut = [piece for piece in plan.pieces if piece.sawn.kind != "whole"]
    # By place in the file, too: two things may bear one name.
    order = {(barrier.path, barrier.name): number for number, barrier in enumerate(plan.room.barriers)}

    def place(piece: Piece) -> tuple[int, float]:
        barrier = piece.sawn.cuts[0].barrier
        return order[barrier.path, barrier.name], nearest_on_polyline(piece.middle, barrier.points).station

    beside = {piece.id: found for piece, found in neighbours(to_cut, plan.pieces)}
    laying, sawing = laying_numbers(plan), saw_places(plan, writer)
    return tuple(
        _card(piece, plan, beside[piece.id], laying.get(piece.id, len(laying) + 1), sawing[piece.id], writer)
        for piece in sorted(to_cut, key=place)
    )


def _card(
    piece: Piece,
    plan: FloorPlan,
    beside: Iterable[Neighbour],
    laying: int,
    sawing: Sequence[SawPlace],
    writer: Writer,
) -> Card:
    progress = plan.job.progress.get(piece.id, PieceProgress())
    measured = plan.measured.get(piece.id, MeasuredPiece(planned=piece, piece=piece, lengths={}))
    source, joints = plan.supply.sources[piece.id], plan.joints[piece.id]
    laid = measured.piece
    now, blank = on_its_blank(laid, source)
    measured = replace(measured, piece=now)
    walls = tuple(dict.fromkeys(cut.barrier.name for cut in piece.sawn.cuts))
    cutting = plan.job.cutting
    figures = tuple(card_figures(measured, cutting, writer))
    groups = [group for group in plan.glue_ups if piece.id in group.pieces]
    return Card(
        id=piece.id,
        title=f"Row {piece.row}, place {piece.place}",
        hand=piece.board.hand,
        kind=now.sawn.kind,
        kind_text=f"{board_text(piece.board).capitalize()}, {KIND_TEXT[now.sawn.kind]}{glued_to(now)}",
        wall=walls[0],
        place_text=f"at {' and '.join(walls)}",
        board_text=source_text(source),
        board=source.board,
        figures=figures,
        steps=steps(measured, source, joints, cutting, writer),
        flags=(
            *spare_flags(piece.id, plan),
            *measured_flags(measured, cutting, writer),
            *([glue_flag(now)] if now.glued else []),
            *flags(measured, cutting, plan.unsure.get(piece.id), writer),
            *joint_flags(now, joints, cutting, writer),
            *long_flags(piece.id, plan, writer),
        ),
        marks=tuple(card_marks(now, cutting, writer)),
        saws=tuple(
            saw_drawing(now, (blank, source), lie, place, plan, writer)
            for lie, place in zip(lies_of(now, cutting), sawing, strict=True)
        ),
        near=view_box(piece.outline[0], AROUND),
        lies=board_picture(piece_shape(laid, plan.job.floor), laid.id),
        planned=tuple(
            PlannedLength(
                side=side,
                name=side_name(side, cutting).capitalize(),
                text=writer.length(planned_length(piece, side)),
            )
            for side in sides_as_marked(cutting)
        ),
        neighbours=tuple(card_neighbours(beside, cutting)),
        laying=laying,
        spoken=spoken(figures),
        together=_together(piece, plan),
        glue_offer=next((glue_offer(piece.id, group) for group in groups), ""),
        cut=progress.cut,
        fitted=progress.fitted,
    )


def _together(piece: Piece, plan: FloorPlan) -> tuple[str, ...]:
    """All pieces that are cut with this one, itself among them."""
    names = piece.glued.pieces if piece.glued else (piece.id,)
    whole = {each.id for each in plan.pieces if each.sawn.kind == "whole"}
    return tuple(name for name in names if name not in whole)

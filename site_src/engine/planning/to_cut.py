"""The pieces that are cut, as they are to be cut now."""

from engine.planning.floor_plan import FloorPlan
from engine.planning.pieces import Piece


def pieces_now(plan: FloorPlan) -> dict[str, Piece]:
    """Piece id → piece, as measured at the wall where it was, else as worked out; in the plan's order."""
    now = {name: measured.piece for name, measured in plan.measured.items()}
    return {piece.id: now.get(piece.id, piece) for piece in plan.pieces}


def pieces_to_cut(plan: FloorPlan) -> tuple[Piece, ...]:
    """Every piece that is not a whole board, in the plan's order."""
    return tuple(piece for piece in pieces_now(plan).values() if piece.sawn.kind != "whole")

"""What to make of pieces that were cut before the floor was taken as it lies, told where each can be used."""

from collections.abc import Iterator

from engine.model.job import PieceProgress
from engine.planning.floor_plan import FloorPlan
from engine.planning.taken_floor import spare_in_use


def spare_flags(name: str, plan: FloorPlan) -> Iterator[str]:
    """For a piece that is still to be cut: is there one already?"""
    spares, marks = spare_in_use(plan.job.laid, plan.job.floor), plan.job.progress.get(name)
    if marks and (marks.cut or marks.fitted):
        return
    for spare, place in sorted(spares.items()):
        if place == name == spare and not _is_gone(marks):
            taken = "No new board is taken for it." if plan.supply.sources[name].again else ""
            words = "It was cut before the floor was taken and is long enough: cut that piece again."
            yield f"{words} {taken}".strip()
        elif place == name != spare:
            yield f"{spare}, cut before the floor was taken, fits here: use it, and mark this one cut."


def _is_gone(marks: PieceProgress | None) -> bool:
    """Was it spoiled since? Then it has no board any more."""
    return marks is not None and marks.spoiled > 0 and not marks.board

"""What to make of pieces that were cut before the floor was taken as it lies, told where each can be used."""

from collections.abc import Iterator

from engine.planning.floor_as_it_lies import taken_in_use
from engine.planning.floor_plan import FloorPlan


def spare_flags(name: str, plan: FloorPlan) -> Iterator[str]:
    """For a piece that is still to be cut: is there one already?"""
    used, marks = taken_in_use(plan.job.laid, plan.job.floor), plan.job.progress.get(name)
    if not used or (marks and (marks.cut or marks.fitted)):
        return
    for spare, place in sorted(used[-1].spare.items()):
        if place == name == spare:
            yield "It was cut before the floor was taken and is long enough: cut that piece again."
        elif place == name:
            yield f"{spare}, cut before the floor was taken, fits here: use it, and mark this one cut."

"""What is said of openings to whose middle a row axis is brought, and of those to which none can be."""

from collections.abc import Sequence
from math import dist

from engine.model.job import Floor, Job
from engine.model.setting_out import Through
from engine.planning.floor_plan import plan_room
from engine.planning.place import off_middle, openings_missed
from engine.survey.outline import Outline
from engine.wire.figures import Writer
from engine.wire.setting_out_drawings import OpeningChoice
from engine.wire.wall_view import rounded

# An opening given by points so near to a wall's ends is that wall, mm.
SAME = 1.0


def openings_missed_words(job: Job, writer: Writer) -> tuple[str, ...]:
    """A sentence for each opening through whose middle a row axis was wanted and does not run."""
    return tuple(_missed(job, opening, off, writer) for opening, off in openings_missed(job))


def _missed(job: Job, opening: Through, off: float | None, writer: Writer) -> str:
    name = _name(job, opening, writer)
    if off is None:
        return (
            f"The rows run along {name}, so no row axis goes through it. Take it out below, or turn the rows."
        )
    wanted = f"; no more than {writer.mm(opening.within)} was wanted." if opening.within else "."
    return f"The row axis runs {writer.mm(off)} off the middle of {name}{wanted}"


def opening_choices(floor: Floor, outline: Outline) -> tuple[OpeningChoice, ...]:
    """The walls and openings to whose middle a row axis can be brought, as the rows run now."""
    return tuple(
        OpeningChoice(
            name=line.name,
            words=line.name if line.wall.face == "wall" else f"{line.name}, {line.wall.face}",
            ends=(rounded(line.start), rounded(line.end)),
        )
        for line in outline.walls
        if off_middle(floor, line.start, line.end) is not None
    )


def openings_shut_words(outline: Outline, choices: Sequence[OpeningChoice]) -> str:
    """Which of them cannot be chosen, and why; empty where all can."""
    open_ones = {choice.name for choice in choices}
    along = [line.name for line in outline.walls if line.name not in open_ones]
    if not along:
        return ""
    names = f"{', '.join(along[:-1])} and {along[-1]}" if len(along) > 1 else along[0]
    they = "them" if len(along) > 1 else "it"
    return f"Not {names}: the rows run along {they}, so no row axis goes through {they}."


def _name(job: Job, opening: Through, writer: Writer) -> str:
    for line in plan_room(job).outline.walls:
        if dist(line.start, opening.from_) < SAME and dist(line.end, opening.to) < SAME:
            return line.name
    start, end = (", ".join(map(writer.length, point)) for point in (opening.from_, opening.to))
    return f"the opening from {start} to {end}"

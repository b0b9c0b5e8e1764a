"""What is said of an opening off whose middle the row axis runs."""

from math import dist

from engine.model.job import Job
from engine.model.setting_out import Through
from engine.planning.floor_plan import plan_room
from engine.planning.place import openings_missed
from engine.wire.figures import Writer

# An opening given by points so near to a wall's ends is that wall, mm.
SAME = 1.0


def openings_missed_words(job: Job, writer: Writer) -> tuple[str, ...]:
    """A sentence for each opening through whose middle a row axis was wanted and does not run."""
    return tuple(
        f"The row axis runs {writer.mm(off)} off the middle of {_name(job, opening, writer)}"
        + (f"; no more than {writer.mm(opening.within)} was wanted." if opening.within else ".")
        for opening, off in openings_missed(job)
    )


def _name(job: Job, opening: Through, writer: Writer) -> str:
    for line in plan_room(job).outline.walls:
        if dist(line.start, opening.from_) < SAME and dist(line.end, opening.to) < SAME:
            return line.name
    start, end = (", ".join(map(writer.length, point)) for point in (opening.from_, opening.to))
    return f"the opening from {start} to {end}"

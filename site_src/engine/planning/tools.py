"""The tools of the job as those who cut need them."""

from collections.abc import Iterator
from math import inf

from engine.cutting.saw_angles import Saw
from engine.errors import Finding
from engine.model.job import Cutting, Job
from engine.units import number_text


def mitre_saw(cutting: Cutting) -> Saw:
    """The mitre saw as the job describes it."""
    return Saw(
        step=cutting.saw_step,
        detents=cutting.detents,
        largest_left=cutting.largest_left,
        largest_right=cutting.largest_right,
        is_face_up=cutting.face == "up",
        error=cutting.saw_error,
        reach=cutting.saw_reach or inf,
    )


def saw_findings(job: Job) -> Iterator[Finding]:
    """A saw that does not reach across one board makes no cut across any."""
    cutting, width = job.cutting, job.floor.board.width
    if "mitre saw" in cutting.tools and 0 < cutting.saw_reach < width:
        yield Finding(
            path="cutting.saw_reach",
            code="saw reach below board",
            level="warning",
            sentence=f"The mitre saw reaches {number_text(cutting.saw_reach, 1)} mm, and a board is "
            f"{number_text(width, 1)} mm wide: no cut across one is made there. Measure how far across the "
            "saw cuts at square, or give 0 where it is not known.",
        )

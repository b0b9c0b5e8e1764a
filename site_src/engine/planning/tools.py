"""The tools of the job as those who cut need them."""

from math import inf

from engine.cutting.saw_angles import Saw
from engine.model.job import Cutting


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

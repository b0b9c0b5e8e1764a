"""The job that a move leads to: read and checked once while only its pattern is moved."""

from collections.abc import Mapping
from typing import Any

from msgspec.structs import replace

from engine.geometry.shapes import Point
from engine.model.job import Job
from engine.planning.kept import Kept
from engine.wire.job_file import MOST, open_sound_job
from engine.wire.place_view import place_job
from engine.wire.requests import Moved


def moved_job(request: Moved) -> Job:
    """The job with its pattern where the request puts it. Raises Refused."""
    return place_job(sound_where_moved(request.job), request.at)


def sound_where_moved(document: Mapping[str, Any]) -> Job:
    """The job, read and found to make sense; all but its anchor only when it has changed. Raises Refused."""
    anchor = _plain_anchor(document)
    if anchor is None:
        return open_sound_job(document).job
    rest = {**document, "floor": {**document["floor"], "anchor": None}}
    job = _kept.get((rest,), lambda: open_sound_job(document).job)
    return replace(job, floor=replace(job.floor, anchor=anchor))


_kept: Kept[Job] = Kept()


def _plain_anchor(document: Mapping[str, Any]) -> Point | None:
    """The anchor of a job that was not looked at yet; None where there is anything to be said about it."""
    floor = document.get("floor")
    anchor = floor.get("anchor") if isinstance(floor, Mapping) else None
    if not isinstance(anchor, list) or len(anchor) != 2:
        return None
    x, y = anchor
    is_plain = all(type(value) in (int, float) and abs(value) <= MOST for value in (x, y))
    return (float(x), float(y)) if is_plain else None

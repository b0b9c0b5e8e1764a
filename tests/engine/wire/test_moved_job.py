"""A job is read once while only its anchor changes, and no worse for it."""

from typing import Any

import pytest

from engine.errors import Refused
from engine.wire.job_file import open_job
from engine.wire.moved_job import sound_where_moved
from tests.engine.small_jobs import small_job


@pytest.mark.parametrize("anchor", [[910, 640], [0, 0], [-12.5, 3e5], [1, 2.25]])
def test_the_job_is_the_one_that_the_file_says(anchor: list[float]) -> None:
    """Also when it was read before with its pattern elsewhere, or with another wish."""
    sound_where_moved(small_job())
    sound_where_moved(small_job(floor__axis=45))
    document = small_job(floor__anchor=anchor)
    assert sound_where_moved(document) == open_job(document).job


@pytest.mark.parametrize(
    "anchor", [None, "here", [1], [1, 2, 3], [1, "2"], [True, 2], [2e6, 0], [float("inf"), 0]]
)
def test_an_anchor_that_is_none_is_refused_as_ever(anchor: Any) -> None:
    """With the place in the file and what to mend, although all else was read before."""
    sound_where_moved(small_job())
    with pytest.raises(Refused) as refused:
        sound_where_moved(small_job(floor__anchor=anchor))
    assert refused.value.findings[0].path.startswith("floor.anchor")


def test_a_job_that_makes_no_sense_is_refused_each_time() -> None:
    """What was refused is not kept."""
    for anchor in ([0, 0], [10, 0]):
        with pytest.raises(Refused) as refused:
            sound_where_moved(small_job(floor__anchor=anchor, floor__board__width=3))
        assert "width" in refused.value.findings[0].sentence


@pytest.mark.parametrize(
    "document", [{}, {"floor": 3}, {"format": "out-of-true job", "floor": {"anchor": [1, 2]}}]
)
def test_what_is_no_job_is_refused(document: dict[str, Any]) -> None:
    with pytest.raises(Refused):
        sound_where_moved(document)

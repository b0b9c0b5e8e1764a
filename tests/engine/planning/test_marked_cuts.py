"""Where one cut of a piece cannot be straight, the others still are."""

from typing import Any

import pytest

from engine.cutting import sawn_piece
from engine.planning.floor_plan import plan_floor
from engine.planning.pieces import Piece
from engine.wire.job_file import open_job
from tests.engine.small_jobs import small_job

# Two invented rooms, found by trying some two hundred, where a piece's straight cuts leave the band together.
WAVY: dict[str, dict[str, Any]] = {
    "on its first try": {
        "axis": 44.88, "anchor": [265.2, 18.66], "tolerance": 2,
        "walls": [[10.83, -11.14, 16.34], [-11.47, 6.99, -9.42], [-6.97]],
    },
    "on its second try": {
        "axis": 17.12, "anchor": [45.99, 80.47], "tolerance": 3,
        "walls": [[3.89, 18.74, 18.93], [-24.37, -9.36, -18.03], [8.56]],
    },
}  # fmt: skip


def wavy_job(axis: float, anchor: list[float], tolerance: float, walls: list[list[float]]) -> dict[str, Any]:
    job = small_job(floor__axis=axis, floor__anchor=anchor, cutting__gap_tolerance=tolerance)
    for index, offsets in zip((0, 2, 3), walls, strict=True):
        stations = (500, 900, 1200)
        job["room"]["walls"][index] |= {
            "curve": "smooth",
            "offsets": [list(pair) for pair in zip(stations, offsets, strict=False)],
        }
    return job


def half_marked(job: dict[str, Any]) -> list[Piece]:
    pieces = plan_floor(open_job(job).job).pieces
    return [piece for piece in pieces if sorted(c.kind for c in piece.sawn.cuts) == ["mitre", "scribe"]]


@pytest.mark.parametrize("room", WAVY)
def test_only_the_cut_at_fault_is_sawn_as_marked(room: str, monkeypatch: pytest.MonkeyPatch) -> None:
    """A piece whose cuts would all be marked keeps one of them straight, its gap inside the band."""
    job = wavy_job(**WAVY[room])
    kept = half_marked(job)
    assert all(piece.sawn.is_inside_band for piece in kept)
    attempts = sawn_piece._attempts
    monkeypatch.setattr(
        sawn_piece, "_attempts", lambda *given: [(tries := [*attempts(*given)])[0], tries[-1]]
    )
    job["cutting"]["kerf"] = 2.5  # so that the plan is made anew
    assert len(half_marked(job)) < len(kept)

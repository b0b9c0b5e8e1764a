"""Which pieces lie against which edge, against shapely's shared edges."""

import pytest
import shapely

from engine.patterns import pattern_names
from engine.planning.floor_plan import plan_floor
from engine.planning.neighbours import neighbours
from engine.wire.job_file import open_job
from tests.engine.small_jobs import small_job


def floor_of(pattern: str) -> dict[str, object]:
    return {"pattern": pattern, "board": {"length": 540, "width": 90}, "axis": 88, "anchor": [910, 640]}


@pytest.mark.parametrize("pattern", pattern_names())
def test_neighbours_are_the_pieces_that_share_an_edge(pattern: str) -> None:
    """Two ideals whose outlines run together for more than a millimetre are neighbours, and no others."""
    pieces = plan_floor(open_job(small_job(floor=floor_of(pattern))).job).pieces
    rims = {piece.id: shapely.Polygon(piece.ideal[0]).exterior for piece in pieces}
    tree = shapely.STRtree(list(rims.values()))
    names = list(rims)
    for piece, beside in neighbours(pieces[::4], pieces):
        near = (names[i] for i in tree.query(rims[piece.id].buffer(1)))
        shared = {
            name: shapely.intersection(rims[piece.id].buffer(0.01), rims[name]).length
            for name in near
            if name != piece.id
        }
        assert {found.piece.id for found in beside} >= {
            name for name, length in shared.items() if length > 1.2
        }
        assert {found.piece.id for found in beside} <= {
            name for name, length in shared.items() if length > 0.9
        }


def test_what_lies_left_of_one_has_it_on_its_own_side() -> None:
    """Neighbours are mutual, and share the same length."""
    pieces = plan_floor(open_job(small_job()).job).pieces
    shared = {
        (piece.id, found.piece.id): found.shared
        for piece, beside in neighbours(pieces, pieces)
        for found in beside
    }
    assert shared
    for (one, other), length in shared.items():
        assert shared[other, one] == pytest.approx(length, abs=0.01)

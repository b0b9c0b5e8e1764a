"""Where a ring runs along the board's own edges, and where the saw has been; a board of 600 × 90 mm."""

import pytest

from engine.cutting.board_edges import runs_of
from engine.geometry.board import BoardSize, side_lengths

SIZE = BoardSize(600.0, 90.0)
MITRE = ((0.0, 0.0), (390.0, 0.0), (300.0, 90.0), (0.0, 90.0))


def test_a_mitred_ring_is_one_run_along_the_rim_and_one_cut() -> None:
    """The runs alternate and join; the cut has both its ends."""
    runs = runs_of(MITRE, SIZE)
    assert [run.is_cut for run in runs] == [True, False]
    assert runs[0].points == ((390, 0), (300, 90))
    assert runs[1].points == ((300, 90), (0, 90), (0, 0), (390, 0))
    assert not any(run.is_closed for run in runs)


def test_a_whole_board_is_one_closed_run_and_so_is_a_ring_inside_it() -> None:
    (whole,) = runs_of(SIZE.ring, SIZE)
    assert (whole.is_cut, whole.is_closed) == (False, True)
    (inner,) = runs_of(((10.0, 10.0), (50.0, 10.0), (50.0, 40.0)), SIZE)
    assert (inner.is_cut, inner.is_closed, inner.points[0] == inner.points[-1]) == (True, True, True)


def test_where_a_ring_begins_makes_no_difference() -> None:
    turned = MITRE[2:] + MITRE[:2]
    assert set(runs_of(turned, SIZE)) == set(runs_of(MITRE, SIZE))


def test_a_ring_cut_at_both_ends_has_two_cuts() -> None:
    ring = ((100.0, 0.0), (450.0, 0.0), (440.0, 90.0), (100.0, 90.0))
    runs = runs_of(ring, SIZE)
    assert [run.points for run in runs if run.is_cut] == [((450, 0), (440, 90)), ((100, 90), (100, 0))]


def test_rounding_off_the_rim_is_no_cut() -> None:
    """A point 0.001 mm inside the edge is on it, one 0.01 mm inside is not."""
    assert SIZE.side_of((200.0, 0.001)) == "right"
    assert SIZE.side_of((599.999, 45.0)) == "far"
    assert SIZE.side_of((200.0, 89.9995)) == "left"
    assert SIZE.side_of((-0.001, 45.0)) == "start"
    assert SIZE.side_of((200.0, 0.01)) is None


def test_lengths_of_the_sides_add_up_over_a_bite() -> None:
    """A bite out of the right edge leaves two stretches of it: 200 + 300 mm."""
    ring = ((0.0, 0.0), (200.0, 0.0), (250.0, 40.0), (300.0, 0.0), (600.0, 0.0), (600.0, 90.0), (0.0, 90.0))
    assert side_lengths(ring, SIZE) == {"right": 500, "far": 90, "left": 600, "start": 90}


@pytest.mark.parametrize(
    ("start", "end", "corners"),
    [
        ((390, 0), (300, 90), ((600, 0), (600, 90))),
        ((300, 90), (390, 0), ((0, 90), (0, 0))),
        ((600, 40), (570, 90), ((600, 90),)),
        ((100, 0), (200, 0), ()),
        ((200, 0), (100, 0), ((600, 0), (600, 90), (0, 90), (0, 0))),
        ((0, 90), (0, 0), ()),
        ((600, 0), (600, 90), ()),
        ((0, 50), (600, 50), ((0, 0), (600, 0))),
    ],
)
def test_a_walk_along_the_rim_passes_the_corners_between(
    start: tuple[float, float], end: tuple[float, float], corners: tuple[tuple[float, float], ...]
) -> None:
    """Counter-clockwise from one point to the other; the ends themselves are not passed."""
    assert SIZE.walk(start, end) == corners


def test_there_is_no_walk_from_inside_the_board() -> None:
    with pytest.raises(ValueError, match="rim"):
        SIZE.walk((300.0, 45.0), (0.0, 0.0))

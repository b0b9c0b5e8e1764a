"""Times from mark to mark: whose they are, what is a break, what is said when little is known."""

from collections import Counter

import pytest

from engine.planning.pace import Mark, Timed, pace, regularity, timed_pieces


def marks(*times: float, kind: str = "mitre") -> list[Mark]:
    return [Mark(kind=kind, at=at) for at in times]


def test_the_time_between_two_marks_is_that_of_the_later_piece() -> None:
    """The first mark starts the clock and has no time of its own; order does not matter."""
    pieces, breaks = timed_pieces([*marks(400, kind="notch"), *marks(0, 100)])
    assert [(piece.kind, piece.seconds) for piece in pieces] == [("mitre", 100), ("notch", 300)]
    assert breaks == []


def test_a_break_of_more_than_half_an_hour_is_left_out_with_the_piece_after_it() -> None:
    """Half an hour exactly is still work."""
    pieces, breaks = timed_pieces(marks(0, 1800, 1800 + 1801, 3700))
    assert [piece.seconds for piece in pieces] == [1800, 99]
    assert breaks == [1801]


def test_pieces_marked_together_share_the_time_before() -> None:
    """Three marks within seconds after ten minutes: a third each, and no one takes them for quick work."""
    pieces, _ = timed_pieces(marks(0, 590, 595, 600))
    assert [piece.seconds for piece in pieces] == [200, 200, 200]
    assert not any(piece.is_alone for piece in pieces)


def test_many_pieces_marked_together_after_an_hour_are_no_break() -> None:
    """Six pieces in an hour, marked at its end, are ten minutes each."""
    pieces, breaks = timed_pieces(marks(0, *(3600 + i for i in range(6))))
    assert breaks == []
    assert sum(piece.seconds for piece in pieces) == pytest.approx(3605)


def test_too_few_marks_give_no_pace() -> None:
    """Two timed pieces say nothing that a person should plan by."""
    assert pace(marks(0, 100, 200), Counter({"mitre": 5})) is None
    assert pace([], Counter()) is None


def test_a_kind_without_times_is_taken_as_the_mean_of_all_and_widens_what_is_left() -> None:
    """Nothing is left out of the hours only because it was not done yet."""
    done = marks(*range(0, 3000, 200))
    known = pace(done, Counter({"mitre": 10}))
    unknown = pace(done, Counter({"scribe": 10}))
    assert known is not None
    assert unknown is not None
    scribe = next(kind for kind in unknown.kinds if kind.kind == "scribe")
    assert scribe.rate is None
    assert unknown.hours[0] < known.hours[0]
    assert unknown.hours[1] > known.hours[1]


def test_when_all_is_done_nothing_is_left() -> None:
    """No hours, not a spread about nought."""
    found = pace(marks(0, 100, 200, 300), Counter())
    assert found is not None
    assert found.hours == (0, 0)


@pytest.mark.parametrize(("spread", "least", "most"), [(0.0, 4.0, 4.0), (1.0, 1.0, 1.0), (0.6, 2.6, 2.8)])
def test_regularity_is_one_over_the_relative_variance(spread: float, least: float, most: float) -> None:
    """By hand, 41 times of 100 ± spread: n/(n − 1) aside, 1 / spread², held between 1 and 4."""
    times = [100.0] + [100 * (1 + sign * spread) for sign in (-1, 1) for _ in range(20)]
    found = regularity([Timed(kind="mitre", seconds=seconds, is_alone=True) for seconds in times])
    assert least <= found <= most


def test_regularity_is_not_judged_from_a_few_pieces() -> None:
    """Ten alike could be chance: the wide limits stay."""
    assert regularity([Timed(kind="mitre", seconds=100, is_alone=True)] * 10) == 1

"""Two notches side by side, and how much of the rim is left between them."""

import pytest

from engine.cutting.board_edges import Run
from engine.cutting.rim_between import pass_each_other
from engine.cutting.treatment import LeaveWhole, Notch


@pytest.mark.parametrize(("start", "is_past"), [(724.0, False), (730.0, False), (738.86, True)])
def test_notches_that_pass_each_other_on_the_rim_are_told(start: float, is_past: bool) -> None:
    """Along the left long edge, which runs backwards: the first ends at 734.37, the second began at 724."""
    first = Notch(((748.5, 149.0), (741.5, 144.7), (734.37, 149.0)), is_set=True)
    second = Notch(((start, 149.0), (423.7, 21.7), (432.5, 0.0)), is_set=True)
    rest = Run(((432.5, 0.0), (1404.3, 0.0), (1404.3, 149.0), (748.5, 149.0)), is_cut=False)
    runs = (
        Run(first.points, is_cut=True),
        Run(((734.37, 149.0), (724.0, 149.0)), is_cut=False),
        Run(second.points, is_cut=True),
        rest,
    )
    assert pass_each_other(runs, (first, None, second, None)) == is_past
    assert not pass_each_other(runs, (LeaveWhole(), None, second, None))

"""Do two cuts of a piece leave the rim between them as it runs, or do their ends pass each other there?"""

from collections.abc import Sequence

from engine.cutting.board_edges import Run
from engine.cutting.treatment import AsMarked, Notch, Treatment


def pass_each_other(runs: Sequence[Run], treatments: Sequence[Treatment | None]) -> bool:
    """Set a little otherwise than the curve ran, two notches may cross where a straight rim is short."""
    for place, run in enumerate(runs):
        before, after = treatments[place - 1], treatments[(place + 1) % len(runs)]
        if run.is_cut or not isinstance(before, Notch | AsMarked) or not isinstance(after, Notch | AsMarked):
            continue
        if len(run.points) == 2:
            (ax, ay), (bx, by) = run.points
            (cx, cy), (dx, dy) = before.points[-1], after.points[0]
            if (bx - ax) * (dx - cx) + (by - ay) * (dy - cy) <= 0:
                return True
    return False

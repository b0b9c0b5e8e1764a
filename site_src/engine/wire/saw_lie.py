"""What is drawn about the board on the saw: the fence it lies against, the stop, and how it lies in words."""

from engine.drawing.paths import line_path, ring_path
from engine.model.job import Cutting
from engine.planning.edge_names import is_on_back
from engine.planning.on_saw import Lie

# The fence runs this far past the board, and stands this far off it so that both lines are seen, mm.
PAST, OFF = 20.0, 5.0
# The stop's block on the drawing, mm along the fence and across it.
BLOCK_LONG, BLOCK_WIDE = 9.0, 34.0


def fence_path(lie: Lie) -> str:
    """The fence along the top of the board; empty where it does not lie on the mitre saw."""
    if lie.cut is None:
        return ""
    top = lie.size.width + OFF
    return line_path(((-PAST, top), (lie.size.length + lie.size.lean + PAST, top)))


def stop_path(lie: Lie) -> str:
    """The stop against the end of the board; empty where there is none."""
    at = lie.stop_at
    if at is None:
        return ""
    x, y = at
    out = -BLOCK_LONG if x < lie.size.length / 2 else BLOCK_LONG
    return ring_path(((x, y + OFF), (x, y - BLOCK_WIDE), (x + out, y - BLOCK_WIDE), (x + out, y + OFF)))


def lie_words(lie: Lie, cutting: Cutting) -> str:
    """How the board lies, in words, and from which side its edges are named where that is not plain."""
    named = ", left and right as seen from the back" if is_on_back(cutting) else ""
    side = "back up" if lie.is_back_up else "face up"
    start = "right" if lie.is_round else "left"
    if lie.cut is None:
        return f"Board {side}, start end on the {start}{named}"
    return f"On the mitre saw, {side}, start end on the {start}, fence at the top{named}"
